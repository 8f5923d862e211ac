from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade import pitch
from session.trade.pitch import MOST_POINTS, count_points
from session.trade.trade_error import TradeError

COUNTS = st.floats(1.5, 60)


@given(COUNTS)
def test_one_tooth_fewer_than_points(points: float) -> None:
    assert pitch.from_teeth_per_inch(points - 1) == pytest.approx(pitch.from_points_per_inch(points))


@given(st.integers(2, MOST_POINTS), st.floats(0.8, 12))
def test_a_line_of_whole_spaces_is_counted_exactly(points: int, spacing: float) -> None:
    assert count_points((points - 1) * spacing, spacing) == points


@given(st.integers(2, 500), st.floats(0.8, 12), st.floats(-0.49, 0.49))
def test_a_line_off_by_less_than_half_a_space_has_the_same_count(points: int, spacing: float, off: float) -> None:
    assert count_points((points - 1 + off) * spacing, spacing) == points


def test_half_a_space_always_rounds_up() -> None:
    assert [count_points(n + 0.5, 1.0) for n in (1, 2, 3, 4)] == [3, 4, 5, 6]


@pytest.mark.parametrize("count", [1, 0.5, 0, -8, float("nan"), float("inf"), True, 1 + 1e-320])
def test_impossible_points_are_refused(count: float) -> None:
    with pytest.raises(TradeError, match="points per inch; allowed: a finite number above 1"):
        pitch.from_points_per_inch(count)


@pytest.mark.parametrize("count", [0, -1, float("nan"), float("inf"), 1e-320, 1e308 * 10])
def test_impossible_teeth_are_refused(count: float) -> None:
    with pytest.raises(TradeError, match="teeth per inch"):
        pitch.from_teeth_per_inch(count)


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_impossible_pitch_and_length_are_refused(bad: float) -> None:
    with pytest.raises(TradeError, match="pitch"):
        count_points(500, bad)
    with pytest.raises(TradeError, match="toothed length"):
        count_points(bad, 3)


def test_too_many_and_too_few_points_are_refused() -> None:
    assert count_points(MOST_POINTS - 1, 1.0) == MOST_POINTS
    for length, spacing in ((float(MOST_POINTS), 1.0), (500, 1e-300)):
        with pytest.raises(TradeError, match=f"at most {MOST_POINTS}"):
            count_points(length, spacing)
    with pytest.raises(TradeError, match="shorter than one pitch"):
        count_points(1.0, 3.0)
