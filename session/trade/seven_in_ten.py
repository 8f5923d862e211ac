"""How wide a range is to be that holds about seven times in ten: the one meaning of every range the program states."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from session.trade.middle_values import fmean

#: Standard deviations to either side within which a normal value lies seven times in ten.
KNOWN_SPREAD: Final = 1.0364


def either_side(free: float) -> float:
    """How many standard deviations to either side, when the deviation itself was learned from ``free`` (above 0)
    differences that were free to vary: Student's t of seven in ten by Cornish and Fisher's first term; no fewer than
    KNOWN_SPREAD. ``math.inf`` for a deviation that is known."""
    return KNOWN_SPREAD + (KNOWN_SPREAD**3 + KNOWN_SPREAD) / (4.0 * free)


#: How far bite or pace of one day lies off that of another, as a share of it, and of how many days that knowledge is
#: worth: judgment. The file is a little more worn, the hand another.
DAYS_DIFFER: Final = 0.15
DAYS_WORTH: Final = 2


def another_day(days: Sequence[float]) -> float:
    """How far to either side of the middle of ``days``, one amount above 0 for each, another day's lies seven times in
    ten: a natural logarithm, so that e to it multiplies and divides. Judged (DAYS_DIFFER) until enough days tell it."""
    logs, free = [math.log(day) for day in days], DAYS_WORTH + len(days) - 1
    apart = math.fsum((one - fmean(logs)) ** 2 for one in logs)
    varies = (DAYS_WORTH * DAYS_DIFFER**2 + apart) / free
    return either_side(free) * math.sqrt(varies * (1.0 + 1.0 / len(days)))
