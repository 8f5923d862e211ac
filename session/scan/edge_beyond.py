"""What the edge beyond the last tooth of a count tells: that no file was there, or that more teeth may stand.

A line ends where the unfiled edge, the plate's end or the picture's rim is seen. A hair that crosses the unfiled edge
makes no tooth of it, and where the edge rises again as teeth do, whatever lies there, the line has not ended.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from session.scan.light_levels import Floats
from session.trade.rounding import whole_number

#: Heights along the edge are taken over such shares of a space: the lowest, for a hair stands out of the edge.
BIN: Final = 0.1

#: The unfiled edge runs straight to such a share of the depth, but for so many bins, from the first share of a space
#: beyond the last gullet to the second (our own limits).
STRAIGHT: Final = 0.06
MAY_STRAY: Final = 1
FROM, TO = 0.3, 1.3

#: It rises by less than this share of the depth from bin to bin; a flank by more. Where the picture shows less of it,
#: but so many bins, it lies over the gullet by less than the second share.
LEVEL: Final = 0.03
FEWEST_STRAIGHT: Final = 4
LOW: Final = 0.2

#: At such a share of its depth a tooth is as wide as so many bins, two with a hair over them are no wider than so many,
#: and one is not as wide as the last; a hair is narrower (our own limits).
HALF: Final = 0.5
WIDE: Final = 3
WIDEST: Final = 18
WIDEST_TOOTH: Final = 11

#: Where the edge goes down under the gullets by more than this share of the depth, the plate ends.
DEEPEST: Final = 0.35


def runs_unfiled(skyline: tuple[Floats, Floats], gullet: tuple[float, float], space: float, depth: float) -> bool:
    """Whether the edge beyond a gullet at that place and height runs straight for as long as a tooth and its gullet
    are, under whatever stands out of it. ``space`` is negative on the left. Lengths in mm.

    skyline: places and heights of the whole edge.
    """
    heights = _lowest(skyline, gullet[0], space)[whole_number(FROM / BIN) : whole_number(TO / BIN)]
    at = np.flatnonzero(np.isfinite(heights))
    if len(at) < FEWEST_STRAIGHT:
        return False
    first, other = np.triu_indices(len(at), max(1, len(at) // 3))
    slope = float(np.median((heights[at][other] - heights[at][first]) / (at[other] - at[first])))
    off = heights[at] - slope * at
    if len(at) < whole_number((TO - FROM) / BIN) - MAY_STRAY and np.median(heights[at]) > gullet[1] + LOW * depth:
        return False  # the flat top of a stump may be as long
    off = np.abs(off - np.median(off))
    return int((off > STRAIGHT * depth).sum()) <= MAY_STRAY and abs(slope) < LEVEL * depth


def stand_beyond(
    skyline: tuple[Floats, Floats], start: float, space: float, level: float, depth: float
) -> tuple[float, ...]:
    """Where beyond ``start``, the place of the outermost gullet, the edge rises and comes down again as high and at
    least as wide as a tooth; twice, where it is wider than one. ``space`` is negative on the left. Lengths in mm.

    skyline: places and heights of the whole edge. level: height of a gullet there.
    """
    found: list[float] = []
    for begin, bins in _risings(skyline, start, space, level, depth):
        if WIDE <= bins <= WIDEST:
            found += [start + (begin + bins / 2.0) * BIN * space] * (1 + (bins > WIDEST_TOOTH))
    return tuple(found)


def covers_more(skyline: tuple[Floats, Floats], start: float, space: float, level: float, depth: float) -> bool:
    """Whether what rises next beyond ``start``, the place of a gullet, is wider than a tooth before it comes down: a
    hair reaches from it to what stands beyond, or over the unfiled edge. ``space`` is negative on the left. In mm.

    skyline: places and heights of the whole edge. level: height of a gullet there.
    """
    _, bins = next(_risings(skyline, start, space, level, depth), (0, 0))
    return bins > WIDEST_TOOTH


def never_down(skyline: tuple[Floats, Floats], start: float, space: float, level: float, depth: float) -> bool:
    """Whether the edge comes down nowhere from ``start``, the place of a gullet, outward, and is seen for long enough
    to: a hair runs along over what is there. ``space`` is negative on the left. Lengths in mm.

    skyline: places and heights of the whole edge. level: height of a gullet there.
    """
    heights = _lowest(skyline, start - FROM * space, space)
    if len(heights) < 2 * whole_number(FROM / BIN) + WIDE:
        return False
    return bool(np.nanmin(heights) > level + HALF * depth)


def _risings(
    skyline: tuple[Floats, Floats], start: float, space: float, level: float, depth: float
) -> Iterator[tuple[int, int]]:
    """In which bin beyond ``start`` the edge rises over half of a tooth's depth, and over how many, where it comes down
    again to the gullets: what goes down under them is the plate's end."""
    run = 0
    for at, height in enumerate(_lowest(skyline, start, space).tolist()):
        if height > level + HALF * depth:
            run += 1
        elif height > level - DEEPEST * depth:
            if run:
                yield at - run, run
            run = 0
        elif not math.isnan(height):
            run = 0


def _lowest(skyline: tuple[Floats, Floats], start: float, space: float) -> Floats:
    """The lowest height in each bin of `BIN` spaces outward from ``start``; not a number where no edge was seen."""
    which = np.floor((skyline[0] - start) / (space * BIN)).astype(int)
    beyond = which >= 0
    if not beyond.any():
        return np.empty(0)
    heights = np.full(int(which.max()) + 1, np.inf)
    np.minimum.at(heights, which[beyond], skyline[1][beyond])
    return np.where(np.isfinite(heights), heights, np.nan)
