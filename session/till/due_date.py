"""When a saw is due again, as a date with its range, or what is missing to tell one."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Final

from session.till.saw_history import SawHistory
from session.trade.dulling import ENOUGH_CUTS, Dulling
from session.value_class import dataclass, replace

#: A day further off than this is told as none: no forecast reaches so far.
FURTHEST_DAYS: Final = 36_500.0

#: A record that ends so many days after today, or before that year, was made by a clock that was wrong, or is looked at
#: by one: batteries run out, and clocks then begin anew in the past (our own limits).
AHEAD_DAYS: Final = 1.0
FIRST_YEAR: Final = 2020

_DAY_S: Final = 86_400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """When the trial cuts of a saw say that it is due.

    dulling: what the cuts say, and ``why`` it rests on so many, or which are missing. day: None when they do not tell
    one. earliest, latest: the range that holds it about seven times in ten; None where it is open. in_days,
    earliest_in_days, latest_in_days: the same from now, 0 when it is past.
    """

    dulling: Dulling
    day: date | None = None
    earliest: date | None = None
    latest: date | None = None
    in_days: float | None = None
    earliest_in_days: float | None = None
    latest_in_days: float | None = None

    @property
    def why(self) -> str:
        """What it rests on, or what is missing."""
        return self.dulling.why

    @property
    def missing(self) -> int:
        """How many cuts on later days are missing before a date is told."""
        return 0 if self.dulling.enough else max(0, ENOUGH_CUTS - self.dulling.cuts)

    @property
    def when(self) -> str:
        """The date with its range in words, behind "Due"; ": not known yet" when none is told."""
        if self.in_days is None:
            return ": not known yet"
        if self.day is None:
            return ": in more than a hundred years"
        wide = f"not before {self.earliest}" if self.latest is None else f"{self.earliest} to {self.latest}"
        return f"{' now' if self.in_days == 0 else ''}: about {self.day} ({wide}, 7 times in 10)"


def due(told: SawHistory, now: datetime) -> Due:
    """When the saw of ``told`` is due, by the clock of ``now``: counted from the latest trial cut of its latest
    sharpening, from that sharpening itself where it has none. No day where the cuts do not say."""
    dulling = told.dulling
    if not told.finished or dulling.due_in_days is None:
        return Due(dulling=dulling)
    ended = told.finished[-1].ended
    assert ended is not None
    if (wrong := _clock_wrong(ended, now)) is not None:
        told_so = replace(dulling, due_in_days=None, earliest_days=None, latest_days=None, why=wrong)
        return Due(dulling=told_so)
    begin = ended.timestamp() + dulling.counted_from * _DAY_S
    passed = (now.timestamp() - begin) / _DAY_S
    zone = now.tzinfo if now.tzinfo is not None else UTC

    def day(days: float | None) -> date | None:
        if days is None or days > FURTHEST_DAYS:
            return None
        try:
            return (datetime.fromtimestamp(begin, zone) + timedelta(days=days)).date()
        except (OverflowError, ValueError, OSError):
            # The clock of a record may have been anything.
            return None

    def from_now(days: float | None) -> float | None:
        return None if days is None else max(0.0, days - passed)

    return Due(
        dulling=dulling,
        day=day(dulling.due_in_days),
        earliest=day(dulling.earliest_days),
        latest=day(dulling.latest_days),
        in_days=from_now(dulling.due_in_days),
        earliest_in_days=from_now(dulling.earliest_days),
        latest_in_days=from_now(dulling.latest_days),
    )


def _clock_wrong(ended: datetime, now: datetime) -> str | None:
    """Why no day can be counted from ``ended`` to ``now``; None where it can."""
    said = f"the clock says {now:%Y-%m-%d}, and the last sharpening's said {ended:%Y-%m-%d}"
    if (ended.timestamp() - now.timestamp()) / _DAY_S > AHEAD_DAYS:
        return f"Not known: {said}, which is still to come"
    if ended.year < FIRST_YEAR:
        return f"Not known: {said}, which was not that day"
    return None
