"""Where the end is decided, what is open stands first: flags, places left out, gullets gone past, what was skipped."""

from __future__ import annotations

from dataclasses import replace

from moments_met import AT, states
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.sentences.listed_places import looks_skipped, told_past
from session.sentences.moment import Moment
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.measurables import NOT_LOOKED, Measurable
from session.walk.place import Place
from session.walk.shared_maps import GrownMap
from session.walk.stages import LEFT_OUT_STEP, Stage
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


def test_a_foul_plate_is_named_where_the_record_is_closed() -> None:
    last = next(state for state in states(SAW) if state.place is not None and state.place.step == LEFT_OUT_STEP)
    for told, named in (("rusty, sound", "rusty"), ("rusty, gummed", "rusty and gummed"), ("straight, clean", "")):
        seen = Mark(seq=1, at=AT, did=Did.MEASURED, what=Measurable.PLATE, value=told)
        lines = Moment(replace(last, measured={**last.measured, Measurable.PLATE: seen}), SAW).said.lines
        foul = [line for line in lines if "clean it and wax it" in line]
        assert foul == ([f"The plate was {named}: clean it and wax it, if you have not."] if named else [])


def test_wax_that_was_advised_is_named_where_the_record_is_closed() -> None:
    last = next(state for state in states(SAW) if state.place is not None and state.place.step == LEFT_OUT_STEP)
    for chosen, named in (("file; without a screen: clean, wax", True), ("file; without a screen: clean", False)):
        taken = Mark(seq=1, at=AT, did=Did.MEASURED, what=Measurable.CHOSEN, value=chosen)
        lines = Moment(replace(last, measured={**last.measured, Measurable.CHOSEN: taken}), SAW).said.lines
        assert ("Wax is advised today: wax the plate, if you have not." in lines) is named


def _flagged(state: State) -> Place:
    return next(iter(state.flags))


def test_nothing_is_named_where_all_was_done() -> None:
    state = next(state for state in states(SAW) if state.front.ask is Ask.END)
    assert told_past(state) == looks_skipped(state) == ()
    assert Moment(state, SAW).said.lines[0] == "No place was left out."
