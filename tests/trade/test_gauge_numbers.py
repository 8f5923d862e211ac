from __future__ import annotations

from itertools import pairwise

import pytest

from session.trade.gauge import THICKEST, THINNEST, thickness_mm
from session.trade.trade_error import TradeError

NUMBERS = range(THICKEST, THINNEST + 1)


def test_a_higher_number_is_a_thinner_plate() -> None:
    assert all(thickness_mm(a) > thickness_mm(b) for a, b in pairwise(NUMBERS))


@pytest.mark.parametrize("gauge", [0, -3, 37, 20.0, True, "20", float("nan")])
def test_other_numbers_are_refused_with_the_range(gauge: object) -> None:
    with pytest.raises(TradeError, match=r"allowed: a whole number from 1 .* to 36"):
        thickness_mm(gauge)  # type: ignore[arg-type]
