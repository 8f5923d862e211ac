"""Where the end is decided, what is open stands first: flags, places left out, gullets gone past, what was skipped."""

from __future__ import annotations

from dataclasses import replace

from moments_met import states
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.sentences.listed_places import looks_skipped, told_past
from session.sentences.moment import Moment
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.measurables import NOT_LOOKED
from session.walk.place import Place
from session.walk.shared_maps import GrownMap
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.tally import NO_STROKE

SAW = replace(load_recipe(find_recipe("crosscut-panel", [])).saw, points=12)


def at_the_end() -> State:
    """A sharpening with a flag on gullet 10, which was gone past, and a look that was not taken; all else is done."""
    last = next(state for state in states(SAW) if state.front.ask is Ask.END)
    gullet = next(place for place in last.outcomes if place.stage is Stage.FILE and place.tooth == 10)
    look = next(place for place in last.outcomes if place.step == "bright points")
    outcomes = {
        **last.outcomes,
        gullet: replace(last.outcomes[gullet], reason=NO_STROKE, strokes=None),
        look: replace(last.outcomes[look], reason=NOT_LOOKED),
    }
    flag = replace(last.outcomes[gullet], did=Did.FLAGGED, reason="burr")
    return replace(last, outcomes=GrownMap.of(outcomes), flags=GrownMap.of({**last.flags, gullet: flag}))


def test_open_flags_stand_before_all_else_and_what_was_not_done_after_them() -> None:
    state = at_the_end()
    lines = Moment(state, SAW).said.lines
    assert lines[0] == "Flags still open: 1"
    assert lines[1].strip() == f"file, side {_flagged(state).side}: gullet 10 – burr"
    assert lines[2] == "No place was left out."
    assert "No stroke, as told: gullet 10." in lines
    assert "Not looked at: bright points." in lines[-1]


def _flagged(state: State) -> Place:
    return next(iter(state.flags))


def test_nothing_is_named_where_all_was_done() -> None:
    state = next(state for state in states(SAW) if state.front.ask is Ask.END)
    assert told_past(state) == looks_skipped(state) == ()
    assert Moment(state, SAW).said.lines[0] == "No place was left out."
