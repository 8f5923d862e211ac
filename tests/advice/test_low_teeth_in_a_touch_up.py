"""What is filed beside teeth that are told low, where nothing levels the line down to them: they are left."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from as_asked import as_asked
from made_saws import small_saw
from session.advice.gullet_advice import expected
from session.trade.evening import Lean
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

SAW = small_saw(24, 3.0)
AT = datetime(2026, 11, 26, tzinfo=UTC)
NO_LEVELING = frozenset({Stage.LEVEL, Stage.RESHAPE, Stage.SET, Stage.DRESS})


def at_gullet(gullet: int, *, leave_out: frozenset[Stage] = NO_LEVELING) -> State:
    """The gullet in hand, teeth 7 and 8 told low while looking over."""
    state = State.start(make_plan(SAW, leave_out=leave_out))
    for _ in range(400):
        place = state.place
        if state.front.ask is Ask.WORK and place is not None:
            if (place.stage, place.tooth) == (Stage.FILE, gullet):
                return state
            if place.step == "low teeth" and Measurable.LOW_TEETH not in state.measured:
                state = state.after(acts.measure(state, AT, Measurable.LOW_TEETH, "7, 8", unit="from the heel"))
                continue
        state = state.after(as_asked(state, AT))
    raise AssertionError("never there")


def place_of(state: State) -> Place:
    assert state.place is not None
    return state.place


def test_the_gullet_between_two_low_teeth_gets_no_stroke() -> None:
    told = expected(at_gullet(7), SAW, {}, None)
    assert (told.low, told.idle) == (True, True)


@pytest.mark.parametrize(("gullet", "low", "other", "lean"), [(6, 7, 6, Lean.HEEL), (8, 8, 9, Lean.TOE)])
def test_beside_one_low_tooth_the_other_alone_is_filed(gullet: int, low: int, other: int, lean: Lean) -> None:
    told = expected(at_gullet(gullet), SAW, {}, None)
    assert (told.idle, told.lean, told.spared) == (False, lean, (f"Tooth {low} is low: file only tooth {other}.",))


def test_where_the_line_was_leveled_down_to_them_they_are_filed_as_all_are() -> None:
    told = expected(at_gullet(7, leave_out=NO_LEVELING - {Stage.LEVEL}), SAW, {}, None)
    assert (told.low, told.spared) == (False, ())
