"""Counting the points: a chalk mark at every twentieth, with the count so far and its place on a rule."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from session.pictures.materials import HANDLE, LIGHT
from session.pictures.picture_rows import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet

#: A chalk mark at every so many points (common practice, no source).
CHALKED: Final = 20


def chalk_marks(teeth: int, on_rule: Callable[[int], str], width: int, height: int, *, ascii: bool = False) -> Rows:
    """The line with its chalk marks, counted from the heel, which is on the right; under it where each mark stands.

    teeth: expected on the line, 1 and more. on_rule: the place of a tooth on a rule from the heel, with its unit.
    Best from 26 × 8 on. Raises PictureError for a line without a tooth and an impossible room.
    """
    check_room(width, height)
    if teeth < 1:
        raise PictureError(f"a line of {teeth} teeth: allowed are 1 and more")
    sheet = Sheet(width, height)
    marks = [*dict.fromkeys([*range(CHALKED, teeth + 1, CHALKED), teeth])]
    room = width - 4
    arrow = "<--" if ascii else "◀──"
    told = first_that_fits(
        width, (f"{arrow} count from the heel, the first is 1", f"{arrow} count from the heel", arrow)
    )
    sheet.put(width - len(told), 0, told, Role.ARROW)
    tooth = "^" if ascii else "▲"
    sheet.put(0, 2, tooth * room, Role.STEEL)
    sheet.put(0, 3, ("#" if ascii else "█") * room, Role.STEEL)
    sheet.put(room, 2, HANDLE.cell(ascii=ascii) * 3, HANDLE.role)
    sheet.put(room, 3, HANDLE.cell(ascii=ascii) * 3, HANDLE.role)
    chalk = LIGHT.cell(ascii=ascii)
    free = width
    for count in marks:
        # The first point stands in the last cell before the handle.
        x = room - 1 - (round((count - 1) * (room - 1) / (teeth - 1)) if teeth > 1 else 0)
        for row in (2, 3):
            sheet.put(x, row, chalk, LIGHT.role)
        text = str(count)
        left = max(0, x - len(text) // 2)
        if left + len(text) < free:
            sheet.put(left, 1, text, Role.STRONG)
            free = left
    _table(sheet, marks, on_rule)
    return sheet.rows()


def _table(sheet: Sheet, marks: list[int], on_rule: Callable[[int], str]) -> None:
    """Each count with its place, one a row; the first ones and the last where there is no room for all."""
    room = sheet.height - 5
    if room < 1:
        return
    shown = marks if len(marks) <= room else [*marks[: room - 1], marks[-1]]
    digits = len(str(marks[-1]))
    for row, count in enumerate(shown, 5):
        words = (f"{count:>{digits}}  {on_rule(count)} from the heel", f"{count:>{digits}}  {on_rule(count)}")
        sheet.put(0, row, first_that_fits(sheet.width, words), Role.LABEL)
