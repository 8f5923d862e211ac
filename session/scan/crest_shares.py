"""What share of steel the edge over the middle of a top is to have, for a flat so far under the meeting of its flanks.

The edge was followed where half of a dot is steel. Over a wide flat that is the flat's own height; over a narrow one
blur takes the edge down. So a place of the edge says how wide the flat is, whatever the light does further out.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from session.scan.light_levels import Floats

#: Blur reaches so many sigmas, and is summed in so many steps.
_REACH: Final = 4.0
_STEPS: Final = 48


def crest_shares(drops: Floats, seen: float, aside: float, runs: tuple[float, float], blur: float) -> Floats:
    """Shares of steel ``seen`` mm under the meeting of the flanks and ``aside`` mm beside it, toward the front, for
    flats that lie ``drops`` mm under it.

    runs: of back and front along the line for each mm of height. blur: sigma of the point spread, mm. A wedge cut off
    flat, blurred by a normal distribution along and across the line, which may be done one after the other.
    """
    # Depths under the meeting that blur brings to the place, and how much of each.
    deep = seen + blur * np.linspace(-_REACH, _REACH, _STEPS + 1)[None, :]
    weight = np.exp(-0.5 * ((deep - seen) / blur) ** 2)
    weight = weight / weight.sum()
    # Of the step that a flat cuts, the part under it counts.
    step = 2.0 * _REACH * blur / _STEPS
    under = np.clip((deep - drops[:, None]) / step + 0.5, 0.0, 1.0)
    wide = np.maximum(deep, 0.0)
    back, front = wide * runs[0] + aside, wide * runs[1] - aside
    across = np.maximum(0.0, normal_share(front / blur) - normal_share(-back / blur)) * (deep > 0.0)
    shares: Floats = (weight * under * across).sum(axis=1)
    return shares


def normal_share(x: Floats) -> Floats:
    """The normal distribution's share below x, to 1e-7 (Abramowitz and Stegun 26.2.17)."""
    t = 1.0 / (1.0 + 0.2316419 * np.abs(x))
    poly = t * (0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
    tail = np.exp(-0.5 * x * x) / math.sqrt(2.0 * math.pi) * poly
    share: Floats = np.where(x >= 0, 1.0 - tail, tail)
    return share
