from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.gauge import THICKEST, THINNEST, nearest_gauge, thickness_mm
from session.trade.trade_error import TradeError

NUMBERS = range(THICKEST, THINNEST + 1)


@given(st.sampled_from(NUMBERS))
def test_nearest_gauge_finds_each_number_again(gauge: int) -> None:
    assert nearest_gauge(thickness_mm(gauge)) == gauge


@given(st.floats(0.11, 7.6))
def test_no_number_is_nearer_than_the_nearest(mm: float) -> None:
    best = abs(thickness_mm(nearest_gauge(mm)) - mm)
    assert all(best <= abs(thickness_mm(gauge) - mm) + 1e-8 for gauge in NUMBERS)


def test_a_higher_number_is_a_thinner_plate() -> None:
    assert all(thickness_mm(a) > thickness_mm(b) for a, b in pairwise(NUMBERS))


def test_half_way_between_two_numbers_is_called_the_thicker() -> None:
    assert nearest_gauge((thickness_mm(20) + thickness_mm(21)) / 2) == 20


@pytest.mark.parametrize("gauge", [0, -3, 37, 20.0, True, "20", float("nan")])
def test_other_numbers_are_refused_with_the_range(gauge: object) -> None:
    with pytest.raises(TradeError, match=r"allowed: a whole number from 1 .* to 36"):
        thickness_mm(gauge)  # type: ignore[arg-type]


@pytest.mark.parametrize("mm", [0.0, -1.0, 0.08, 7.9, float("nan"), float("inf")])
def test_thickness_without_a_number_is_refused(mm: float) -> None:
    with pytest.raises(TradeError, match=r"allowed: 0\.10 mm"):
        nearest_gauge(mm)
