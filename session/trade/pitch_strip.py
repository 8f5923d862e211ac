"""A paper strip with a mark where each point of a line belongs, parted into rows that fit a page.

Laid along a leveled line it shows without instruments where each flat lies (session.trade.strip_readings). It has to
have the pitch of the line itself: where the line was measured from its first point to its last, the marks are spread
over that length, since a pitch that is out by one in a hundred is out by a whole tooth after a hundred.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from session.trade.rounding import decimals
from session.trade.trade_error import TradeError
from session.value_class import dataclass

#: How far a measured line may be from the recipe's before it is rather another saw or another count: judgment.
OTHER_LINE: Final = 0.1


@dataclass(frozen=True, slots=True)
class StripRow:
    """One piece of the strip.

    first: the tooth of its first mark. marks_mm: where its marks stand, from the first, which is 0. A piece begins with
    the mark that the one before ended with, so that mark is laid on mark.
    """

    first: int
    marks_mm: tuple[float, ...]

    @property
    def last(self) -> int:
        """The tooth of its last mark."""
        return self.first + len(self.marks_mm) - 1

    @property
    def length_mm(self) -> float:
        """From its first mark to its last."""
        return self.marks_mm[-1]


def spread_over(positions_mm: Sequence[float], length_mm: float) -> tuple[float, ...]:
    """The places of a line's points, from the first at 0, spread evenly so that the last stands at ``length_mm``.

    Raises TradeError for a length further than a tenth from that of the places.
    """
    nominal = positions_mm[-1]
    if not abs(length_mm - nominal) <= OTHER_LINE * nominal:
        raise TradeError(
            f"a line {decimals(length_mm, 1)} mm long where the recipe has {decimals(nominal, 1)} mm; "
            "allowed: within a tenth of it (a line with another count of points wants its recipe changed)"
        )
    return tuple(position * length_mm / nominal for position in positions_mm)


def strip_rows(positions_mm: Sequence[float], room_mm: float) -> tuple[StripRow, ...]:
    """The pieces, each at most ``room_mm`` long, of a strip with marks at ``positions_mm``, in order from the heel.

    positions_mm: the first is 0. The pieces are as few as can be, and about as long as one another. Raises TradeError
    for fewer than two marks, and where two neighbors have no room.
    """
    if len(positions_mm) < 2:
        raise TradeError(f"a strip of {len(positions_mm)} marks; allowed: two or more")
    widest = max(ahead - behind for behind, ahead in pairwise(positions_mm))
    if not (math.isfinite(room_mm) and widest <= room_mm):
        raise TradeError(f"a row {room_mm:g} mm long holds no space of {widest:g} mm; allowed: a longer row")
    pieces = _pieces(positions_mm, room_mm)
    # As even as they can be: a piece that ends a space or less beyond its share leaves none over for one more.
    return _pieces(positions_mm, min(room_mm, positions_mm[-1] / len(pieces) + widest))


def _pieces(positions_mm: Sequence[float], room_mm: float) -> tuple[StripRow, ...]:
    rows = []
    first = 0
    while first < len(positions_mm) - 1:
        begin = positions_mm[first]
        # A space that just fits may by rounding alone seem not to.
        last = max(first + 1, bisect_right(positions_mm, begin + room_mm) - 1)
        rows.append(StripRow(first + 1, tuple(place - begin for place in positions_mm[first : last + 1])))
        first = last
    return tuple(rows)
