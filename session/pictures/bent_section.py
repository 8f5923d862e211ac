"""The plate in section, seen along the tooth line: straight up from its foot, bent near the point to one side."""

from __future__ import annotations

import math
from typing import Final

from session.pictures.filled_shapes import Point, Solid
from session.pictures.materials import BEHIND, STEEL, Material
from session.pictures.picture_rows import PictureError
from session.pictures.sheet import Sheet
from session.value_class import dataclass

#: A bend is drawn at least this wide, units; to scale it would often be less than half a cell.
LEAST_BEND: Final = 2.0


@dataclass(frozen=True, slots=True)
class BentSection:
    """The section in units: its middle from the left, its top from above, how thick, deep and bent it is.

    bent: from the point down to where the bend begins. bend: how far the point goes to one side. depth: of the tooth,
    from the point to the gullet. foot: where the plate is cut off below. enlarged: whether the bend is larger than it
    would be to the scale of the rest.
    """

    middle: float
    top: float
    plate: float
    bent: float
    bend: float
    depth: float
    foot: float
    enlarged: bool

    def corners(self, way: int) -> list[Point]:
        """The tooth bent to the right (1) or to the left (-1), from its foot around the point and back."""
        left, right, out = self.middle - self.plate / 2, self.middle + self.plate / 2, self.bend * way
        return [
            (left, self.foot),
            (left, self.top + self.bent),
            (left + out, self.top),
            (right + out, self.top),
            (right, self.top + self.bent),
            (right, self.foot),
        ]

    def draw(self, sheet: Sheet, way: int, *, ascii: bool) -> None:
        """Put the tooth bent ``way`` on the sheet; its neighbor stands behind it."""
        _laid(sheet, self.corners(way), STEEL, ascii=ascii, over=True)

    def draw_behind(self, sheet: Sheet, way: int, *, ascii: bool) -> None:
        """Put the neighbor on the sheet, bent ``way``, where nothing stands before it."""
        _laid(sheet, self.corners(way), BEHIND, ascii=ascii, over=False)


def _laid(sheet: Sheet, corners: list[Point], material: Material, *, ascii: bool, over: bool) -> None:
    solid = Solid(sheet.width, sheet.height)
    solid.fill(corners)
    solid.lay(sheet, material, ascii=ascii, over=over)


def bent_section(
    depth_mm: float,
    plate_mm: float,
    set_mm: float,
    bent_share: float,
    *,
    middle: float,
    top: float,
    foot: float,
    widest_plate: float,
    widest_bend: float,
    shown: float = 1.4,
) -> BentSection:
    """The section of a tooth so deep, of a plate so thick, whose point is set so far to one side; all above 0.

    bent_share: how much of the depth is bent, from the point, above 0 to 1. middle, top, foot: where it is drawn, in
    units, as large as there is room for; shown: how many times its depth fits between top and foot. Raises PictureError
    for measures outside these.
    """
    for name, mm in (("depth", depth_mm), ("plate thickness", plate_mm), ("set", set_mm)):
        if not (math.isfinite(mm) and mm > 0):
            raise PictureError(f"{name} {mm:g} mm: allowed is a length above 0")
    if not 0 < bent_share <= 1:
        raise PictureError(f"bent share {bent_share:g}: allowed are above 0 to 1")
    scale = min((foot - top) / (shown * depth_mm), widest_plate / plate_mm)
    true_bend = set_mm * scale
    bend = min(max(true_bend, LEAST_BEND), widest_bend)
    return BentSection(
        middle=middle,
        top=top,
        plate=plate_mm * scale,
        bent=depth_mm * scale * bent_share,
        bend=bend,
        depth=depth_mm * scale,
        foot=foot,
        enlarged=bend > true_bend * 1.05,
    )
