"""A line whose pitch and rake change along it: its saw, its teeth, and how it is evened."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.evening import even_points, extra_leveling_mm, plan_evening, worst_spacing_error_mm
from session.trade.file_choice import hard_minimum_mm, tooth_to_fit
from session.trade.lengths import parse_length
from session.trade.saw import Cut, Saw
from session.trade.tooth import shallowest_mm, teeth_of, tooth, tooth_of
from session.trade.trade_error import TradeError
from session.trade.uneven_line import UnevenLine, line_from_widths
from session.trade.zones import Zone

ZONES = (Zone(300.0, 6.0, 4.0), Zone(400.0, 5.0, 0.0), Zone(500.0, 4.0, -4.0))
PLAIN = Saw(
    name="Boat-shed long rip",
    kind="rip",
    cut=Cut.RIP,
    toothed_length=parse_length("500 mm"),
    plate=parse_length("1.2 mm"),
    points=96,
    pitch_mm=6.0,
    count_as="pitch 6 mm",
    rake=4.0,
)
SAW = replace(PLAIN, zones=ZONES)

DEPTH, PLATE = 3.1, 0.9


def test_a_tooth_stands_where_the_spaces_behind_it_end() -> None:
    assert SAW.from_heel_mm(1) == 0
    assert SAW.from_heel_mm(51) == pytest.approx(50 * 6.0)
    assert SAW.from_heel_mm(71) == pytest.approx(50 * 6.0 + 20 * 5.0)
    assert SAW.from_heel_mm(96) == pytest.approx(500.0)
    assert SAW.from_heel(96) == "500 mm"


@pytest.mark.parametrize(("teeth", "pitch", "rake"), [((1, 50), 6.0, 4.0), ((51, 70), 5.0, 0.0), ((71, 96), 4.0, -4.0)])
def test_a_gullet_is_filed_as_its_zone_has_it(teeth: tuple[int, int], pitch: float, rake: float) -> None:
    for number in teeth:
        here = SAW.at(number)
        assert (here.pitch_mm, here.rake, here.zones) == (pitch, rake, ())
        assert tooth_of(here) == tooth(pitch, rake, 0.0, 0.0, plate_mm=1.2)


def test_a_plain_saw_is_alike_all_along() -> None:
    assert PLAIN.at(1) is PLAIN.at(96) is PLAIN
    assert teeth_of(PLAIN) == (tooth_of(PLAIN),)
    assert PLAIN.widest_pitch_mm == PLAIN.pitch_mm
    assert shallowest_mm(PLAIN) == tooth_of(PLAIN).depth_mm


def test_the_file_serves_the_largest_tooth_and_the_set_the_shallowest() -> None:
    first, *_, last = teeth_of(SAW)
    assert len(teeth_of(SAW)) == 3
    assert tooth_to_fit(SAW) == first
    assert hard_minimum_mm(first) > hard_minimum_mm(last)
    assert shallowest_mm(SAW) == last.depth_mm
    assert SAW.widest_pitch_mm == 6.0


@st.composite
def places(draw: st.DrawFn) -> tuple[float, ...]:
    spaces = draw(st.lists(st.sampled_from([3.0, 3.5, 4.25, 6.0]), min_size=2, max_size=40))
    return tuple(math.fsum(spaces[:count]) for count in range(len(spaces) + 1))


@given(places(), st.sampled_from([0.05, 0.2, 0.4]))
def test_flats_alike_for_their_spaces_are_even_already(belong: tuple[float, ...], share: float) -> None:
    spaces = [ahead - behind for behind, ahead in pairwise(belong)]
    usual = [share * space for space in (*spaces, spaces[-1])]
    line = line_from_widths(usual, 4.0, places_mm=belong)
    for gullet, space in enumerate(spaces, 1):
        assert line.space_mm(gullet) == pytest.approx(space)
        gap = line.gap_mm(gullet)
        assert gap is not None
        assert gap / space == pytest.approx(line.gap_mm(1) / spaces[0])  # type: ignore[operator]
    assert line.own_pitch_mm() == pytest.approx(4.0)


@given(places(), st.data())
def test_the_plan_of_a_progressive_line_is_no_worse_than_any_other(
    belong: tuple[float, ...], data: st.DataObject
) -> None:
    off = data.draw(st.lists(st.floats(-0.5, 0.5), min_size=len(belong), max_size=len(belong)))
    half = data.draw(st.lists(st.sampled_from([0.0, 0.1, 0.3]), min_size=len(belong), max_size=len(belong)))
    flats = tuple((x + o - h, x + o + h) for x, o, h in zip(belong, off, half, strict=True))
    line = UnevenLine(4.0, flats, places_mm=belong)
    points = even_points(line)
    other = [data.draw(st.floats(a, b)) for a, b in flats]

    def error(chosen: list[float]) -> float:
        wanted = [x - place for x, place in zip(chosen, belong, strict=True)]
        return math.fsum((ahead - behind) ** 2 for behind, ahead in pairwise(wanted))

    evened = [x for x in points if x is not None]
    assert len(evened) == len(belong)
    assert error(evened) <= error(other) + 1e-9
    assert worst_spacing_error_mm(4.0, points, belong) <= worst_spacing_error_mm(4.0, other, belong) + 1e-9


@given(st.lists(st.tuples(st.floats(-0.5, 0.5), st.sampled_from([0.0, 0.2, 0.5])), min_size=3, max_size=40))
def test_places_that_are_even_make_a_plain_line(teeth: list[tuple[float, float]]) -> None:
    flats = tuple((k * 4.0 + off - width / 2, k * 4.0 + off + width / 2) for k, (off, width) in enumerate(teeth))
    plain, placed = UnevenLine(4.0, flats), UnevenLine(4.0, flats, places_mm=tuple(k * 4.0 for k in range(len(flats))))
    assert even_points(placed) == pytest.approx(even_points(plain))
    assert extra_leveling_mm(placed, DEPTH, 0.1) == pytest.approx(extra_leveling_mm(plain, DEPTH, 0.1))
    one, other = plan_evening(plain, DEPTH, PLATE), plan_evening(placed, DEPTH, PLATE)
    assert other.volumes_mm3 == pytest.approx(one.volumes_mm3)
    assert other.worst_after_mm == pytest.approx(one.worst_after_mm)


def test_a_steeper_zone_gives_more_steel_for_the_same_take() -> None:
    flats = tuple((k * 4.0, k * 4.0 + 0.4) for k in range(6))
    low, high = 0.6, 0.9
    plan = plan_evening(UnevenLine(4.0, flats), DEPTH, PLATE, rises=(low, low, low, high, high, high))
    assert plan.volumes_mm3[3] == pytest.approx(plan.volumes_mm3[2] * high / low)
    assert plan.drop_mm[3] == pytest.approx(plan.drop_mm[2] * high / low)


def test_a_flat_as_wide_as_its_own_space_is_refused() -> None:
    with pytest.raises(TradeError, match=r"tooth 3: a flat 3.5 mm wide; allowed: less than the pitch, 3 mm"):
        line_from_widths([0.3, 3.5, 3.5, 0.3], 6.0, places_mm=(0.0, 6.0, 12.0, 15.0))
