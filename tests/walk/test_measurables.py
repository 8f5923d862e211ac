"""The list of what can be measured: names that logs hold, and readers that trust no value for what it says it is."""

from __future__ import annotations

import math
from datetime import UTC, datetime
from typing import Any

import pytest

from session.walk.mark import Did, Mark
from session.walk.measurable_facts import MEASURABLES, ValueKind, whole_in
from session.walk.measurables import Measurable, length_mm, teeth_in, voids


def test_names_in_logs_never_change() -> None:
    # As version 0.1.0 wrote them; a name may be added, none of these may go.
    assert {str(what) for what in Measurable} >= {
        *("points", "over the points", "line", "broken teeth", "bright points", "last cut", "file", "file corner"),
        *("flats", "over the points after", "trough", "needle", "trial cut"),
        *("cut length", "cut thickness", "cut strokes", "cut wander", "cut wander to"),
    }


@pytest.mark.parametrize("what", Measurable)
def test_each_thing_says_what_it_can_be(what: Measurable) -> None:
    facts = MEASURABLES[what]
    assert facts.least < facts.most
    assert (facts.kind is ValueKind.CHOICE) <= (len(facts.choices) > 1)
    with_unit = facts.kind in (ValueKind.LENGTH, ValueKind.TEETH) or what in ("points", "untouched", "cut strokes")
    assert bool(facts.units) is with_unit
    told = Mark(seq=1, at=datetime(2026, 3, 7, 9, tzinfo=UTC), did=Did.MEASURED, what=what)
    assert what not in voids(told), "what is told voids what belonged to the one before, and never itself"


@pytest.mark.parametrize(
    ("value", "unit", "mm"),
    [
        (1.2, "mm", 1.2),
        (0.047, "in", pytest.approx(1.1938)),
        (47, "thou", pytest.approx(1.1938)),
        (0, "mm", 0.0),
        (-1, "mm", None),
        (1.2, None, None),
        (1.2, "furlong", None),
        ("1.2", "mm", None),
        (True, "mm", None),
        (math.nan, "mm", None),
        (math.inf, "mm", None),
        (10**400, "mm", None),
    ],
)
def test_a_length_is_read_in_mm_or_not_at_all(value: Any, unit: str | None, mm: float | None) -> None:
    assert length_mm(value, unit) == mm


@pytest.mark.parametrize(
    ("text", "teeth"),
    [("12, 40", (12, 40)), ("none", ()), ("", ()), (7, (7,)), ("3,x,-4, 5", (3, 5)), (None, ()), ("9" * 5000, None)],
)
def test_teeth_are_read_from_their_text(text: Any, teeth: tuple[int, ...] | None) -> None:
    found = teeth_in(text)
    assert found == teeth if teeth is not None else len(found) <= 1


@pytest.mark.parametrize(
    ("value", "found"), [(1, 1), (3, 3), (0, None), (4, None), (True, None), (2.0, None), ("2", None)]
)
def test_a_corner_is_one_of_three(value: Any, found: int | None) -> None:
    assert whole_in(Measurable.FILE_CORNER, value) == found
