"""A three-cornered saw file seen from its tang: its corners by their numbers, and which way it is turned on."""

from __future__ import annotations

import math

from session.pictures.filled_shapes import Solid
from session.pictures.materials import FILE
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet


def file_corners(width: int, height: int, *, face: str = "", ascii: bool = False) -> Rows:
    """The section with its corners 1, 2 and 3, the one that works below, and how wide a face is. Best from 22 × 8 on.

    face: its width with the unit; empty where none is known. Raises PictureError for an impossible room.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    captions = 1 if height >= 6 else 0
    top, low = 2.0, 2.0 * (height - captions) - 2.5
    side = min((low - top) / (math.sqrt(3) / 2), width * 0.6)
    middle, foot = width / 2, top + side * math.sqrt(3) / 2
    file = Solid(width, height)
    file.fill([(middle, foot), (middle - side / 2, top), (middle + side / 2, top)])
    file.lay(sheet, FILE, ascii=ascii)
    # Beside the slanting face, under corner 2, which comes down next.
    at, row = round(middle + side / 6) + 3, int((top + 2 * foot) / 6)
    worn = first_that_fits(max(0, width - at), ("1 worn? a third of a turn:", "1 worn? 1/3 turn", "1 worn:", ""))
    down = "2 down v" if ascii else "2 down ▼"
    sheet.put(at, row, worn, Role.LABEL)
    sheet.put(min(width - len(down), at), row + 1, down, Role.ARROW)
    left, right = round(middle - side / 2), round(middle + side / 2)
    sheet.put(max(0, left - 2), 1, "3", Role.STRONG)
    sheet.put(right + 1, 1, "2", Role.STRONG)
    _face(sheet, left, right, face, ascii)
    sheet.put_centered(middle, min(height - 1, int(foot / 2) + 1), "1 in the gullet", Role.STRONG)
    if captions:
        said = ("measured mid-length; seen from its tang", "seen from its tang", "from its tang")
        sheet.put_centered(middle, height - 1, first_that_fits(width, said), Role.LABEL)
    return sheet.rows()


def _face(sheet: Sheet, left: int, right: int, face: str, ascii: bool) -> None:
    """Over the upper face, from corner to corner, what is called a face, with its width where that is known."""
    back, forth, line = ("<", ">", "-") if ascii else ("◀", "▶", "─")
    words = first_that_fits(max(0, right - left - 4), (f" face {face} " if face else " face ", " face ", ""))
    rest = max(0, right - left - 2 - len(words))
    sheet.put(left, 0, f"{back}{line * (rest // 2)}{words}{line * (rest - rest // 2)}{forth}", Role.LABEL)
