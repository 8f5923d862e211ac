"""The light beside a flank, by which its edge is moved to where a dot is half steel.

An edge is followed by the light along the whole line. A shadow beside it, a bevel inside it, rust or mottle give cloth
and steel another light there; what was taken for half a dot of steel is less or more, and blur makes that a distance.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from session.scan.fine_contour import Band
from session.scan.flank_lines import Flank
from session.value_class import replace

#: Where the light beside an edge is taken, in sigmas of the blur off it: clear of the edge, and no farther than needed.
NEAREST, FARTHEST = 2.5, 5.0

#: The fewest dots that tell it, and by how much of a share it may be another: what is more lies there.
FEWEST: Final = 20
MOST_OTHER: Final = 0.4

#: How much of the move is in doubt, since the light under the edge itself is not seen (our own guess).
DOUBTED: Final = 0.5


def moved(band: Band, flank: Flank, blur: float) -> Flank:
    """``flank`` where half of a dot is steel by the light beside it, turned where that changes along it, with what is
    in doubt about it. blur: sigma of the point spread, mm."""
    half = 0.5 * flank.length
    cut = band.cutting(*flank.beside(half, FARTHEST * blur))
    if cut is None:
        return flank
    cos, sin = math.cos(flank.turn), math.sin(flank.turn)
    off = flank.off(cut.u, cut.v) / blur
    along = flank.ways(cut.u, cut.v)
    moves = []
    for part in ((along > -half) & (along < 0.0), (along >= 0.0) & (along < half)):
        cloth = cut.shares[part & (off > NEAREST) & (off < FARTHEST)]
        steel = cut.shares[part & (off < -NEAREST) & (off > -FARTHEST)]
        if min(len(cloth), len(steel)) < FEWEST:
            return flank
        low, high = float(np.median(cloth)), float(np.median(steel))
        if abs(low) > MOST_OTHER or abs(high - 1.0) > MOST_OTHER:
            return flank
        # Near its middle a blurred edge is straight, of a slope of one in the square root of two pi.
        moves.append(blur * math.sqrt(2.0 * math.pi) * (0.5 - (0.5 - low) / (high - low)))
    inward, turned = sum(moves) / 2.0, math.atan((moves[0] - moves[1]) / half)
    return replace(
        flank,
        u0=flank.u0 + inward * sin,
        v0=flank.v0 - inward * cos,
        turn=flank.turn + turned,
        se_off=math.hypot(flank.se_off, DOUBTED * inward),
        se_turn=math.hypot(flank.se_turn, DOUBTED * turned),
    )
