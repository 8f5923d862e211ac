"""Teeth drawn as polygons in the middle plane of the plate: a second way to what a flat and a gullet come to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

#: What each grade of an older log stands for, as a share of the pitch (session/log/FORMAT.md, "Marks").
OLD_GRADES = (0.0, 0.04, 0.10, 0.18, 0.30)

#: The same of a fine grade.
FINE_GRADES = (0.0, 0.01, 0.02, 0.04, 0.08, 0.16)

Point = tuple[float, float]


@dataclass(frozen=True)
class DrawnTooth:
    """A tooth by its pitch, the tangents of its two flanks from upright, and its plate; lengths in mm."""

    pitch: float
    front: float
    back: float
    plate: float

    def gullet(self, wide: float) -> list[Point]:
        """The corners of a gullet ``wide`` at the line: where its two flanks meet is its bottom."""
        # The flanks start at both edges of the gullet and lean toward each other, so many a unit of depth.
        deep = wide / (self.front + self.back)
        return [(0.0, 0.0), (deep * self.front, -deep), (wide, 0.0)]

    def deeper(self, narrow: float, wide: float) -> float:
        """How far the bottom of a gullet ``narrow`` at the line goes down until it is ``wide``."""
        return self.gullet(narrow)[1][1] - self.gullet(wide)[1][1]

    def between(self, narrow: float, wide: float) -> float:
        """Steel in mm³ that leaves a gullet ``narrow`` at the line until it is ``wide``."""
        return (_area(self.gullet(wide)) - _area(self.gullet(narrow))) * self.plate

    def came_down(self, share: float) -> float:
        """How far an even line comes down when flats of ``share`` of the pitch are filed out: the bottoms' distance."""
        return self.deeper(self.pitch * (1 - share), self.pitch)

    def steel(self, share: float) -> float:
        """Steel in mm³ that leaves a gullet between two flats of ``share`` of the pitch until the teeth are sharp."""
        return self.between(self.pitch * (1 - share), self.pitch)


def _area(corners: list[Point]) -> float:
    """The area of a polygon, by its corners one after another."""
    return abs(sum(x * y2 - x2 * y for (x, y), (x2, y2) in pairwise([*corners, corners[0]]))) / 2


#: The supplied panel saw: 8 points to the inch, No. 20 of the Birmingham gauge (0.035 in, HOLTZ p. 699), rake 15, fleam
#: 25. The flanks on the plate are those of the solid cut by a solid file, as tests/trade/test_tooth_laws.py has them.
PANEL = DrawnTooth(25.4 / 7, 0.29565, 1.10338, 0.035 * 25.4)


def square_filed(pitch: float, rake: float, plate: float) -> DrawnTooth:
    """A tooth filed straight across by a file of 60°."""
    return DrawnTooth(pitch, math.tan(math.radians(rake)), math.tan(math.radians(60 - rake)), plate)
