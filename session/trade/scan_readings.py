"""What a scan told of a flat, as a log has it: how wide it is, and how far it lies off its place on an even line.

Both are shares of the pitch. How they are measured: session.trade.flats_by_scan.
"""

from __future__ import annotations

import math
from typing import Final

from session.trade.strip_readings import QUARTERS_OF_WIDTH

#: The unit of a width told so: a share of the pitch, 0 to under 1, as a scan measured it.
BY_SCAN: Final = "of the pitch, by a scan"

#: No flat lies so many pitches off its place; another tooth does.
MOST_OFF: Final = 1.0


def scanned_share(value: object, unit: str | None) -> float | None:
    """The width that ``value`` is, 0 to under 1 of the pitch; None for what no scan told."""
    if unit != BY_SCAN or isinstance(value, bool) or not isinstance(value, int | float):
        return None
    share = float(value) if abs(value) < 1 else math.nan
    return share if 0.0 <= share < 1.0 else None


def scanned_off(value: object) -> float | None:
    """How far off its place a flat lies, as a share of the pitch; None for what is none."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < MOST_OFF:
        return None
    return float(value)


def scanned_quarters(share: float, off: float | None) -> float | None:
    """The same as a reading of the strip: in quarters of the flat's own width; None where there is no flat."""
    return QUARTERS_OF_WIDTH * off / share if off is not None and share > 0.0 else None
