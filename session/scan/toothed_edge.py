"""Whether an edge that winds is a line of teeth: its ups and downs come evenly, and about as high."""

from __future__ import annotations

from itertools import pairwise
from statistics import median
from typing import Final

import numpy as np

from session.scan.light_levels import Floats
from session.scan.outline_teeth import rises

#: The fewest ups and downs that tell.
FEWEST: Final = 4

#: A space is as the others where it is off the middle one of those around it by less than this share.
ALIKE: Final = 0.3

#: So many of the spaces are as the others where there are teeth, hairs and stumps among them (our own limit).
MOST: Final = 0.5


def is_toothed(u: Floats, v: Floats) -> bool:
    """Whether the edge through these points, in order and in mm along and across it, is a line of teeth."""
    low, high = np.percentile(v, (5, 95))
    places = sorted(rise.u for rise in rises(np.column_stack([u, v]), float(high - low)))
    spaces = [other - one for one, other in pairwise(places)]
    if len(spaces) < FEWEST:
        return False
    even = 0
    for at, space in enumerate(spaces):
        usual = median(spaces[max(0, at - 3) : at + 4])
        even += abs(space - usual) < ALIKE * usual
    return even >= MOST * len(spaces)
