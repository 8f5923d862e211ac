from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.trade_error import TradeError
from session.trade.uneven_line import line_from_flats, line_from_widths


def test_flats_are_kept_as_measured() -> None:
    line = line_from_flats([[0, 0.2], [], [8.1, 8.4], [12.0, 12.3]], 4.0, broken=[4])
    assert line.flats == ((0.0, 0.2), None, (8.1, 8.4), None)
    assert line.low == (2,)
    assert line.broken == (4,)
    assert line.gap_mm(1) is None
    assert line.own_pitch_mm() == pytest.approx(8.15 / 2)


@given(
    st.lists(st.floats(2.5, 3.5), min_size=2, max_size=200), st.floats(0.4, 1.4), st.floats(0.0, 1.0), st.floats(-9, 9)
)
def test_widths_alone_place_every_flat_when_gullets_are_equally_deep(
    spaces: list[float], gap: float, share: float, start: float
) -> None:
    # A line made from its gullet floors: each gullet is ``gap`` wide at the line, its floor a share of that ahead.
    floors = [start]
    for space in spaces:
        floors.append(floors[-1] + space)
    flats = [(behind + (1 - share) * gap, ahead - share * gap) for behind, ahead in pairwise(floors)]
    widths = [b - a for a, b in flats]
    middles = [(a + b) / 2 for a, b in flats]
    line = line_from_widths(widths, 4.0, length_mm=middles[-1] - middles[0])
    for flat, (a, b) in zip(line.flats, flats, strict=True):
        assert flat == pytest.approx((a - middles[0], b - middles[0]), abs=1e-9)


def test_without_a_length_the_line_is_as_long_as_its_pitches() -> None:
    line = line_from_widths([0.2, 0.5, 0.3, 0.4], 4.0)
    assert line.own_pitch_mm() == pytest.approx(4.0)
    gaps = [line.gap_mm(gullet) for gullet in (1, 2, 3)]
    assert gaps == pytest.approx([gaps[0]] * 3)
    assert line.gap_mm(4) is None


def test_a_stump_keeps_the_room_of_a_tooth_and_a_low_tooth_only_touches() -> None:
    stump = line_from_widths([0.4, 0.0, 0.4], 4.0, broken=[2], length_mm=8.0)
    low = line_from_widths([0.4, 0.0, 0.4, 0.4], 4.0, length_mm=12.0)
    assert stump.flats[1] is None
    assert stump.flats[2] == pytest.approx((7.8, 8.2))
    assert low.low == (2,)
    gap = low.gap_mm(3)
    assert gap is not None
    assert low.flats[0] is not None
    assert low.flats[2] is not None
    assert low.flats[2][0] - low.flats[0][1] == pytest.approx(2 * gap)


NAN = math.nan


@pytest.mark.parametrize(
    ("flats", "broken", "says"),
    [
        ([[0, 0.2]], [], r"a line of 1 teeth; allowed: 2 to 3000"),
        ([], [], r"a line of 0 teeth"),
        ([[0, 0.2]] * 3001, [], r"a line of 3001 teeth"),
        ([[0, 0.2], [4.0, NAN]], [], r"tooth 2: edge of the flat nan; allowed: a finite number"),
        ([[0, math.inf], [4.0, 4.2]], [], r"tooth 1: edge of the flat inf"),
        ([[0, 0.2], [4.4, 4.2]], [], r"tooth 2: its flat runs backward, from 4.4 to 4.2 mm"),
        ([[0, 0.2], [4.0, 8.0]], [], r"tooth 2: a flat 4 mm wide; allowed: less than the pitch, 4 mm"),
        (
            [[0, 0.2], [0.1, 0.3]],
            [],
            r"tooth 2: its flat begins at 0.1 mm, before that of tooth 1 ends; .* 0.2 mm or more",
        ),
        ([[0, 0.2], [], [0.1, 0.3]], [], r"tooth 3: .* tooth 1 ends"),
        ([[0, 0.2], [0.1]], [], r"tooth 2: \[0.1\] is not a flat; allowed: \[a, b\]"),
        ([[0, 0.2], [1, 2, 3]], [], r"tooth 2: .* is not a flat"),
        ([[0, 0.2], "ab"], [], r"tooth 2: 'ab' is not a flat"),
        ([[0, 0.2], 7], [], r"tooth 2: 7 is not a flat"),
        ([[0, 0.2], [True, 4.2]], [], r"tooth 2: edge of the flat True is not a number"),
        ([[0, 0.2], ["4", 4.2]], [], r"tooth 2: edge of the flat '4' is not a number"),
        ([[0, 0.2], [], []], [], r"fewer than two teeth have a flat"),
        ([[0, 0.2], [4, 4.2]], [2], r"fewer than two teeth have a flat"),
        ([[0, 0.2], [4, 4.2]], [3], r"broken tooth 3 is not on the line; allowed: 1 to 2"),
    ],
)
def test_impossible_lines_name_tooth_value_and_limit(flats: Any, broken: list[int], says: str) -> None:
    with pytest.raises(TradeError, match=says) as caught:
        line_from_flats(flats, 4.0, broken)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("widths", "length", "says"),
    [
        ([0.2], None, r"a line of 1 teeth"),
        ([0.2, -0.1], None, r"tooth 2: a flat -0.1 mm wide; allowed: 0 mm"),
        ([0.2, NAN], None, r"tooth 2: width nan"),
        ([4.0, 0.2], None, r"tooth 1: a flat 4 mm wide"),
        ([0.2, "x"], None, r"tooth 2: width 'x' is not a number"),
        ([0.2, 0.3], 0.0, r"length of the line 0 mm"),
        ([3.0, 3.5, 3.0], 6.0, r"tooth 2: with flats as wide as its 3.5 mm no gullet is left in a line 6 mm long"),
        ([0.0, 0.0, 0.3], None, r"fewer than two teeth have a flat"),
    ],
)
def test_impossible_widths_name_tooth_value_and_limit(widths: Any, length: float | None, says: str) -> None:
    with pytest.raises(TradeError, match=says):
        line_from_widths(widths, 4.0, length_mm=length)


@pytest.mark.parametrize("pitch", [0.0, -4.0, NAN, math.inf])
def test_impossible_pitches_are_refused(pitch: float) -> None:
    with pytest.raises(TradeError, match="pitch"):
        line_from_flats([[0, 0.2], [4, 4.2]], pitch)


def test_a_broken_tooth_counts_as_one_of_mean_size() -> None:
    """Its gullets stay where they were, so that the neighbors of a stump in an even line stand in place."""
    line = line_from_widths([0.2, 0.2, 0.0, 0.2, 0.2], 4.0, broken=[3])
    middles = [None if flat is None else sum(flat) / 2 for flat in line.flats]
    assert middles == [pytest.approx(0.0), pytest.approx(4.0), None, pytest.approx(12.0), pytest.approx(16.0)]
