"""The middle of some amounts, beside that of the standard library."""

from __future__ import annotations

import statistics
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.middle_values import fmean, median

AMOUNTS = st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=12)


@given(AMOUNTS)
def test_both_are_those_of_the_standard_library(amounts: list[float]) -> None:
    assert median(iter(amounts)) == statistics.median(amounts)
    assert fmean(iter(amounts)) == statistics.fmean(amounts)


@pytest.mark.parametrize("middle", [median, fmean])
def test_nothing_has_no_middle(middle: Callable[[list[float]], float]) -> None:
    with pytest.raises(ValueError, match="no value"):
        middle([])
