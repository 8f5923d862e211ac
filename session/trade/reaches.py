"""Reaches: the stretches of the tooth line that the vise holds one after another.

A jaw of length J holds J/pitch teeth. The line is shared out evenly, because a last reach of three
teeth costs a shift of the saw for nothing; a progressive line is so by its length, with more of its finer
teeth to a reach. The breaks come from the line alone, so they are the same teeth from both sides.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import accumulate

from session.trade.pitch import checked_pitch
from session.trade.trade_error import TradeError

Reaches = tuple[tuple[int, int], ...]


def held(pitch_mm: float, jaw_mm: float) -> int:
    """How many teeth of this pitch a jaw holds at once, 1 or more. Both in mm, finite."""
    # The allowance keeps a jaw of exactly n pitches from losing a tooth to rounding.
    return max(1, math.floor(jaw_mm / pitch_mm + 1e-9))


def reaches(points: int, pitch_mm: float, jaw_mm: float) -> Reaches:
    """[first, last] teeth of each reach, from the heel, for ``points`` teeth (2 or more) and a jaw in mm.

    As few reaches as the jaw allows, their sizes differing by one tooth at most. Raises TradeError
    when the jaw is shorter than one pitch, and for an impossible pitch.
    """
    pitch = checked_pitch(pitch_mm)
    if isinstance(points, bool) or not isinstance(points, int) or points < 2:
        raise TradeError(f"{points!r} points; allowed: a whole number from 2")
    if isinstance(jaw_mm, bool) or not math.isfinite(jaw_mm) or jaw_mm < pitch:
        raise TradeError(f"a vise jaw of {jaw_mm:g} mm; allowed: a finite length of at least one pitch, {pitch:g} mm")
    count = -(-points // (points if jaw_mm >= points * pitch else held(pitch, jaw_mm)))
    size, longer = divmod(points, count)
    found: list[tuple[int, int]] = []
    first = 1
    for index in range(count):
        last = first + size - 1 + (index < longer)
        found.append((first, last))
        first = last + 1
    return tuple(found)


def reaches_along(spaces_mm: Sequence[float], jaw_mm: float) -> Reaches:
    """The same for teeth at unlike distances: ``spaces_mm`` is what each takes of the line, in mm above 0, 2 or more.

    As few reaches as the jaw allows, each as near to the same length as the teeth let it be. Raises TradeError for a
    jaw that does not hold the widest space.
    """
    widest = max(spaces_mm)
    if not (math.isfinite(jaw_mm) and jaw_mm >= widest):
        raise TradeError(f"a vise jaw of {jaw_mm:g} mm; allowed: a finite length of at least one pitch, {widest:g} mm")
    ends = (0.0, *accumulate(spaces_mm))
    # As with a single pitch, a jaw of exactly so many spaces loses none to rounding.
    most = jaw_mm + 1e-9 * widest
    count, first, found = _fewest(ends, 0, most), 0, list[tuple[int, int]]()
    for left in range(count, 0, -1):
        aim = ends[first] + (ends[-1] - ends[first]) / left
        last = bisect_left(ends, aim, first + 1, len(ends) - 1)
        if last > first + 1 and aim - ends[last - 1] < ends[last] - aim:
            last -= 1
        while ends[last] - ends[first] > most:
            last -= 1
        while _fewest(ends, last, most) > left - 1:
            last += 1
        found.append((first + 1, last))
        first = last
    return tuple(found)


def _fewest(ends: Sequence[float], first: int, most_mm: float) -> int:
    """How many reaches of ``most_mm`` the teeth from index ``first`` need; ``ends`` are where the spaces end."""
    count = 0
    while first < len(ends) - 1:
        first = bisect_right(ends, ends[first] + most_mm) - 1
        count += 1
    return count


def reach_of(tooth: int, line: Sequence[tuple[int, int]]) -> int:
    """The number of the reach, counted from 1 at the heel, that holds ``tooth``. Raises TradeError when none does."""
    if not line or not line[0][0] <= tooth <= line[-1][1]:
        raise TradeError(
            f"tooth {tooth!r} is in no reach; allowed: {line[0][0]} to {line[-1][1]}" if line else "no reach"
        )
    return bisect_left(line, tooth, key=lambda reach: reach[1]) + 1
