"""How the edge of the plate comes into a picture and leaves it: whether the line of teeth is seen to its ends."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median
from typing import Final

import numpy as np

from session.scan.fine_contour import Band
from session.scan.light_levels import Floats
from session.scan.outline_teeth import Rise
from session.trade.rounding import whole_number

#: So near to the picture's rim an edge ends because the picture does, dots.
NEAR_RIM: Final = 3.0

#: The plate ends where its edge goes down under the gullets by more than this share of the teeth's depth.
UNDER: Final = 0.3


def spot(band: Band, u: float, v: float) -> tuple[int, int]:
    """Column and row of a place in the picture as it was read."""
    columns, rows = band.picture_place(np.array([u]), np.array([v]))
    return whole_number(float(columns[0])), whole_number(float(rows[0]))


def at_rim(band: Band, point: Floats) -> bool:
    """Whether a point (u, v) lies at the picture's rim."""
    column, row = spot(band, float(point[0]), float(point[1]))
    height, width = band.dots.shape
    return not (NEAR_RIM <= column < width - NEAR_RIM and NEAR_RIM <= row < height - NEAR_RIM)


def edge_ends(band: Band, chains: Sequence[Floats], found: Sequence[Rise]) -> tuple[str, str]:
    """How the edge ends on the left and on the right: at the picture's "rim", by going down where the "plate" ends, or
    "open", where something cut it."""
    gullets = [float(one.chain[at, 1]) for one in found for at in (one.left, one.right) if 0 < at < len(one.chain) - 1]
    if not gullets:
        return "open", "open"
    level = median(gullets)
    deep = median(one.v for one in found) - level
    first = min((chain[0] for chain in chains), key=lambda point: float(point[0]))
    last = max((chain[-1] for chain in chains), key=lambda point: float(point[0]))
    left, right = (
        "rim" if at_rim(band, point) else "plate" if point[1] < level - UNDER * deep else "open"
        for point in (first, last)
    )
    return left, right
