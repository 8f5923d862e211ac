"""Pace: how long the work takes, from the marks alone.

Nothing here changes the walk. The clock of a laptop may be set while a saw is being filed, so time is
read with doubt: marks are taken in the order of their seq, a step backward counts as no time at all,
and a long silence without a pause counts for no more than `CAP_S`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from statistics import median
from typing import Final

from session.walk.mark import Did, Mark
from session.walk.stages import Stage

#: Most seconds that one interval may count for when no pause was marked (judgement). No tooth takes ten
#: minutes: beyond that either the clock was set forward or the person walked off without pausing, and one
#: such interval would outweigh a whole line in the sum.
CAP_S: Final = 600.0

#: Intervals that the recent median looks back over, and the fewest it speaks from (judgement).
RECENT: Final = 20
FEWEST: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """What the marks say about time, in seconds, none of them below 0.

    per_place_s: median over all intervals between successive places done, None when there is none.
    recent_s: median over the last `RECENT` intervals within ``stage``; None while there are fewer than `FEWEST`.
    stage: the stage of the last place done, None when none is.
    working_s: from the first mark to the last, rests taken out.
    intervals: how many intervals ``per_place_s`` was taken over.
    """

    per_place_s: float | None = None
    recent_s: float | None = None
    stage: Stage | None = None
    working_s: float = 0.0
    intervals: int = 0


def pace(marks: Iterable[Mark]) -> Pace:
    """The pace of ``marks``, which may come in any order.

    An interval runs from one place done to the next, with no pause and no resuming between. Marks taken
    back are passed over, so a slip of the key shortens nothing. Places marked several at once
    (``Mark.many``) were not worked just then: none of them ends an interval.
    """
    ordered = sorted(marks, key=lambda mark: mark.seq)
    found = list(_intervals(ordered))
    stage = next((mark.stage for mark in reversed(_standing(ordered)) if mark.did is Did.DONE), None)
    recent = [seconds for seconds, at_stage in found if at_stage is stage][-RECENT:]
    return Pace(
        per_place_s=median(seconds for seconds, _ in found) if found else None,
        recent_s=median(recent) if len(recent) >= FEWEST else None,
        stage=stage,
        working_s=_working_s(ordered),
        intervals=len(found),
    )


def seconds_in(stage: Stage, marks: Iterable[Mark]) -> tuple[float, ...]:
    """Seconds of each place done within ``stage``, oldest first, as `pace` takes them."""
    ordered = sorted(marks, key=lambda mark: mark.seq)
    return tuple(seconds for seconds, at_stage in _intervals(ordered) if at_stage is stage)


def idle_limit_s(marks: Iterable[Mark], floor: float = 60.0, factor: float = 5.0) -> float:
    """Seconds without a key after which the place is asked again: the larger of ``floor`` and ``factor`` × median.

    The median is that of the stage in hand once it has one, else of all places: a step of looking over takes
    minutes, a gullet seconds. Both numbers are a judgement (bench rule 12), not published.
    """
    known = pace(marks)
    typical = known.recent_s if known.recent_s is not None else known.per_place_s
    return floor if typical is None else max(floor, factor * typical)


def _intervals(ordered: list[Mark]) -> Iterator[tuple[float, Stage | None]]:
    """Seconds of each interval; with the stage when both its ends lie in one, else None."""
    before: Mark | None = None
    for mark in _standing(ordered):
        if mark.did in (Did.PAUSED, Did.RESUMED):
            before = None
        elif mark.did is Did.DONE:
            if before is not None and mark.many is None:
                yield min(_between_s(before, mark), CAP_S), mark.stage if mark.stage is before.stage else None
            before = mark


def _standing(ordered: list[Mark]) -> list[Mark]:
    taken = {mark.of for mark in ordered if mark.did is Did.TOOK_BACK}
    return [mark for mark in ordered if mark.seq not in taken]


def _working_s(ordered: list[Mark]) -> float:
    total, paused = 0.0, False
    for before, mark in pairwise(ordered):
        paused = before.did is Did.PAUSED or (paused and before.did is not Did.RESUMED)
        if not paused:
            rested = _rested_s(mark) if mark.did is Did.RESUMED else 0.0
            total += min(max(0.0, _between_s(before, mark) - rested), CAP_S)
    return total


def _rested_s(resumed: Mark) -> float:
    value = resumed.value
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        return 0.0
    return max(0.0, float(value))


def _between_s(before: Mark, after: Mark) -> float:
    # As timestamps, because two times of one zone are otherwise subtracted by the wall clock, summer time and all,
    # and because a time of the year 1 or 9999 cannot always be had in UTC.
    return max(0.0, round(after.at.timestamp() - before.at.timestamp(), 6))
