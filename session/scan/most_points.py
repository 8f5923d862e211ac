"""A line through most of the points, whatever the others do, be they at its very end.

Of all parabolas through three points, one from each third of the line, the one from which two thirds of the points are
least far off (least quantile of squares, P. Rousseeuw 1984): a third of them may stand anywhere and does not turn it.
"""

from __future__ import annotations

import itertools
from typing import Final

import numpy as np

from session.scan.light_levels import Floats

#: So large a share of the points has to be near.
MOST: Final = 2.0 / 3.0

#: So many of each third are tried.
TRIED: Final = 9


def off_most_points(u: Floats, v: Floats) -> Floats:
    """How far points at places ``u``, in order, lie over the parabola that is near most of them, mm; three or more."""
    x = (u - u[0]) / max(1e-6, float(u[-1] - u[0]))
    thirds = [
        third[np.unique(np.linspace(0, len(third) - 1, min(TRIED, len(third))).round().astype(int))]
        for third in np.array_split(np.arange(len(u)), 3)
    ]
    trios = np.array(list(itertools.product(*thirds)))
    places, heights = x[trios], v[trios]
    powers = np.stack([np.ones_like(places), places, places**2], axis=-1)
    laid = np.linalg.solve(powers, heights[..., None])[..., 0]
    off = v[None, :] - laid @ np.stack([np.ones_like(x), x, x**2])
    near = np.sort(np.abs(off), axis=1)[:, min(len(u) - 1, int(MOST * len(u)))]
    best: Floats = off[int(np.argmin(near))]
    return best
