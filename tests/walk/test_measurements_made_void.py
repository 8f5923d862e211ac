"""Measurements that no longer hold: by what is measured anew, and by what is done to the steel."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest

from session.walk import acts
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable, voids
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import Plan

CORNER, FILE, OVER_AFTER = Measurable.FILE_CORNER, Measurable.FILE, Measurable.OVER_POINTS_AFTER
OVER_END = Measurable.OVER_POINTS_END

AT = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)


def mark(did: Did, **fields: Any) -> Mark:
    return Mark(seq=1, at=AT, did=did, **fields)


@pytest.mark.parametrize(
    ("made", "gone"),
    [
        (mark(Did.MEASURED, what=FILE, value="6 in slim"), (CORNER,)),
        (mark(Did.MEASURED, what=CORNER, value=2), ()),
        (mark(Did.MEASURED, what="cut length", value=12.0), ("cut wander", "cut wander to")),
        (mark(Did.MEASURED, what=OVER_AFTER, value=1.2), ()),
        (mark(Did.DONE, stage=Stage.SET, side=1, tooth=3), (OVER_AFTER, OVER_END)),
        (mark(Did.LEFT_OUT, stage=Stage.SET, side=1, tooth=3, reason="broken"), ()),
        (mark(Did.DONE, stage=Stage.SET, step="measure"), ()),
        (mark(Did.DONE, stage=Stage.LEVEL, number=3), (OVER_AFTER, OVER_END, "flats", "untouched")),
        (mark(Did.DONE, stage=Stage.LEVEL, tooth=3, value=2), ()),
        (mark(Did.DONE, stage=Stage.FILE, side=1, tooth=3), (OVER_END,)),
        (mark(Did.DONE, stage=Stage.DRESS, side=1, number=1), (OVER_END,)),
        (mark(Did.DONE, stage=Stage.DRESS, step="measure"), ()),
    ],
)
def test_what_a_mark_makes_void(made: Mark, gone: tuple[str, ...]) -> None:
    assert voids(made) == gone


def test_another_file_leaves_the_old_corner_behind(plan_of: Callable[..., Plan]) -> None:
    state = State.start(plan_of(8))
    for what, value in ((FILE, "6 in slim"), (CORNER, 2), (FILE, "loft taper")):
        state = state.after(acts.measure(state, AT, what, value))
    assert {what: told.value for what, told in state.measured.items()} == {FILE: "loft taper"}
    # Taken back, the file before it has its corner again.
    state = state.after(acts.take_back(state, AT))
    assert {what: told.value for what, told in state.measured.items()} == {FILE: "6 in slim", CORNER: 2}


def test_a_touch_more_set_asks_for_the_width_again(plan_of: Callable[..., Plan]) -> None:
    state = State.start(plan_of(4))
    done: dict[str, Any] = {"did": Did.DONE, "by": "key"}
    for number, place in enumerate(state.route.places, 1):
        if place.stage is Stage.FILE:
            break
        if place == Place(Stage.SET, step="measure"):
            measured = {"did": Did.MEASURED, "what": OVER_AFTER, "value": 1.2, "unit": "mm"}
            state = state.after(Mark(seq=1000 + number, at=AT, **place.fields(), **measured))  # type: ignore[arg-type]
        state = state.after(Mark(seq=number, at=AT, **place.fields(), **done))
    assert state.measured[OVER_AFTER].value == 1.2
    state = state.after(Mark(seq=2000, at=AT, did=Did.ADDED, stage=Stage.SET, value=1))
    assert OVER_AFTER in state.measured, "that it was added bends nothing yet"
    again = Place(Stage.SET, 1, 1, round=2)
    state = state.after(Mark(seq=2001, at=AT, **again.fields(), **done))
    assert OVER_AFTER not in state.measured
