from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.pitch import count_points
from session.trade.trade_error import TradeError
from session.trade.zones import Zone, ZonedLine

STRETCHES = st.lists(st.tuples(st.floats(20, 300), st.floats(1.5, 6), st.floats(-10, 40)), min_size=1, max_size=6)


def from_stretches(stretches: list[tuple[float, float, float]]) -> list[Zone]:
    zones, end = [], 0.0
    for length, pitch, rake in stretches:
        end += length
        zones.append(Zone(end, pitch, rake))
    return zones


@given(st.floats(20, 900), st.floats(1, 6), st.floats(-10, 40))
def test_a_plain_saw_is_one_zone(length: float, pitch: float, rake: float) -> None:
    line = ZonedLine.of([Zone(length, pitch, rake)])
    assert line.points == count_points(length, pitch) == len(line.positions_mm)
    assert [line.position_mm(k) for k in (1, 2, line.points)] == pytest.approx([0, pitch, (line.points - 1) * pitch])
    assert {line.zone_at(k).rake for k in range(1, line.points + 1)} == {rake}


@given(STRETCHES)
def test_every_zone_ends_within_half_a_pitch_of_its_mark(stretches: list[tuple[float, float, float]]) -> None:
    zones = from_stretches(stretches)
    line = ZonedLine.of(zones)
    last = 0
    for zone, spaces in zip(line.zones, line.spaces, strict=True):
        last += spaces
        assert abs(line.positions_mm[last] - zone.upto_mm) <= zone.pitch_mm / 2 + 1e-6


@given(STRETCHES)
def test_the_space_in_front_of_each_tooth_is_its_pitch(stretches: list[tuple[float, float, float]]) -> None:
    line = ZonedLine.of(from_stretches(stretches))
    for k in range(1, line.points):
        assert line.position_mm(k + 1) - line.position_mm(k) == pytest.approx(line.pitch_at(k))
    assert line.pitch_at(line.points) == line.zones[-1].pitch_mm


@given(st.integers(2, 400), st.floats(1, 6))
def test_a_counted_number_overrides_the_computed_one(points: int, pitch: float) -> None:
    line = ZonedLine.plain(points, pitch, 15)
    assert line.points == points
    assert line.position_mm(points) == pytest.approx((points - 1) * pitch)


def test_a_progressive_rip_saw() -> None:
    line = ZonedLine.of([Zone(200, 25.4 / 4, 0), Zone(700, 25.4 / 3, 5)])
    assert line.spaces == (31, 59)
    assert [line.zone_at(tooth).rake for tooth in (31, 32, 91)] == [0, 5, 5]
    assert line.pitch_at(31) == pytest.approx(6.35)
    assert line.pitch_at(32) == pytest.approx(8.4667, abs=1e-4)


@pytest.mark.parametrize(
    ("zones", "words"),
    [
        ([], "without zones"),
        ([Zone(100, 3, 0), Zone(100, 3, 0)], "zone 2 ends at 100 mm; allowed: a finite length above 100 mm"),
        ([Zone(math.nan, 3, 0)], "zone 1 ends at nan"),
        ([Zone(math.inf, 3, 0)], "zone 1 ends at inf"),
        ([Zone(100, 3, math.nan)], "zone 1 has a rake of nan"),
        ([Zone(100, 3, 0), Zone(100.4, 3, 0)], "zone 2 is shorter than its pitch"),
    ],
)
def test_zones_that_make_no_line_are_refused(zones: list[Zone], words: str) -> None:
    with pytest.raises(TradeError, match=words):
        ZonedLine.of(zones)


def test_impossible_pitch_and_counts_are_refused() -> None:
    with pytest.raises(TradeError, match="pitch nan"):
        ZonedLine.of([Zone(100, math.nan, 0)])
    with pytest.raises(TradeError, match="at most 3000"):
        ZonedLine.of([Zone(2500, 1, 0), Zone(5000, 1, 0)])
    with pytest.raises(TradeError, match="1 points"):
        ZonedLine.plain(1, 3, 0)
    with pytest.raises(TradeError, match="tooth 6; allowed: 1 to 5"):
        ZonedLine.plain(5, 3, 0).pitch_at(6)
    with pytest.raises(TradeError, match="tooth 0"):
        ZonedLine.plain(5, 3, 0).position_mm(0)


@given(STRETCHES, st.integers(2, 300))
def test_a_count_makes_up_the_difference_at_the_toe(stretches: list[tuple[float, float, float]], points: int) -> None:
    line = ZonedLine.of(from_stretches(stretches))
    counted = line.counted(points)
    assert counted.points == points
    assert all(space >= 1 for space in counted.spaces)
    shared = min(points, line.points - line.spaces[-1])
    assert counted.positions_mm[:shared] == line.positions_mm[:shared]
    assert line.counted(line.points) == line


@given(STRETCHES)
def test_the_stretches_hold_every_tooth_once_in_its_zone(stretches: list[tuple[float, float, float]]) -> None:
    line = ZonedLine.of(from_stretches(stretches))
    found = [(tooth, zone) for first, last, zone in line.stretches() for tooth in range(first, last + 1)]
    assert found == [(tooth, line.zone_at(tooth)) for tooth in range(1, line.points + 1)]


@pytest.mark.parametrize("points", [1, 0, -3, 3001, True, 2.0])
def test_a_count_that_makes_no_line_is_refused(points: int) -> None:
    with pytest.raises(TradeError, match="points; allowed: a whole number from 2 to 3000"):
        ZonedLine.of([Zone(200, 4, 0)]).counted(points)
