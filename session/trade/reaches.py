"""Reaches: the stretches of the tooth line that the vise holds one after another.

A jaw of length J holds J/pitch teeth. The line is shared out evenly, because a last reach of three
teeth costs a shift of the saw for nothing. The breaks come from the line alone, so they are the same
teeth from both sides.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence

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


def reach_of(tooth: int, line: Sequence[tuple[int, int]]) -> int:
    """The number of the reach, counted from 1 at the heel, that holds ``tooth``. Raises TradeError when none does."""
    if not line or not line[0][0] <= tooth <= line[-1][1]:
        raise TradeError(
            f"tooth {tooth!r} is in no reach; allowed: {line[0][0]} to {line[-1][1]}" if line else "no reach"
        )
    return bisect_left(line, tooth, key=lambda reach: reach[1]) + 1
