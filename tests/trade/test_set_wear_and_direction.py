from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from made_saws import fresh_set
from session.trade.kerf import SET_ERROR_MM
from session.trade.saw import Leans
from session.trade.setting import STONE_PASS_MM, bends_back, set_due, set_slope, set_state
from session.trade.trade_error import TradeError

DEPTH, SHARE = 2.5, 0.4  # the bend is 1 mm below the point


def test_set_wears_in_proportion_and_is_gone_at_the_bend() -> None:
    line = fresh_set(0.2, DEPTH, SHARE)
    assert [line.after(down).left_mm for down in (0.0, 0.25, 1.0, 1.5)] == pytest.approx([0.2, 0.15, 0.0, 0.0])


def test_a_measured_point_keeps_the_slope_of_the_day_of_setting() -> None:
    line = fresh_set(0.2, DEPTH, SHARE).after(0.25).measured(0.14)
    assert line.left_mm == 0.14
    assert line.slope == pytest.approx(0.2)
    assert line.after(0.25).left_mm == pytest.approx(0.09)


def test_a_later_measure_and_what_came_down_since_tell_the_slope() -> None:
    assert set_slope(0.15, DEPTH, SHARE, 0.25) == pytest.approx(0.2)
    # The line came down by all of the bend and yet there is set: one is misread, and the slope is only steep.
    assert set_slope(0.05, DEPTH, SHARE, 1.4) == pytest.approx(0.5)


def test_the_stone_takes_set_and_leaves_the_slope() -> None:
    line = fresh_set(0.2, DEPTH, SHARE).after(0.0, stone_passes=2)
    assert line.left_mm == pytest.approx(0.2 - 2 * STONE_PASS_MM)
    assert line.slope == pytest.approx(0.2)


@given(st.floats(0.0, 0.9), st.floats(0.0, 3.0), st.floats(0.0, 3.0), st.integers(0, 4))
def test_set_only_wears(per_side: float, down: float, more: float, passes: int) -> None:
    line = fresh_set(per_side, DEPTH, SHARE)
    assert 0.0 <= line.after(down + more, passes).left_mm <= line.after(down).left_mm + 1e-12


@given(st.floats(0.01, 0.5), st.floats(0.0, 2.0), st.floats(0.2, 5.0))
def test_wear_scales_with_all_lengths(per_side: float, down: float, scale: float) -> None:
    scaled = fresh_set(per_side * scale, DEPTH * scale, SHARE).after(down * scale).left_mm
    assert scaled == pytest.approx(scale * fresh_set(per_side, DEPTH, SHARE).after(down).left_mm, abs=1e-12)


@given(st.floats(0.05, 0.5), st.floats(0.0, 1.2), st.floats(0.0, 0.9), st.floats(0.005, 0.3))
def test_the_number_of_sharpenings_is_the_last_that_leaves_the_least(
    per_side: float, least_share: float, down: float, each: float
) -> None:
    least = per_side * least_share
    line = fresh_set(per_side, DEPTH, SHARE).after(down)
    state = set_state(line, least, each)
    assert state.outlives is not None
    if state.outlives:
        assert line.after(state.outlives * each).left_mm >= least - 1e-9
    assert line.after((state.outlives + 1) * each).left_mm <= least + 1e-9
    assert state.due is (state.after_mm < least - 0.0127 - 1e-9)


def test_due_is_judged_on_what_todays_work_leaves() -> None:
    line = fresh_set(0.2, DEPTH, SHARE)
    assert (set_state(line, 0.1, 0.05).due, set_state(line, 0.1, 0.05).outlives) == (False, 10)
    half = line.after(0.5)  # at the least, 0.1
    assert not set_state(half, 0.1, 0.05).due  # 0.09, short by less than a caliper's half thou: 0.0127
    assert set_state(half, 0.1, 0.07).due  # 0.086
    assert set_state(half, 0.1, 0.05, stone_passes=1).due  # the stone's pass counts as well: 0.085
    assert not set_state(half, 0.1, 0.0).due


def test_short_by_rounding_is_not_short() -> None:
    assert not set_due(0.1 - SET_ERROR_MM, 0.1)
    assert set_due(0.1 - SET_ERROR_MM - 1e-6, 0.1)
    assert pytest.approx(0.0127) == SET_ERROR_MM  # half a thou on each of two readings, and the set is half of both


def test_where_nothing_comes_off_no_number_is_given() -> None:
    assert set_state(fresh_set(0.2, DEPTH, SHARE), 0.1, 0.0).outlives is None


def test_a_saw_without_set_that_needs_none_is_not_due() -> None:
    state = set_state(fresh_set(0.0, DEPTH, SHARE), 0.0, 0.05)
    assert (state.left_mm, state.due, state.outlives) == (0.0, False, None)


@pytest.mark.parametrize("bad", [-0.1, math.nan, math.inf])
def test_impossible_amounts_are_refused(bad: float) -> None:
    line = fresh_set(0.1, DEPTH, SHARE)
    for call in (
        lambda: fresh_set(bad, DEPTH, SHARE),
        lambda: set_slope(0.1, DEPTH, SHARE, bad),
        lambda: line.after(bad),
        lambda: line.measured(bad),
        lambda: set_state(line, bad, 0.1),
        lambda: set_state(line, 0.0, bad),
    ):
        with pytest.raises(TradeError, match="allowed: 0 mm or more"):
            call()


@given(st.integers(1, 3000), st.sampled_from([Leans.AWAY, Leans.TOWARD]))
def test_each_tooth_may_be_set_from_exactly_one_side(tooth: int, first: Leans) -> None:
    refused = [side for side in (1, 2) if bends_back(tooth, side, first) is not None]
    assert len(refused) == 1


def test_the_warning_names_tooth_side_and_source() -> None:
    assert bends_back(1, 1, Leans.AWAY) is None
    warning = bends_back(2, 1, Leans.AWAY)
    assert warning is not None
    assert "Tooth 2" in warning
    assert "side 1" in warning
    assert "PSM89" in warning


def test_a_saw_never_set_has_nothing_to_bend_back() -> None:
    assert all(bends_back(tooth, side, Leans.UNSET) is None for tooth in (1, 2) for side in (1, 2))
