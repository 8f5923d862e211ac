"""Several widths over the points: one set, and whether they agree."""

from __future__ import annotations

import pytest

from session.trade.set_readings import set_readings
from session.trade.trade_error import TradeError

THOU = 0.0254


def widths(*thou: float) -> list[float]:
    return [one * THOU for one in thou]


def test_the_middle_is_the_saws_set_and_the_ends_are_kept() -> None:
    found = set_readings(widths(47, 44, 46, 49, 46), 35 * THOU)
    assert [round(mm / THOU, 6) for mm in (found.least_mm, found.middle_mm, found.most_mm)] == [4.5, 5.5, 7.0]
    assert found.count == 5


@pytest.mark.parametrize(
    ("thou", "uneven"),
    [((47,), False), ((47, 47.5), False), ((46.5, 47, 47.5), False), ((46.4, 47, 47.5), True), ((44, 47, 50), True)],
)
def test_widths_are_uneven_when_two_readings_of_one_width_could_not_be_so_far_apart(
    thou: tuple[float, ...], uneven: bool
) -> None:
    assert set_readings(widths(*thou), 35 * THOU).uneven is uneven


def test_a_width_under_the_plate_or_none_at_all_is_refused() -> None:
    with pytest.raises(TradeError, match="less than the plate"):
        set_readings(widths(47, 34), 35 * THOU)
    with pytest.raises(TradeError, match="allowed: one or more"):
        set_readings([], 35 * THOU)
