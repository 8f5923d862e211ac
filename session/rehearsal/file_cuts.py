"""Cuts of a file through a simulated plate, as straight lines in its middle plane: plane geometry of the judge's own.

Nothing here knows `session.trade`, so that an error there cannot hide by being made twice. A cut is where a face of the
file crosses the nominal line of points, in mm from the heel, and how far it goes toward the toe for each mm of height:
fronts lean toward the heel, so that their cuts go back with height, and backs toward the toe. What many cuts leave of a
tooth lies behind the foremost of them at each height. A file that is turned by fleam shifts its section along the line
through the plate and leaves the area as it is, so that an area in the middle plane, times the plate, is steel.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations
from typing import Final

#: Where it crosses the nominal line, in mm, and how far it goes toward the toe for each mm of height.
Cut = tuple[float, float]

#: The angle of the file between its faces, in degrees: it is equilateral.
_FILE_DEG: Final = 60.0

#: How near a stroke's steel comes to what its bite says, as a share of it.
NEAR: Final = 1e-3

_NOTHING: Final = 1e-12


def leans(rake: float, fleam: float, slope: float, *, to_toe: bool = True) -> tuple[float, float]:
    """How far front and back lean from upright in the middle plane, as tangents, both for a positive lean.

    Angles in degrees, as the guide block holds the file. Each face of the file holds the file's axis and one direction
    up its flank; where it meets the middle plane follows by going along the axis until the plane is reached again.
    """
    turned, tipped = math.radians(fleam if to_toe else -fleam), math.radians(slope)

    def held(x: float, y: float, z: float) -> tuple[float, float, float]:
        y, z = y * math.cos(tipped) - z * math.sin(tipped), y * math.sin(tipped) + z * math.cos(tipped)
        return x * math.cos(turned) + y * math.sin(turned), y * math.cos(turned) - x * math.sin(turned), z

    axis = held(0.0, 1.0, 0.0)
    found = []
    for sign, degrees in ((-1.0, rake), (1.0, _FILE_DEG - rake)):
        up = held(sign * math.sin(math.radians(degrees)), 0.0, math.cos(math.radians(degrees)))
        along = up[1] / axis[1]
        found.append(sign * (up[0] - along * axis[0]) / (up[2] - along * axis[2]))
    return found[0], found[1]


def at(cut: Cut, height: float) -> float:
    """Where ``cut`` is at ``height``, in mm along the line."""
    return cut[0] + cut[1] * height


def mirrored(cuts: Sequence[Cut]) -> list[Cut]:
    """Backs as fronts, and fronts as backs: the line looked at from its other end."""
    return [(-x, -slope) for x, slope in cuts]


def meeting(fronts: Sequence[Cut], backs: Sequence[Cut]) -> float:
    """The height at which fronts and backs first meet: of one tooth its apex; of one gullet, fronts behind it and backs
    ahead of it, its floor."""
    return min((front[0] - back[0]) / (back[1] - front[1]) for front in fronts for back in backs)


def touching(fronts: Sequence[Cut], slope: float, low: float, top: float) -> float:
    """Where a face of that slope crosses the nominal line when it just touches the front between two heights."""
    heights = [low, top, *_kinks(fronts, low, top)]
    return max(min(at(cut, height) for cut in fronts) - slope * height for height in heights)


def shaved(fronts: Sequence[Cut], backs: Sequence[Cut], new: Cut, low: float, top: float) -> float:
    """The area in mm² that ``new`` takes off a tooth between two heights: in front of it, behind its fronts, and no
    farther back than its own back."""
    if top <= low:
        return 0.0
    both = [*backs, new]
    heights = sorted([low, top, *_kinks([*fronts, *both], low, top)])
    widths = [
        max(0.0, min(at(cut, height) for cut in fronts) - max(at(cut, height) for cut in both)) for height in heights
    ]
    return sum((heights[k + 1] - heights[k]) * (widths[k] + widths[k + 1]) / 2.0 for k in range(len(heights) - 1))


def pruned(fronts: Sequence[Cut], low: float, top: float) -> list[Cut]:
    """The cuts that are foremost somewhere between two heights; the first one stays in any case, and stands first."""
    kept = {0}
    for height in (low, top, *_kinks(fronts, low, top)):
        kept.add(min(range(len(fronts)), key=lambda k: at(fronts[k], height)))
    return [cut for k, cut in enumerate(fronts) if k in kept]


def _kinks(cuts: Sequence[Cut], low: float, top: float) -> list[float]:
    found = []
    for one, other in combinations(cuts, 2):
        if abs(one[1] - other[1]) > _NOTHING:
            height = (other[0] - one[0]) / (one[1] - other[1])
            if low < height < top:
                found.append(height)
    return found
