"""The guide block seen from its end, as it is held on each side, and its turn when the saw is turned."""

from __future__ import annotations

import math
from functools import partial
from typing import Final

from session.pictures.before_after import before_and_after
from session.pictures.filled_shapes import Point, Solid
from session.pictures.materials import FILE, HANDLE, WOOD
from session.pictures.picture_rows import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet

#: Least rows and cells from which the file is seen from its side too.
_SIDE_FROM: Final = 10
_WIDE_FROM: Final = 26


def block(rake: float, side: int, width: int, height: int, *, ascii: bool = False) -> Rows:
    """The block held level on the file, seen from the file's handle; its lower corner goes into the gullet.

    rake: degrees the face at the heel leans back from square, -30 … 60. Side 2 is the mirror image of side 1: pulled
    off and turned end for end, the same edge up. In a higher room the file is seen from its side too, the block near
    its tip. Best from 20 × 8 on. Raises PictureError for an impossible rake, side
    or room.
    """
    check_room(width, height)
    _check(rake, side)
    sheet = Sheet(width, height)
    beside = 1 if height >= _SIDE_FROM and width >= _WIDE_FROM else 0
    captions = (2 if height >= 8 else 1 if height >= 5 else 0) + beside
    box_height = height - captions
    box_width = min(width, 2 * box_height + 4)
    left = (width - box_width) // 2
    _box(sheet, left, 0, box_width, box_height, ascii)
    file = Solid(width, height)
    file.fill(file_in_block(rake, width / 2, float(box_height), min(box_height - 2.2, (box_width - 3) / 2)))
    file.lay(sheet, FILE, ascii=ascii, over=False)
    if side == 1:
        sheet.flip()
    if beside:
        _on_its_tip(sheet, height - 3, ascii)
    if captions >= 2:
        degrees = " deg" if ascii else "°"
        text = first_that_fits(width, (f"top level, rake {rake:g}{degrees}", f"rake {rake:g}{degrees}"))
        sheet.put_centered(width / 2, height - 2, text, Role.STRONG)
    if captions:
        near_left, near_right = ("toe", "heel") if side == 1 else ("heel", "toe")
        back, forth = "<>" if ascii else "◀▶"
        gap = max(1, width - len(near_left) - len(near_right) - 4)
        text = f"{back} {near_left}{' ' * gap}{near_right} {forth}"
        sheet.put(0, height - 1, text if len(text) <= width else near_left[:width], Role.LABEL)
    return sheet.rows()


def turn(rake: float, from_side: int, width: int, height: int, *, ascii: bool = False) -> Rows:
    """The block before and after the turn; best from 46 × 9 on. Raises as ``block`` does."""
    check_room(width, height)
    _check(rake, from_side)
    return before_and_after(partial(block, rake, ascii=ascii), from_side, width, height, ascii=ascii)


def file_in_block(rake: float, x: float, y: float, radius: float) -> tuple[Point, Point, Point]:
    """The file's three corners about (x, y), the one for the gullet first, the toe on the right. Units."""
    # The corner's two faces lean `rake` back on the heel side and 60 - rake on the toe side, so the line
    # from the middle of the file to that corner is turned by 30 - rake from plumb.
    down = math.radians(30 - rake)
    turned = (down, down + 2 * math.pi / 3, down - 2 * math.pi / 3)
    first, second, third = ((x - radius * math.sin(a), y + radius * math.cos(a)) for a in turned)
    return first, second, third


def _on_its_tip(sheet: Sheet, row: int, ascii: bool) -> None:
    """The file from its side, its handle on the left, with the block near its tip."""
    handle, file, block_on = (material.cell(ascii=ascii) for material in (HANDLE, FILE, WOOD))
    long = min(14, sheet.width - 16)
    left = (sheet.width - long - 14) // 2
    for text, role in (
        (handle * 3, Role.HANDLE),
        (file * long, Role.FILE),
        (block_on * 4, Role.BLOCK),
        (file, Role.FILE),
        (" tip", Role.LABEL),
    ):
        sheet.put(left, row, text, role)
        left += len(text)


def _box(sheet: Sheet, x: int, y: int, width: int, height: int, ascii: bool) -> None:
    if width < 3 or height < 3:
        return
    line, side, corners = ("-", "|", "++++") if ascii else ("─", "│", "┌┐└┘")
    sheet.put(x, y, corners[0] + line * (width - 2) + corners[1], Role.BLOCK)
    for row in range(y + 1, y + height - 1):
        sheet.put(x, row, side, Role.BLOCK)
        sheet.put(x + width - 1, row, side, Role.BLOCK)
    # The edge that stays up: upside down the block would hold the negative of its rake.
    marks = 2 - width % 2
    sheet.put(x + (width - marks) // 2, y, ("^" if ascii else "▲") * marks, Role.BLOCK)
    sheet.put(x, y + height - 1, corners[2] + line * (width - 2) + corners[3], Role.BLOCK)


def _check(rake: float, side: int) -> None:
    if not -30 <= rake <= 60:
        raise PictureError(f"rake {rake:g} degrees: allowed are -30 to 60")
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (handle on the right) and 2 (handle on the left)")
