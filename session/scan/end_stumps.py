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
    which = np.floor(out / BIN).astype(int)
    heights = np.array(
        [
            float(np.median(skyline[1][which == k])) if (which == k).any() else np.nan
            for k in range(whole_number((NEAR + FAR) / BIN))
        ]
    )
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
