"""Every moment of a sharpening in which all goes as asked, without a log, a desk or a screen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import UTC, datetime

from as_asked import as_asked
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.sentences.moment import Moment
from session.texts.guidance import Level
from session.trade.lengths import parse_length
from session.trade.saw import Saw
from session.walk import acts
from session.walk.mark import Mark
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

AT = datetime(2025, 4, 5, 10, 0, tzinfo=UTC)

#: A crosscut and a rip saw, short, in a short vise, so that they are shifted.
CROSSCUT = replace(load_recipe(find_recipe("crosscut-panel", [])).saw, points=24, vise_jaw=parse_length("2 in"))
RIP = replace(load_recipe(find_recipe("rip", [])).saw, points=12, vise_jaw=parse_length("2 in"))


def states(saw: Saw, *, reshape: bool = False, grades: Mapping[int, int] | None = None) -> Iterator[State]:
    """Each state of a sharpening of ``saw``, to its end; reshaped and with its flats graded where that is wanted."""

    def work(state: State, at: datetime) -> Mark:
        place = state.place
        assert place is not None
        if place.step == "plan" and reshape and Stage.RESHAPE not in state.taken_in:
            return acts.decide(state, at, Stage.RESHAPE, True, "uneven")
        if place.step == "flats" and grades and not state.flats:
            return acts.add(state, at, Stage.LEVEL, passes=0)
        if place.stage is Stage.LEVEL and place.tooth and grades:
            return acts.grade(state, at, grades[place.tooth])
        return acts.done(state, at)

    state = State.start(make_plan(saw))
    yield state
    while not state.finished:
        state = state.after(as_asked(state, AT, work))
        yield state


def moments(saw: Saw, level: Level = Level.TAUGHT, *, reshape: bool = False, graded: bool = False) -> Iterator[Moment]:
    """The moments from the first caution to the end; with reshaping and with the flats graded where that is wanted."""
    grades = {tooth: 0 if tooth in (4, 11) else 1 + tooth % 3 for tooth in range(1, saw.points + 1)} if graded else None
    for state in states(saw, reshape=reshape, grades=grades):
        yield Moment(state, saw, level)
