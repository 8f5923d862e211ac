"""What a saw's records add to what was seen today."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Final

from session.advice.measured_looks import MeasuredLooks
from session.trade.file_choice import FileOwned
from session.trade.file_life import TEETH_PER_CORNER
from session.trade.setting import SetLine
from session.trade.strokes import Bite
from session.value_class import dataclass, field, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class SawRecords:
    """What is known of a saw before it is looked at; None everywhere means that no record tells it.

    line: the set by now and how it goes with the steel. lost_mm, limit_mm: what the line has come down in all, and
    what it may. last_sharpened: the day. share_now: area a stroke now against the first cut after that day. broken:
    teeth that the last record told broken. low: those that its close said to leave alone; none where they are
    many. owned: the files of the drawer, with what every record of it added. corner_teeth: how many one of their
    corners may file. bite: of one stroke, as the records taught it; None where there are none. first_time: no
    sharpening of any saw is finished in the till yet. scanned: the newest line that a scan measured. rescanned: gives
    it again, for one may be read while work goes on.
    """

    line: SetLine | None = None
    lost_mm: float | None = None
    limit_mm: float | None = None
    last_sharpened: date | None = None
    share_now: float | None = None
    broken: tuple[int, ...] = ()
    low: tuple[int, ...] = ()
    owned: tuple[FileOwned, ...] = ()
    corner_teeth: int = TEETH_PER_CORNER
    bite: Bite | None = None
    first_time: bool = False
    scanned: MeasuredLooks | None = None
    rescanned: Callable[[], MeasuredLooks | None] | None = field(default=None, compare=False, repr=False)

    def with_newest_scan(self) -> SawRecords:
        """The same with the newest line that a scan has measured by now."""
        return self if self.rescanned is None else replace(self, scanned=self.rescanned())


NO_HISTORY: Final = SawRecords()
