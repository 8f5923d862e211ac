"""Several widths over the points, read as one set: the middle of them, the least, the most, and whether they agree."""

from __future__ import annotations

from collections.abc import Sequence

from session.trade.kerf import CALIPER_MM, set_from_measurement_mm
from session.trade.middle_values import median
from session.trade.trade_error import TradeError
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class SetReadings:
    """The set per side at one or more places along the line, in mm.

    middle_mm: the median, by which the saw is judged. least_mm, most_mm: at the leanest and at the fullest place.
    count: how many places were measured.
    """

    middle_mm: float
    least_mm: float
    most_mm: float
    count: int

    @property
    def uneven(self) -> bool:
        """Whether the widths differ by more than two readings of one width can: each may be wrong by CALIPER_MM.

        A width tells the sum of both sides; that one side has more than the other it does not tell.
        """
        return 2.0 * (self.most_mm - self.least_mm) > 2.0 * CALIPER_MM + 1e-9


def set_readings(over_points_mm: Sequence[float], plate_mm: float) -> SetReadings:
    """The set by ``over_points_mm``, widths over the points of two neighbors at one or more places, in mm.

    Raises TradeError without a width, or for one under the plate's.
    """
    if not over_points_mm:
        raise TradeError("no width over the points; allowed: one or more")
    sets = [set_from_measurement_mm(width, plate_mm) for width in over_points_mm]
    return SetReadings(median(sets), min(sets), max(sets), len(sets))
