"""Teeth with a flank that no file has left there: something lies on it, and the tooth was not seen.

One that leans otherwise than the others, by more than those do, and by no more than a hand may file, is believed as far
as the point would stand elsewhere if it leaned as they do.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import median
from typing import Final

from session.scan.read_tooth import ReadTooth
from session.value_class import replace

#: A flank that leans otherwise than the middle one of those around it by more is none, degrees (our own limit).
MOST_OTHER_DEG: Final = 6.0

#: In teeth of fewer dots from gullet to point a grain turns a flank and leaves it straight; one that leans otherwise by
#: more than so many times what leans scatter by may have one on it (our own limits).
FEW_DOTS: Final = 30.0
MOST_SCATTER: Final = 3.0

#: The middle of what is read of a flank lies so far under its point, as a share of the depth.
READ_AT: Final = 0.375

#: So many teeth on either side are around one: rakes may change along a line.
AROUND: Final = 4


def believed(teeth: Sequence[ReadTooth], depth: float, dot: float) -> tuple[ReadTooth, ...]:
    """``teeth`` so deep, mm, in a picture of so large dots, those with such a flank told covered, and those with one
    that may be so with what that makes of their height. Of the outer ones the outer flank may be the plate's end."""
    sides = [_off_others([one.left for one in teeth]), _off_others([one.right for one in teeth])]
    scatter = [_scatter(side[1:-1]) for side in sides]
    kept = []
    for at, one in enumerate(teeth):
        if one.fit != "top" or one.left is None or one.right is None:
            kept.append(one)
            continue
        off = [0.0 if at == end else abs(side[at] or 0.0) for side, end in zip(sides, (0, len(teeth) - 1), strict=True)]
        if max(off) > MOST_OTHER_DEG:
            # Such flanks meet nowhere that says anything: how high the edge comes does.
            kept.append(replace(one, fit="covered", v=one.edge))
            continue
        run = math.tan(math.radians(one.left)) + math.tan(math.radians(one.right))
        moved = [
            math.radians(by) * READ_AT * depth / math.cos(math.radians(lean)) ** 2 / run
            for by, lean, usual, se in zip(
                off, (one.left, one.right), scatter, (one.se_left, one.se_right), strict=True
            )
            if depth < FEW_DOTS * dot and by > MOST_SCATTER * math.hypot(usual, se)
        ]
        kept.append(replace(one, se=math.hypot(one.se, *moved)))
    return tuple(kept)


def _off_others(leans: Sequence[float | None]) -> list[float | None]:
    """By how much each flank leans otherwise than those around it, degrees; None where it was not seen."""
    off: list[float | None] = []
    for at, own in enumerate(leans):
        around = [one for one in leans[max(0, at - AROUND) : at + AROUND + 1] if one is not None]
        off.append(None if own is None else own - median(around))
    return off


def _scatter(off: Sequence[float | None]) -> float:
    """What leans usually differ from those around them by, as a standard deviation, degrees."""
    seen = [abs(one) for one in off if one is not None]
    return 1.4826 * median(seen) if seen else 0.0
