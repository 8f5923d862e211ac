"""Whether a low stump stands between the last tooth that was counted and the edge that was never filed.

A stump that hardly rises over its gullets is no tooth by its shape, and beyond the last tooth no spacing counts it. But
where the edge rises again beyond the last gullet, as wide as a tooth, and comes down to the plate's own edge only after
that, something stood there.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from session.scan.light_levels import Floats
from session.trade.rounding import whole_number

#: A gullet lies where it is expected to such a share of a space.
GULLET: Final = 0.25

#: Heights along the edge are taken over such shares of a space.
BIN: Final = 0.1

#: So much of the depth the edge rises over the gullet, and over so many bins; a grain is narrower (our own limits).
RISES: Final = 0.12
WIDE: Final = 4

#: The edge that was never filed runs level to such a share of the depth, so far under what stands beside it.
LEVEL: Final = 0.06

#: A stump is looked for over so many spaces, and the edge beyond it over so many more.
NEAR, FAR = 1.2, 1.5

#: The unfiled edge lies no deeper under the gullet than this share of the depth: else the plate ends there.
DEEPEST: Final = 0.35

#: Where the edge beyond a gullet leaves its straight by this share of the depth and by so many dots, over so many bins
#: from the first share of a space to the second, a stump may stand; a file never was where it runs straight.
UNEVEN: Final = 0.04
UNEVEN_DOTS: Final = 3.0
UNEVEN_BINS: Final = 2
FROM, TO = 0.35, 1.2

#: The least that a picture shows beyond the gullet, in spaces, where the plate goes on to its rim.
REACH: Final = 1.6


def uneven_beyond(skyline: tuple[Floats, Floats], expected: float, space: float, depth: float, dot: float) -> bool:
    """Whether the edge beyond the outermost gullet, which is ``expected`` at that place, is uneven: a stump may have
    left that, or dirt. ``space`` is negative on the left. Lengths in mm."""
    out = (skyline[0] - expected) / space
    heights = _binned(out, skyline[1])
    level = float(np.nanmedian(heights[: whole_number(TO / BIN)])) if np.isfinite(heights).any() else np.nan
    # Where the plate ends the edge goes down.
    gone = np.flatnonzero(~np.isfinite(heights) | (heights < level - DEEPEST * depth))
    gone = gone[gone >= whole_number(FROM / BIN)]
    last = int(gone[0]) if len(gone) else len(heights)
    own = np.arange(len(heights)) >= whole_number(FROM / BIN)
    own &= np.arange(len(heights)) < last
    # A picture that ends so near shows no more than a part of what stands there.
    if own.sum() < 2 * UNEVEN_BINS or (last < len(heights) and np.isnan(heights[last:]).all() and last < REACH / BIN):
        return False
    at = np.arange(len(heights))[own]
    first, other = np.triu_indices(len(at), max(1, len(at) // 3))
    slope = float(np.median((heights[own][other] - heights[own][first]) / (at[other] - at[first])))
    off = heights - slope * np.arange(len(heights))
    off = np.abs(off - float(np.median(off[own])))
    off[~own | (np.arange(len(heights)) >= whole_number(TO / BIN))] = 0.0
    return _runs(off > max(UNEVEN * depth, UNEVEN_DOTS * dot), UNEVEN_BINS) is not None


def _binned(out: Floats, v: Floats) -> Floats:
    """Middle heights over bins of `BIN` spaces outward; not a number where the edge was not seen."""
    which = np.floor(out / BIN).astype(int)
    return np.array(
        [
            float(np.median(v[which == k])) if (which == k).any() else np.nan
            for k in range(whole_number((NEAR + FAR) / BIN))
        ]
    )


def stump_beyond(skyline: tuple[Floats, Floats], expected: float, space: float, depth: float) -> bool:
    """Whether a stump stands beyond the outermost gullet, which is ``expected`` at that place; ``space`` is negative on
    the left. Lengths in mm.

    skyline: places and heights of the whole edge.
    """
    about = np.abs(skyline[0] - expected) < GULLET * abs(space)
    if not about.any():
        return False
    lowest = int(np.argmin(np.where(about, skyline[1], np.inf)))
    gullet = float(skyline[0][lowest]), float(skyline[1][lowest])
    out = (skyline[0] - gullet[0]) / space
    heights = _binned(out, skyline[1])
    over = heights - gullet[1] > RISES * depth
    near = whole_number(NEAR / BIN)
    stands = _runs(over[:near], WIDE)
    if stands is None:
        return False
    top = float(np.nanmax(heights[:near]))
    low = (heights < top - RISES * depth) & (heights > gullet[1] - DEEPEST * depth)
    low[: stands + WIDE] = False
    at = _runs(low, WIDE)
    while at is not None:
        level = heights[at : at + WIDE]
        if float(np.ptp(level)) < 2.0 * LEVEL * depth:
            return True
        low[at] = False
        at = _runs(low, WIDE)
    return False


def _runs(those: np.ndarray, count: int) -> int | None:
    """Where ``count`` of those beside each other first are all true."""
    for at in range(len(those) - count + 1):
        if those[at : at + count].all():
            return at
    return None
