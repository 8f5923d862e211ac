"""Random plans of small saws, and the marks that hands at the bench may try."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from datetime import UTC, datetime
from typing import Any

from hypothesis import strategies as st

from as_asked import as_asked
from made_saws import small_saw
from session.trade.lengths import Length
from session.trade.saw import Cut, End, FilePoints, Leans, Order
from session.trade.strip_readings import QUARTER
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.kept_outcomes import kept_outcomes
from session.walk.mark import Did, Mark
from session.walk.stages import FACTS, Stage
from session.walk.state import State
from session.walk.work_plan import Plan, make_plan

OPTIONAL = sorted(stage for stage, facts in FACTS.items() if facts.optional)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    points = draw(st.integers(2, 40))
    saw = small_saw(
        points,
        2.0,
        cut=draw(st.sampled_from(Cut)),
        fleam=draw(st.sampled_from([0.0, 20.0])),
        first_leans=draw(st.sampled_from(Leans)),
        order=draw(st.sampled_from(Order)),
        sides=draw(st.sampled_from([1, 2])),
        start=draw(st.sampled_from(End)),
        file_points=draw(st.sampled_from(FilePoints)),
        vise_jaw=Length.of(draw(st.sampled_from([2.0, 7.0, 20.0, 50.0, 300.0]))),
        dressing_passes=draw(st.integers(0, 2)),
    )
    # The long stages are often left out, so that a short run of acts comes to the later ones too.
    out = draw(st.frozensets(st.sampled_from(OPTIONAL)))
    return make_plan(saw, leave_out=out, level_passes=draw(st.integers(0, 2)), check_spacing=draw(st.integers(1, 22)))


def effect(state: State) -> dict[str, Any]:
    """What is true of the saw and asked of the person: every field but the marks themselves and their time."""
    return {f.name: getattr(state, f.name) for f in fields(State) if f.name not in ("marks", "taken", "worked")}


def onward(state: State, at: datetime) -> Iterator[Mark]:
    """The mark that answers what is asked, the way that goes on; none once all is finished."""
    if state.front.ask is not Ask.FINISHED:
        yield as_asked(state, at, at_work)


def at_work(state: State, at: datetime, **fields: Any) -> Mark:
    """The place in hand is done; a flat is graded in passing."""
    place = state.place
    if place is not None and place.on_strip:
        fields = {"value": -1, "unit": QUARTER, **fields}
    elif place is not None and place.stage is Stage.LEVEL and place.tooth:
        fields = {"value": 2, "unit": "grade", **fields}
    return acts.at_place(state, Did.DONE, at, **fields)


def one_of_each(state: State) -> Iterator[Mark]:
    """The best try at each kind of mark: if none of these passes, none does."""
    at = datetime(2024, 3, 4, 18, 0, tzinfo=UTC)
    now = state.front
    yield acts.pause(state, at)
    yield acts.resume(state, at, after="restart", seconds=1.0)
    yield acts.confirm(state, at, "yes")
    yield acts.acknowledge(state, at)
    yield acts.turn(state, at)
    yield acts.finish(state, at)
    if state.last_act is not None:
        yield acts.take_back(state, at)
    for took in kept_outcomes(state).values():
        yield acts.put_back(state, at, took)
    if now.place is not None:
        yield acts.check(state, at, 1)
    if state.place is not None:
        yield at_work(state, at)
        yield at_work(state, at, many="1-2")
        yield acts.leave_out(state, at, "broken")
        yield acts.flag(state, at)
        yield acts.shift(state, at)
        yield acts.measure(state, at, "flat", 0.2)
        yield acts.lean(state, at, Leans.TOWARD)
    for stage in Stage:
        yield acts.add(state, at, stage)
        yield acts.decide(state, at, stage, True, "so")
        yield acts.decide(state, at, stage, False, "so")
