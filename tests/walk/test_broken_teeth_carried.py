"""A broken tooth told once: not bent, not graded, its gullets filed for their whole neighbor alone."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from random_walks import onward, plans
from session.pictures.gullet_closeup import Gullet, closeup
from session.sentences.instruction import ROOM
from session.sentences.moment import Moment
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.left_alone import BROKEN
from session.walk.mark import Did
from session.walk.measurables import Measurable
from session.walk.place import Place, Standing
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import Plan

AT = datetime(2024, 3, 4, 18, 0, tzinfo=UTC)


def told(hand: Any, text: str) -> None:
    """The broken teeth, told at the step that asks for them."""
    hand.to_place(Place(Stage.LOOK_OVER, step="broken teeth"))
    hand.make(acts.measure, Measurable.BROKEN_TEETH, text, unit="from the heel", entered=text)


def done_in(state: State, stage: Stage) -> set[int]:
    return {p.tooth for p, mark in state.outcomes.items() if p.stage is stage and p.tooth and mark.did is Did.DONE}


def test_a_stump_is_not_bent_and_both_its_gullets_are_filed(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(9)
    told(hand, "4")
    hand.until(lambda state: state.finished)
    assert done_in(hand.state, Stage.SET) == set(range(1, 10)) - {4}
    assert done_in(hand.state, Stage.FILE) == set(range(1, 10)), "teeth 3 and 5 still need their flanks"
    assert [(place.stage, place.tooth, why) for place, why in hand.state.left_by_itself()] == [(Stage.SET, 4, BROKEN)]
    assert hand.state.left_out() == (), "nobody had to say why"
    assert hand.state.standing(Place(Stage.SET, 2, 4)) is Standing.LEFT_OUT


def test_a_gullet_between_two_stumps_leaves_itself_out(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(9)
    told(hand, "4, 5, 9")
    hand.until(lambda state: state.finished)
    assert done_in(hand.state, Stage.SET) == {1, 2, 3, 6, 7, 8}
    assert done_in(hand.state, Stage.FILE) == {1, 2, 3, 5, 6, 7, 8}, "beyond tooth 9 there is no tooth"


@pytest.mark.parametrize("reason", ["broken tooth", "Broken"])
def test_a_tooth_that_breaks_at_the_bench_is_told_once(hand_of: Callable[..., Any], reason: str) -> None:
    hand = hand_of(8)
    hand.until(lambda state: state.place is not None and state.place.stage is Stage.SET and state.place.tooth == 5)
    hand.to_place(hand.state.place)
    hand.make(acts.leave_out, reason)
    assert hand.state.broken == (5,)
    hand.make(acts.take_back)
    assert hand.state.broken == ()


@given(plan=plans(), data=st.data())
def test_no_stump_is_ever_asked_to_be_bent_or_graded(plan: Plan, data: st.DataObject) -> None:
    teeth = data.draw(st.lists(st.integers(1, plan.points), min_size=1, max_size=5, unique=True))
    state = State.start(plan)
    steps = data.draw(st.integers(0, 300))
    named = False
    for _ in range(steps):
        for mark in onward(state, AT):
            state = state.after(mark)
        place = state.place
        if place is not None and place.step == "broken teeth" and not named:
            named = True
            value = ", ".join(map(str, sorted(teeth)))
            state = state.after(acts.measure(state, AT, Measurable.BROKEN_TEETH, value, unit="from the heel"))
        if named and state.place is not None and state.place.stage in (Stage.SET, Stage.LEVEL):
            assert state.place.tooth not in teeth
    assert State.replay(plan, state.marks).here == state.here, "a log replayed is at the same place"


def test_the_gullets_beside_a_stump_say_to_lean_off_it(hand_of: Callable[..., Any], saw_of: Callable[..., Any]) -> None:
    hand = hand_of(9)
    told(hand, "4")
    seen = set()
    while not hand.state.finished:
        if _filing(hand.state):
            tooth, here = hand.state.place.tooth, Moment(hand.state, saw_of(9))
            seen.add(tooth)
            assert ("keep off tooth 4" in here.said.instruction) is (tooth in (3, 4)), here.said.instruction
            assert any("Tooth 4 is broken" in line for line in here.said.lines) is (tooth in (3, 4))
            assert len(here.said.instruction) <= ROOM
        hand.answer()
    assert seen == set(range(1, 10))


def _filing(state: State) -> bool:
    return state.place is not None and state.place.stage is Stage.FILE and state.front.ask is Ask.WORK


def test_a_stump_is_drawn_lower_than_its_neighbors_whatever_the_size() -> None:
    def rows(stumps: frozenset[int]) -> list[str]:
        gullet = Gullet(tooth=46, teeth=90, front_deg=15, back_deg=45, rake=15, side=1, flats={}, stumps=stumps)
        return ["".join(run.text for run in row) for row in closeup(gullet, 60, 14)]

    whole, broken = rows(frozenset()), rows(frozenset({47}))
    assert sum(text.count("█") for text in broken) < sum(text.count("█") for text in whole)
    assert "stump 47" in broken[-1]
    assert "stump" not in whole[-1]
