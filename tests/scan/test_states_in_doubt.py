"""A tooth is told low or high only where that holds whether its point is sharp or a flat of two dots."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from session.scan.doubtful_tops import doubted
from session.scan.line_figures import measured_line
from session.scan.read_tooth import ReadTooth
from session.trade.scanned_line import ToothState

#: Dots of 1200 to the inch, mm, and flanks of 45 degrees: as wide a flat for each end as it lies under their meeting.
DOT = 25.4 / 1200
TEETH = 11


def tooth(at: int, under: float, drop: float, *, flat: bool) -> ReadTooth:
    """One of 3 mm, so far under the line, whose top seems to lie ``drop`` dots under the meeting of its flanks."""
    half = drop * DOT if flat else 0.0
    ends = 3.0 * at - half, 3.0 * at + half
    figures = {"se": 0.003, "se_place": 0.003, "se_flat": 0.01, "se_left": 0.1, "se_right": 0.1}
    return ReadTooth(3.0 * at, -under, *ends, 45.0, 45.0, None, fit="top", drop=drop * DOT, **figures)  # type: ignore[arg-type]


def states(odd: ReadTooth, others: Sequence[ReadTooth]) -> set[ToothState]:
    """What is told of the odd one, in the middle, and of the others."""
    teeth = (*others[:5], odd, *others[6:])
    told = measured_line(doubted(teeth, DOT), 2.5, 0.002, 0.02, DOT).teeth
    assert {one.state for one in told if one.tooth != 6} == {ToothState.WHOLE}
    return {told[5].state}


SHARP = [tooth(at, 0.0, 0.1, flat=False) for at in range(TEETH)]
FLAT = [tooth(at, 0.0, 4.0, flat=True) for at in range(TEETH)]


@pytest.mark.parametrize(
    ("under", "told"),
    [(0.0, ToothState.WHOLE), (0.1, ToothState.NOT_SEEN), (0.15, ToothState.LOW), (-0.1, ToothState.HIGH)],
)
def test_a_narrow_flat_among_sharp_points_may_stand_higher(under: float, told: ToothState) -> None:
    assert states(tooth(5, under, 1.9, flat=True), SHARP) == {told}


@pytest.mark.parametrize(
    ("under", "told"),
    [(0.0, ToothState.WHOLE), (-0.1, ToothState.NOT_SEEN), (-0.15, ToothState.HIGH), (0.1, ToothState.LOW)],
)
def test_a_sharp_point_among_flats_may_stand_lower(under: float, told: ToothState) -> None:
    assert states(tooth(5, under, 1.5, flat=False), FLAT) == {told}


@pytest.mark.parametrize("drop", [2.5, 4.0])
def test_a_flat_that_is_clearly_one_is_where_it_is_told(drop: float) -> None:
    assert states(tooth(5, 0.1, drop, flat=True), SHARP) == {ToothState.LOW}
