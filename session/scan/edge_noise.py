"""How far along an edge its places stray together: rust, mottle and the point spread move neighbors alike.

The scatter of a flank's points about it says how well it was followed only by how many of them are independent. That
is taken from the points themselves, of all flanks of a picture together: how alike neighbors stray, and how far.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from session.scan.flank_lines import Flank
from session.scan.light_levels import Floats
from session.value_class import replace

#: So many dots along the edge are looked at, and likeness below so much is none.
MOST_DOTS: Final = 25
NO_LIKENESS: Final = 0.05

#: Points that stray by more of a flank's own scatter are dust.
MOST_SCATTER: Final = 3.0


def told_apart(flanks: Sequence[tuple[Flank, Floats]], dot: float, least: float) -> float:
    """Along how many mm of edge places stray alike, ``least`` or more: the sum of their likeness over distance.

    flanks: each with the points (u, v) that it was laid through. dot: mm.
    """
    alike, pairs = np.zeros(MOST_DOTS + 1), np.zeros(MOST_DOTS + 1)
    for flank, points in flanks:
        u, v = points[:, 0], points[:, 1]
        along = (u - flank.u0) * math.cos(flank.turn) + (v - flank.v0) * math.sin(flank.turn)
        order = np.argsort(along)
        at = np.arange(along[order[0]], along[order[-1]], dot)
        if len(at) < 8 or flank.scatter <= 0.0:
            continue
        most = MOST_SCATTER * flank.scatter
        off = np.interp(at, along[order], np.clip(flank.off(u, v), -most, most)[order]) / flank.scatter
        for lag in range(min(MOST_DOTS, len(off) - 1) + 1):
            alike[lag] += float(off[: len(off) - lag] @ off[lag:])
            pairs[lag] += len(off) - lag
    if pairs[0] == 0.0 or alike[0] <= 0.0:
        return least
    share = (alike / np.maximum(pairs, 1.0)) / (alike[0] / pairs[0])
    none = np.flatnonzero(share < NO_LIKENESS)
    last = int(none[0]) if len(none) else MOST_DOTS + 1
    return max(least, dot * (1.0 + 2.0 * float(share[1:last].sum())))


def restated(flank: Flank, before: float, apart: float) -> Flank:
    """``flank``, stated for points independent over ``before`` mm, stated for points independent over ``apart`` mm."""
    more = math.sqrt(free_places(flank.length, before) / free_places(flank.length, apart))
    return replace(flank, se_turn=flank.se_turn * more, se_off=flank.se_off * more)


def free_places(length: float, apart: float) -> float:
    """How many independent places of a line are left over ``length`` mm: two it takes itself, one its scatter."""
    return max(1.5, length / apart - 3.0)
