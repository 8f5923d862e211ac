"""The middle of some amounts, as the standard library's statistics gives it.

Ours, because every record is told with it: that library brings along fractions, decimals and random numbers, which
take as long to be loaded as a short record to be read. What asks for more of it imports it where it does.
"""

from __future__ import annotations

import math
from collections.abc import Iterable


def median(values: Iterable[float]) -> float:
    """The one in the middle by size, halfway between two where there is none. Raises ValueError without a value.

    >>> median([3, 1, 2]), median([4.0, 1.0])
    (2, 2.5)
    """
    ordered = sorted(values)
    if not ordered:
        raise ValueError("no value; allowed: one or more")
    middle = len(ordered) // 2
    return ordered[middle] if len(ordered) % 2 else (ordered[middle - 1] + ordered[middle]) / 2


def fmean(values: Iterable[float]) -> float:
    """Their sum, without a loss, shared out among them. Raises ValueError without a value."""
    every = list(values)
    if not every:
        raise ValueError("no value; allowed: one or more")
    return math.fsum(every) / len(every)
