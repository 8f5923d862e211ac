"""The saw low in the vise, as the person stands before it: teeth just above the jaws, handle to one side."""

from __future__ import annotations

from functools import partial
from typing import Final

from session.pictures.before_after import before_and_after
from session.pictures.picture_rows import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet

#: From this width on the handle is drawn large enough to be known as one.
_SMALL: Final = 14


def vise(side: int, width: int, height: int, *, above_jaws: str = "", ascii: bool = False) -> Rows:
    """The vise with the saw in it. ``above_jaws`` is how far the teeth stand out, as text with its unit.

    side: 1 handle on the right, 2 on the left. Best from 30 × 8 on. Raises PictureError for an impossible
    side or room.
    """
    check_room(width, height)
    _check(side)
    sheet = Sheet(width, height)
    captions = 1 if height >= 5 else 0
    tooth, plate, jaw, edge, grip = ("^", "#", "%", "=", "@") if ascii else ("▲", "█", "▒", "▓", "█")
    top = 1 if height >= 6 else 0
    bottom = height - captions - 1
    # Drawn with the handle on the right; the other side is its mirror image.
    grip_width = min(9, max(width // 4, 5 if width >= _SMALL else 1))
    saw_end = width - grip_width
    sheet.put(1, top, tooth * max(0, saw_end - 1), Role.STEEL)
    sheet.put(1, top + 1, plate * max(0, saw_end - 1), Role.STEEL)
    jaw_left, jaw_right = min(4, width // 8), saw_end - min(4, width // 8)
    for row in range(top + 2, bottom + 1):
        fill = edge if row == top + 2 else jaw
        sheet.put(jaw_left, row, fill * max(0, jaw_right - jaw_left), Role.VISE)
    if bottom - top >= 4:
        screw = "(o)" if ascii else "─●─"
        sheet.put((jaw_left + jaw_right) // 2 - 1, top + 4, screw, Role.FRAME)
    for row in range(top, min(top + 4, bottom + 1)):
        hollow = row in (top + 1, top + 2) and grip_width >= 7
        body = grip * 2 + " " * (grip_width - 5) + grip * 2 if hollow else grip * (grip_width - 1)
        sheet.put(saw_end, row, body, Role.HANDLE)
    if side == 2:
        sheet.flip()
    if top:
        text = f"teeth {above_jaws} above the jaws" if above_jaws else "teeth just above the jaws"
        shorter = ("saw low in the jaws", "low in the jaws", "low")
        sheet.put_centered(width / 2, 0, first_that_fits(width, (text, *shorter)), Role.STRONG)
    if captions:
        near_left, near_right = ("toe", "handle") if side == 1 else ("handle", "toe")
        back, forth = "<>" if ascii else "◀▶"
        text = f"{near_right} {forth}"
        if len(near_left) + len(text) + 3 <= width:
            sheet.put(0, height - 1, f"{back} {near_left}", Role.LABEL)
            sheet.put(width - len(text), height - 1, text, Role.LABEL)
    return sheet.rows()


def turn(from_side: int, width: int, height: int, *, ascii: bool = False) -> Rows:
    """The saw in the vise before and after it is turned end for end; best from 36 × 8 on. Raises as ``vise`` does."""
    _check(from_side)
    return before_and_after(partial(vise, ascii=ascii), from_side, width, height, ascii=ascii)


def _check(side: int) -> None:
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (handle on the right) and 2 (handle on the left)")
