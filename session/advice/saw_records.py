"""What a saw's records add to what was seen today."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class SawRecords:
    """What is known of a saw before it is looked at; None everywhere means that no record tells it.

    set_mm: the set per side by now, from the last time it was measured and what the line has lost since.
    slope: set lost for each mm that the line comes down, fixed on the day of setting. lost_mm, limit_mm: what the line
    has come down in all, and what it may. last_sharpened: the day. share_now: area a stroke now against the first cut
    after that day. broken: teeth that the last record told broken.
    """

    set_mm: float | None = None
    slope: float | None = None
    lost_mm: float | None = None
    limit_mm: float | None = None
    last_sharpened: date | None = None
    share_now: float | None = None
    broken: tuple[int, ...] = ()


NO_HISTORY: Final = SawRecords()
