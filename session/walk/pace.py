"""Pace: how long the work takes, from the marks alone.

Nothing here changes the walk. The clock of a laptop may be set while a saw is being filed, so time is
read with doubt: marks are taken in the order of their seq, a step backward counts as no time at all,
and a long silence without a pause counts for no more than `CAP_S`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from itertools import takewhile
from typing import Final

from session.trade.middle_values import median
from session.value_class import dataclass, field
from session.walk.mark import Did, Mark
from session.walk.shared_maps import GrownList
from session.walk.stages import Stage
from session.walk.taken_back import taken_back

#: Most seconds that one interval may count for when no pause was marked (judgment). No tooth takes ten
#: minutes: beyond that either the clock was set forward or the person walked off without pausing, and one
#: such interval would outweigh a whole line in the sum.
CAP_S: Final = 600.0

#: Intervals that the recent median looks back over, and the fewest it speaks from (judgment).
RECENT: Final = 20
FEWEST: Final = 3


#: What ends an interval without a place done.
_RESTS: Final = frozenset({Did.PAUSED, Did.RESUMED})


@dataclass(frozen=True, slots=True)
class Intervals:
    """The intervals between places done, of marks that stand, in the order of their seq.

    An interval runs from one place done to the next, with no pause and no resuming between. Places marked several
    at once (``Mark.many``) were not worked just then: none of them ends an interval.

    every: seconds of each, with the stage when both its ends lie in one, else None, and the seq of the mark it begins
    with. recent: seconds of the last
    `RECENT` with each stage or None. stage: the stage of the last place done. last: the mark that ends in the next.
    """

    every: GrownList[tuple[float, Stage | None, int]] = field(default_factory=GrownList)
    recent: Mapping[Stage | None, tuple[float, ...]] = field(default_factory=dict)
    stage: Stage | None = None
    last: Mark | None = None

    @classmethod
    def of(cls, marks: Iterable[Mark]) -> Intervals:
        """The intervals of ``marks``, in order and without those taken back."""
        return cls().after(*marks)

    def after(self, *marks: Mark) -> Intervals:
        """The same once ``marks`` were made as well."""
        stage, last = self.stage, self.last
        ended: list[tuple[float, Stage | None, int]] = []
        for mark in marks:
            if mark.did is Did.DONE and mark.stage is not None:
                if last is not None and mark.many is None:
                    within = mark.stage if mark.stage == last.stage else None
                    ended.append((min(_between_s(last, mark), CAP_S), within, last.seq))
                stage, last = mark.stage, mark
            elif mark.did in _RESTS:
                last = None
        if not ended:
            return Intervals(self.every, self.recent, stage, last)
        recent = dict(self.recent)
        for seconds, within, _ in ended:
            recent[within] = (*recent.get(within, ()), seconds)[-RECENT:]
        return Intervals(self.every.plus(*ended), recent, stage, last)

    @property
    def recent_s(self) -> float | None:
        """Median over the last `RECENT` within the stage in hand; None while there are fewer than `FEWEST`."""
        recent = self.recent.get(self.stage, ())
        return median(recent) if len(recent) >= FEWEST else None

    @property
    def per_place_s(self) -> float | None:
        """Median over all of them; None when there is none."""
        return median(seconds for seconds, _, _ in self.every) if self.every else None


@dataclass(frozen=True, slots=True)
class Worked:
    """Working time of all marks, those taken back among them, in the order of their seq.

    seconds: from the first mark to the last, rests taken out. paused: whether work rests now. last: the last mark.
    """

    seconds: float = 0.0
    paused: bool = False
    last: Mark | None = None

    def after(self, *marks: Mark) -> Worked:
        """The same once ``marks`` were made as well."""
        total, paused, last = self.seconds, self.paused, self.last
        for mark in marks:
            if last is not None:
                paused = last.did is Did.PAUSED or (paused and last.did is not Did.RESUMED)
                if not paused:
                    rested = _rested_s(mark) if mark.did is Did.RESUMED else 0.0
                    total += min(max(0.0, _between_s(last, mark) - rested), CAP_S)
            last = mark
        return Worked(total, paused, last)


def intervals(marks: Iterable[Mark]) -> Intervals:
    """The intervals of ``marks``, in whatever order they come, without those taken back."""
    return Intervals.of(_standing(marks))


def seconds_in(stage: Stage, known: Intervals, since: int = 1) -> tuple[float, ...]:
    """Seconds of each place done within ``stage`` from mark ``since`` on, oldest first."""
    # Only the newest are looked at, however many there are.
    newest = takewhile(lambda one: one[2] >= since, reversed(known.every))
    return tuple(seconds for seconds, within, _ in newest if within == stage)[::-1]


def idle_limit_s(known: Intervals, floor: float = 60.0, factor: float = 5.0) -> float:
    """Seconds without a key after which the place is asked again: the larger of ``floor`` and ``factor`` × median.

    The median is that of the stage in hand once it has one, else of all places: a step of looking over takes
    minutes, a gullet seconds. Both numbers are a judgment (bench rule 12), not published.
    """
    recent = known.recent_s
    typical = recent if recent is not None else known.per_place_s
    return floor if typical is None else max(floor, factor * typical)


def _standing(marks: Iterable[Mark]) -> list[Mark]:
    ordered = sorted(marks, key=lambda mark: mark.seq)
    taken = taken_back(ordered)
    return [mark for mark in ordered if mark.seq not in taken]


def _rested_s(resumed: Mark) -> float:
    value = resumed.value
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return 0.0
    return max(0.0, float(value))


def _between_s(before: Mark, after: Mark) -> float:
    # As timestamps, because two times of one zone are otherwise subtracted by the wall clock, summer time and all,
    # and because a time of the year 1 or 9999 cannot always be had in UTC.
    return max(0.0, round(after.at.timestamp() - before.at.timestamp(), 6))
