"""A tooth is told low or high only where that holds whether its point is sharp or a flat of two dots."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

from session.scan.doubtful_tops import doubted
from session.scan.line_figures import measured_line
from session.scan.odd_flanks import believed
from session.scan.read_tooth import ReadTooth
from session.trade.scanned_line import ToothState
from session.value_class import replace

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
    assert states(tooth(5, 0.16, drop, flat=True), SHARP) == {ToothState.LOW}


def test_a_top_as_wide_as_a_break_leaves_it_is_told_low_only_where_its_edge_was_seen_straight() -> None:
    # Its flanks meet in the line, and 0.14 mm are missing: a break, a grain, or a file that took the point alone.
    odd = tooth(5, 0.14, 0.14 / DOT, flat=True)
    assert states(odd, SHARP) == {ToothState.NOT_SEEN}
    assert states(replace(odd, straight=True), SHARP) == {ToothState.LOW}
    # A straight break of more of the depth looks like a point that somebody took alone.
    assert states(replace(tooth(5, 0.35, 0.35 / DOT, flat=True), straight=True), SHARP) == {ToothState.NOT_SEEN}
    # As low, with the flats that all have: its flanks are low too.
    assert states(tooth(5, 0.14, 4.0, flat=True), FLAT) == {ToothState.LOW}


def test_a_sharp_point_among_ones_that_all_seem_to_lack_the_same_may_stand_over_them() -> None:
    others = [tooth(at, 0.0, 1.4, flat=False) for at in range(TEETH)]
    assert states(tooth(5, -0.07, 0.1, flat=False), others) == {ToothState.NOT_SEEN}
    assert states(tooth(5, -0.07, 1.4, flat=False), others) == {ToothState.WHOLE}


def test_a_flank_that_leans_otherwise_than_all_others_is_doubted_in_coarse_dots() -> None:
    depth = 1.5
    leans = (44.0, 45.5, 45.0, 44.5, 46.0, 50.0, 45.0, 44.0, 46.0, 45.5, 44.5)
    teeth = [replace(one, left=lean) for one, lean in zip(SHARP, leans, strict=True)]
    fine, coarse = believed(teeth, depth, 0.02), believed(teeth, depth, 0.08)
    assert [one.se for one in fine] == [one.se for one in teeth]
    assert [one.se for one in coarse if one.u != 15.0] == [one.se for one in teeth if one.u != 15.0]
    assert coarse[5].se > 0.03
    turned = believed([replace(one, left=one.left + 7.0 * (one.u == 15.0)) for one in SHARP if one.left], depth, 0.02)
    assert [one.fit for one in turned].index("covered") == 5


def test_what_may_be_flat_or_sharp_is_stated_with_the_height_and_weighed_once_for_the_state() -> None:
    odd = tooth(5, 0.12, 1.9, flat=True)
    unsure = replace(odd, se=0.05, either=math.sqrt(0.05**2 - odd.se**2))
    told, other = (
        measured_line(doubted((*FLAT[:5], one, *FLAT[6:]), DOT), 2.5, 0.002, 0.02, DOT) for one in (odd, unsure)
    )
    assert [one.teeth[5].state for one in (told, other)] == [ToothState.LOW] * 2
    assert other.teeth[5].se_mm == pytest.approx(0.05, abs=0.001)
    only_unsure = replace(odd, se=0.05)
    assert states(only_unsure, FLAT) == {ToothState.NOT_SEEN}
