"""A wide flat read by its own edge: from corner to corner it is a line as a flank is.

The widths that `tooth_tops` sums are of all the light between two flanks, and what lies over a flat, a shadow or a
mottled cloth, makes of it something else. The edge of a flat is where steel and cloth share a dot, whatever lies
further out. It is read where enough of it is free of the blur of its corners; a narrower top is left to the widths.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from session.scan.flank_lines import Flank, fit_flank
from session.scan.light_levels import Floats
from session.scan.outline_teeth import Rise
from session.value_class import dataclass

#: So far from its corners a flat's edge is free of them: in sigmas of the blur (of a corner less than a hundredth of a
#: sigma is left there), and by half a dot.
CLEAR_BLURS: Final = 2.0
CLEAR_DOTS: Final = 0.5

#: The fewest dots of free edge that are a line.
FREE_DOTS: Final = 6.0

#: A top that slants by more is none that a file or wear leaves, degrees; nor is one that leaves its line by more than
#: so many dots, or times as far as the flanks leave theirs (our own limits).
MOST_SLANT_DEG: Final = 15.0
RAGGED_DOTS: Final = 1.2
RAGGED_TIMES: Final = 4.0


@dataclass(frozen=True, slots=True)
class FlatEdge:
    """The edge of a flat. v: height of its middle, mm; se: its standard uncertainty. ragged: whether it is no straight
    level line, as a break is not."""

    v: float
    se: float
    ragged: bool


def flat_edge(
    rise: Rise, back: Flank, front: Flank, peak: tuple[float, float], blur: float, dot: float, apart: float
) -> FlatEdge | None:
    """The flat between two flanks that meet at ``peak`` (u, v); None where it is too narrow to be read so, or none.

    blur: sigma of the point spread; apart: mm along an edge over which its places are independent; lengths in mm.
    """
    part = rise.chain[rise.left : rise.right + 1]
    runs = math.cos(back.turn) / math.sin(back.turn), -math.cos(front.turn) / math.sin(front.turn)
    margin = CLEAR_BLURS * blur + CLEAR_DOTS * dot
    height: float | None = None
    line: Flank | None = None
    for _ in range(3):
        inner = _between(part, peak, runs, rise.v if height is None else height, margin, dot)
        if inner is None:
            return None
        # Whatever sticks out of the edge is not to say where it lies: the middle one of the heights is near enough.
        if height is None:
            height = float(np.median(inner[:, 1]))
            continue
        line = fit_flank(inner, apart)
        if line is None:
            return None
        middle = peak[0] + (peak[1] - height) * (runs[1] - runs[0]) / 2.0
        height = line.v0 + math.tan(line.turn) * (middle - line.u0)
    assert height is not None
    assert line is not None
    inner = _between(part, peak, runs, height, margin, dot)
    if inner is None:
        return None
    off = line.off(inner[:, 0], inner[:, 1])
    slant = abs(math.degrees(math.remainder(line.turn, math.pi)))
    usual = max(RAGGED_DOTS * dot, RAGGED_TIMES * max(back.scatter, front.scatter))
    ragged = slant > MOST_SLANT_DEG or float(np.median(np.abs(off))) * 1.4826 > usual or float(np.std(off)) > 2 * usual
    return FlatEdge(height, line.se_off, ragged)


def _between(
    part: Floats, peak: tuple[float, float], runs: tuple[float, float], height: float, margin: float, dot: float
) -> Floats | None:
    """The points of an edge between the corners of a flat at ``height``, so far from both; None of too few."""
    drop = peak[1] - height
    begin, end = peak[0] - drop * runs[0] + margin, peak[0] + drop * runs[1] - margin
    if end - begin < FREE_DOTS * dot:
        return None
    inner = part[(part[:, 0] > begin) & (part[:, 0] < end)]
    return inner if len(inner) >= FREE_DOTS else None
