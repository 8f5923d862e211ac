"""Which scan of a saw is used: the newest, and where that cannot be of this line, an older one that shows the same.

An older one shows the same line as long as no file was on it since. It steps in by itself, and both are named: which
is used, and why the newest is not.
"""

from __future__ import annotations

from datetime import date, datetime

from session.advice.measured_looks import MeasuredLooks, age
from session.advice.scan_contradictions import why_not_used
from session.trade.saw import Saw
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class ScanInUse:
    """looks: what the scan that is used measured; None where none is. newest: the last one; why_not: why it is not
    used, in short, empty where it is. filed: whether an older one was passed over as a file was on the line since."""

    looks: MeasuredLooks | None
    newest: MeasuredLooks
    why_not: str = ""
    filed: bool = False

    def told(self, today: date | None) -> str:
        """What is said where the newest one is not used; empty where it is."""
        if not self.why_not:
            return ""
        instead = f" {told}" if (told := self.instead(today)) else ""
        return f"The scan of {self.newest.at:%Y-%m-%d} is not used: {self.why_not}.{instead}"

    def instead(self, today: date | None) -> str:
        """Which scan is used in its place, or why none is, as a sentence; empty where there is no other."""
        if self.looks is not None:
            return f"An older one is used, of {self.looks.at:%Y-%m-%d %H:%M}, {age(self.looks.at, today)}."
        if self.filed:
            return "None is used: no other of this line was made since a file was on it."
        return "None is used: no other is of this line." if self.newest.older else ""


def scan_in_use(newest: MeasuredLooks, saw: Saw, points: int | None = None, filed: datetime | None = None) -> ScanInUse:
    """The scan that is used for ``saw``: ``newest``, or one of the older ones that it knows of.

    points: those that a person has counted today. filed: when a file was last on the line in the sharpening in hand.
    """
    why = why_not_used(newest.line, saw, points)
    if not why:
        return ScanInUse(newest, newest)
    for older in newest.older:
        if filed is not None and older.at <= filed:
            return ScanInUse(None, newest, why, filed=True)
        if not why_not_used(older.line, saw, points):
            return ScanInUse(older, newest, why)
    return ScanInUse(None, newest, why, newest.older_filed)
