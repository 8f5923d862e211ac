"""A three-cornered saw file seen from its tang: its corners by their numbers, and which way it is rolled on."""

from __future__ import annotations

import math

from session.pictures.filled_shapes import Solid
from session.pictures.materials import FILE
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet


def file_corners(width: int, height: int, *, face: str = "", ascii: bool = False) -> Rows:
    """The section with its corners 1, 2 and 3; the one that works is below. Best from 22 × 8 on.

    face: its width with the unit; empty where none is known. Raises PictureError for an impossible room.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    captions = 1 if height >= 6 else 0
    top, low = 1.0, 2.0 * (height - captions) - 2.5
    side = min((low - top) / (math.sqrt(3) / 2), width * 0.6)
    middle, foot = width / 2, top + side * math.sqrt(3) / 2
    file = Solid(width, height)
    file.fill([(middle, foot), (middle - side / 2, top), (middle + side / 2, top)])
    file.lay(sheet, FILE, ascii=ascii)
    roll = "roll --->" if ascii else "roll ───▶"
    sheet.put(min(width - len(roll), round(middle + side / 6) + 3), int((top + 2 * foot) / 6), roll, Role.ARROW)
    sheet.put(max(0, round(middle - side / 2) - 2), 0, "3", Role.STRONG)
    sheet.put(round(middle + side / 2) + 1, 0, "2", Role.STRONG)
    sheet.put_centered(middle, min(height - 1, int(foot / 2) + 1), "1 works", Role.STRONG)
    if captions:
        told = first_that_fits(
            width, (f"from its tang; face {face}" if face else "seen from its tang", "from its tang")
        )
        sheet.put_centered(middle, height - 1, told, Role.LABEL)
    return sheet.rows()
