"""How long a saw's sharpenings took, from the records: minutes for each place of the work."""

from __future__ import annotations

import math
from collections.abc import Sequence

from session.till.past_sharpening import Sharpening
from session.trade.middle_values import median
from session.trade.seven_in_ten import another_day
from session.trade.strokes import LEARN_FROM
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class PaceKept:
    """Minutes of work a place, rests taken out, the median of ``known`` sharpenings; None without one.

    low_each, high_each: the range that holds another sharpening's about seven times in ten.
    """

    minutes_each: float | None = None
    known: int = 0
    low_each: float | None = None
    high_each: float | None = None

    def minutes_for(self, places: int) -> float | None:
        """Minutes for ``places`` places at this pace; None while it is not known."""
        return None if self.minutes_each is None else self.minutes_each * places

    def range_for(self, places: int) -> tuple[float, float] | None:
        """The minutes between which ``places`` places take about seven times in ten; None while that is not known."""
        return (
            None
            if self.low_each is None or self.high_each is None
            else (self.low_each * places, self.high_each * places)
        )


def pace_kept(finished: Sequence[Sharpening]) -> PaceKept:
    """The pace of ``finished``, the finished sharpenings of one saw.

    Only those count that filed gullets and have places enough to tell. Grading the flats is no place of its own here:
    nobody plans it beforehand, so its time goes with the places that it helped.
    """
    paces = [pace for one in finished if (pace := _minutes_each(one)) is not None]
    if not paces:
        return PaceKept()
    middle, wide = median(paces), math.exp(another_day(paces))
    return PaceKept(middle, len(paces), middle / wide, middle * wide)


def _minutes_each(one: Sharpening) -> float | None:
    told = one.summary
    graded = sum(sum(counts) for counts in told.line.flats.values())
    places = sum(told.done.values()) - graded
    if one.gullets < LEARN_FROM or places < one.gullets or not 0.0 < told.minutes < math.inf:
        return None
    return told.minutes / places
