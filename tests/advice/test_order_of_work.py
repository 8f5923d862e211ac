"""The order in which advised work is done, in recipes of either order."""

from __future__ import annotations

import pytest

from session.advice.work import What, working_order
from session.trade.saw import Order


@pytest.mark.parametrize("order", list(Order))
def test_every_kind_of_work_has_its_one_place(order: Order) -> None:
    assert sorted(working_order(order)) == sorted(What)


@pytest.mark.parametrize(
    ("order", "works"),
    [
        # Leveling comes before setting in either order; the stone is last, as it evens the set (KING, NOYES, ROSS).
        (Order.SET_FIRST, (What.LEVEL, What.RESHAPE, What.LEVEL_AGAIN, What.SET, What.FILE, What.STONE_LEFT)),
        (Order.FILE_FIRST, (What.LEVEL, What.RESHAPE, What.LEVEL_AGAIN, What.FILE, What.SET, What.STONE_LEFT)),
    ],
)
def test_setting_goes_before_or_right_after_filing_and_the_stone_comes_last_but_for_the_wax(
    order: Order, works: tuple[What, ...]
) -> None:
    found = working_order(order)
    assert tuple(what for what in found if what in works) == works
    assert {found.index(what) for what in (What.STONE_LEFT, What.STONE_RIGHT, What.STONE_BOTH, What.DRESS)} == {
        *range(len(found) - 5, len(found) - 1)
    }
    assert found[-1] is What.WAX, "wax on a plate that is still to be filed clogs the file"
