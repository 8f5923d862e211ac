"""Dressing: the saw flat on the bench with its points over the edge, the stone flat along the teeth. No vise."""

from __future__ import annotations

from functools import partial
from typing import Final

from session.pictures.before_after import before_and_after
from session.pictures.materials import FILE, HANDLE, JAW, STEEL
from session.pictures.picture_rows import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet
from session.trade.sides import goes_left

#: From this height on the section over the bench's edge is drawn too.
_SECTION_FROM: Final = 9


def dressing(side: int, to_toe: bool, width: int, height: int, *, ascii: bool = False) -> Rows:
    """The stone on the teeth from above, the person at the lower edge, and from the end. Best from 28 × 9 on.

    side: 1 handle on the right, 2 on the left. to_toe: the stone goes from the heel to the toe. Raises PictureError for
    an impossible side or room.
    """
    check_room(width, height)
    _check(side)
    sheet = Sheet(width, height)
    _from_above(sheet, ascii, stone=True)
    if side == 2:
        sheet.flip()
    to_left = goes_left(to_toe, side)
    arrow = ("<===" if to_left else "===>") if ascii else ("◀═══" if to_left else "═══▶")
    words = first_that_fits(width - 5, ("stone flat along the teeth", "stone along the teeth", "stone"))
    sheet.put_centered(width / 2, 0, f"{arrow} {words}" if to_left else f"{words} {arrow}", Role.ARROW)
    row = 5 if height >= 6 else 4
    _ends(sheet, side, row, ascii)
    if height >= _SECTION_FROM:
        _over_the_edge(sheet, row + 1, ascii)
    return sheet.rows()


def turned_over(from_side: int, width: int, height: int, *, ascii: bool = False) -> Rows:
    """The saw lying flat before and after it is turned over; best from 36 × 8 on. Raises as ``dressing`` does."""
    _check(from_side)
    return before_and_after(partial(_lying, ascii=ascii), from_side, width, height, ascii=ascii)


def _lying(side: int, width: int, height: int, *, ascii: bool) -> Rows:
    """The saw alone, flat, the points away from the person."""
    check_room(width, height)
    sheet = Sheet(width, height)
    _from_above(sheet, ascii, stone=False)
    if side == 2:
        sheet.flip()
    told = first_that_fits(width, ("points away from you", "points away", "away"))
    sheet.put_centered(width / 2, 0, told, Role.STRONG)
    _ends(sheet, side, min(height - 1, 5), ascii)
    return sheet.rows()


def _from_above(sheet: Sheet, ascii: bool, *, stone: bool) -> None:
    """Teeth at the upper edge of the plate, the handle on the right, the stone on the teeth."""
    grip = max(3, min(8, sheet.width // 6))
    end = sheet.width - grip
    sheet.put(1, 1, ("^" if ascii else "▲") * (end - 1), Role.STEEL)
    for row in (2, 3):
        sheet.put(1 if row == 2 else 1 + end // 6, row, STEEL.cell(ascii=ascii) * (end - 1), STEEL.role)
    wood = HANDLE.cell(ascii=ascii)
    for row in (2, 3, 4):
        held = wood + " " * (grip - 2) + wood if row == 3 and grip >= 4 else wood * grip
        sheet.put(end, row, held, HANDLE.role)
        sheet.put(end - 1, row, " ", Role.PLAIN)
    if stone:
        long = max(4, end // 3)
        for row in (1, 2):
            sheet.put(end // 3, row, FILE.cell(ascii=ascii) * long, FILE.role)


def _ends(sheet: Sheet, side: int, row: int, ascii: bool) -> None:
    near_left, near_right = ("toe", "handle") if side == 1 else ("handle", "toe")
    back, forth = "<>" if ascii else "◀▶"
    sheet.put(0, row, f"{back} {near_left}", Role.LABEL)
    sheet.put(sheet.width - len(near_right) - 2, row, f"{near_right} {forth}", Role.LABEL)


def _over_the_edge(sheet: Sheet, row: int, ascii: bool) -> None:
    """From the end: bench, plate and stone, the person on the left and the points over the bench's far edge."""
    width, height = sheet.width, sheet.height
    edge = round(width * 0.62)
    points = edge + max(2, width // 12)
    sheet.put(
        edge - max(3, width // 8), row, FILE.cell(ascii=ascii) * (points - edge + max(3, width // 8) + 1), FILE.role
    )
    sheet.put(2, row + 1, STEEL.cell(ascii=ascii) * (points - 2), STEEL.role)
    sheet.put(points, row + 1, ">" if ascii else "▶", STEEL.role)
    for y in range(row + 2, height):
        sheet.put(0, y, JAW.cell(ascii=ascii) * edge, JAW.role)
    room = width - points - 3
    for y, words in ((row, ("stone",)), (row + 1, ("points", "")), (row + 2, ("over the edge", "over it", ""))):
        text = first_that_fits(room, words)
        if y < height:
            sheet.put(points + 3, y, text, Role.STRONG)
    sheet.put(0, row, "you", Role.LABEL)
    if row + 2 < height:
        sheet.put(1, row + 2, " bench ", Role.LABEL)


def _check(side: int) -> None:
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (handle on the right) and 2 (handle on the left)")
