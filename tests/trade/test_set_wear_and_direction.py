from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.kerf import KerfError
from session.trade.saw import Leans
from session.trade.setting import bends_back, set_left_mm, set_state

DEPTH, SHARE = 2.5, 0.4  # the bend is 1 mm below the point


def test_set_wears_in_proportion_and_is_gone_at_the_bend() -> None:
    assert set_left_mm(0.2, 0.0, DEPTH, SHARE) == 0.2
    assert set_left_mm(0.2, 0.25, DEPTH, SHARE) == pytest.approx(0.15)
    assert set_left_mm(0.2, 1.0, DEPTH, SHARE) == pytest.approx(0.0)
    assert set_left_mm(0.2, 1.5, DEPTH, SHARE) == 0.0


@given(st.floats(0.0, 0.9), st.floats(0.0, 3.0), st.floats(0.0, 3.0))
def test_set_only_wears(per_side: float, down: float, more: float) -> None:
    assert 0.0 <= set_left_mm(per_side, down + more, DEPTH, SHARE) <= set_left_mm(per_side, down, DEPTH, SHARE)


@given(st.floats(0.01, 0.5), st.floats(0.0, 2.0), st.floats(0.2, 5.0))
def test_wear_scales_with_all_lengths(per_side: float, down: float, scale: float) -> None:
    scaled = set_left_mm(per_side * scale, down * scale, DEPTH * scale, SHARE)
    assert scaled == pytest.approx(scale * set_left_mm(per_side, down, DEPTH, SHARE), abs=1e-12)


@given(st.floats(0.05, 0.5), st.floats(0.0, 1.2), st.floats(0.0, 0.9), st.floats(0.005, 0.3))
def test_the_number_of_sharpenings_is_the_last_before_it_is_due(
    per_side: float, least_share: float, down: float, each: float
) -> None:
    least = per_side * least_share
    state = set_state(per_side, least, down, each, DEPTH, SHARE)
    if state.due:
        assert set_left_mm(per_side, down, DEPTH, SHARE) < least
        assert state.outlives == 0
        return
    assert state.outlives is not None
    assert set_left_mm(per_side, down + state.outlives * each, DEPTH, SHARE) >= least - 1e-9
    assert set_left_mm(per_side, down + (state.outlives + 1) * each, DEPTH, SHARE) <= least + 1e-9


def test_a_saw_set_to_double_the_least_outlives_half_the_bend() -> None:
    state = set_state(0.2, 0.1, 0.0, 0.05, DEPTH, SHARE)
    assert (state.due, state.outlives) == (False, 10)
    assert set_state(0.2, 0.1, 0.5, 0.05, DEPTH, SHARE).outlives == 0
    assert set_state(0.2, 0.1, 0.51, 0.05, DEPTH, SHARE).due


@pytest.mark.parametrize("each", [None, 0.0])
def test_without_a_known_take_no_number_is_given(each: float | None) -> None:
    assert set_state(0.2, 0.1, 0.0, each, DEPTH, SHARE).outlives is None


def test_a_saw_without_set_that_needs_none_is_not_due() -> None:
    state = set_state(0.0, 0.0, 0.1, 0.05, DEPTH, SHARE)
    assert (state.left_mm, state.due, state.outlives) == (0.0, False, None)


@pytest.mark.parametrize("bad", [-0.1, math.nan, math.inf])
def test_impossible_amounts_are_refused(bad: float) -> None:
    for call in (
        lambda: set_left_mm(bad, 0.0, DEPTH, SHARE),
        lambda: set_left_mm(0.1, bad, DEPTH, SHARE),
        lambda: set_state(0.1, bad, 0.0, 0.1, DEPTH, SHARE),
        lambda: set_state(0.1, 0.0, 0.0, bad, DEPTH, SHARE),
    ):
        with pytest.raises(KerfError, match="allowed: 0 mm or more"):
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
