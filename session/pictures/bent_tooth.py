"""Setting seen along the tooth line: how far one tooth is bent, how deep the bend goes, and its neighbor."""

from __future__ import annotations

import math
from typing import Final

from session.pictures.filled_shapes import Point, Solid
from session.pictures.materials import BEHIND
from session.pictures.picture_rows import PictureError, Role, Rows, check_room
from session.pictures.sheet import Sheet

#: A bend is drawn at least this wide, units; to scale it would often be less than half a cell.
_LEAST_BEND: Final = 2.0


def setting(
    depth_mm: float,
    plate_mm: float,
    set_mm: float,
    bent_share: float,
    width: int,
    height: int,
    *,
    leans_away: bool = True,
    ascii: bool = False,
) -> Rows:
    """One tooth in section, the person on the left, so that a tooth leaning away leans to the right.

    depth_mm: of the tooth; plate_mm: thickness; set_mm: bend of the point to one side; all above 0.
    bent_share: how much of the depth is bent, from the point, above 0 to 1. The bend is drawn larger
    than it is where the scale would hide it, and says so. Best from 30 × 10 on.
    Raises PictureError for measures outside these.
    """
    check_room(width, height)
    for name, mm in (("depth", depth_mm), ("plate thickness", plate_mm), ("set", set_mm)):
        if not (math.isfinite(mm) and mm > 0):
            raise PictureError(f"{name} {mm:g} mm: allowed is a length above 0")
    if not 0 < bent_share <= 1:
        raise PictureError(f"bent share {bent_share:g}: allowed are above 0 to 1")
    captions = 2 if height >= 8 else 0
    tooth_rows = max(1.0, (height - captions) * 0.72)
    scale = min(2 * tooth_rows / depth_mm, width * 0.3 / plate_mm)
    depth, plate, true_bend = depth_mm * scale, plate_mm * scale, set_mm * scale
    bend = min(max(true_bend, _LEAST_BEND), width * 0.2)
    middle, top = width / 2, 1.0 if captions else 0.0
    away = 1 if leans_away else -1
    sheet = Sheet(width, height)
    foot = 2.0 * (height - captions)
    tooth, other = (_section(middle, plate, top, depth * bent_share, foot, bend * way) for way in (away, -away))
    steel = Solid(width, height)
    steel.fill(tooth)
    steel.draw(sheet, Role.STEEL, ascii=ascii)
    behind = Solid(width, height)
    behind.fill(other)
    behind.lay(sheet, BEHIND, ascii=ascii, over=False)
    if captions:
        _captions(
            sheet,
            int((top + depth * bent_share) / 2),
            int((top + depth) / 2),
            bend > true_bend * 1.05,
            leans_away,
            ascii,
        )
    return sheet.rows()


def _section(middle: float, plate: float, top: float, bent: float, foot: float, bend: float) -> list[Point]:
    """The plate's section from its foot up to the bend and on to the point."""
    left, right = middle - plate / 2, middle + plate / 2
    return [
        (left, foot),
        (left, top + bent),
        (left + bend, top),
        (right + bend, top),
        (right, top + bent),
        (right, foot),
    ]


def _captions(sheet: Sheet, bend_row: int, gullet_row: int, enlarged: bool, leans_away: bool, ascii: bool) -> None:
    width, height = sheet.width, sheet.height
    left, right = ("<-", "->") if ascii else ("◀", "▶")
    rule = "-" if ascii else "─"
    for row, text in ((bend_row, " bend from here up"), (gullet_row, " gullet")):
        if row < height - 2 and len(text) + 1 < width / 2 - 4:
            at = width - len(text)
            for x in range(at):
                if sheet.char(x, row) == " " and x > width // 2:
                    sheet.put(x, row, rule, Role.FRAME)
            sheet.put(at, row, text, Role.LABEL)
    way = f"away from you {right}" if leans_away else f"{left} toward you"
    sheet.put_centered(width / 2, height - 2, way, Role.STRONG)
    if enlarged:
        sheet.put_centered(width / 2, height - 1, "bend drawn larger than it is", Role.LABEL)
    sheet.put(0, 0, "you", Role.LABEL)
