"""Before and after the turn: one thing drawn for the side that was up and for the side that is up then."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet

#: Draws a thing for a side (1 or 2) in a room of so many cells and rows.
Part = Callable[[int, int, int], Rows]

_GAP: Final = 6
_LEAST_WIDTH: Final = 34
_LEAST_HEIGHT: Final = 6
#: A part wider than this many times its height would only push the two apart.
_WIDEST: Final = 5


def before_and_after(part: Part, from_side: int, width: int, height: int, *, ascii: bool = False) -> Rows:
    """``part`` as it is before the turn on the left and after it on the right, each under the name of its side.

    In less than 34 × 6 cells only as it is after the turn. Raises PictureError for an impossible room, and what
    ``part`` raises.
    """
    check_room(width, height)
    after = 3 - from_side
    if width < _LEAST_WIDTH or height < _LEAST_HEIGHT:
        return part(after, width, height)
    room = min((width - _GAP) // 2, _WIDEST * height)
    left = (width - 2 * room - _GAP) // 2
    sheet = Sheet(width, height)
    right = width - left - room
    for x, side, role in ((left, from_side, Role.LABEL), (right, after, Role.STRONG)):
        handle = "right" if side == 1 else "left"
        title = first_that_fits(room, (f"side {side}, handle {handle}", f"side {side}"))
        sheet.put_centered(x + room / 2, 0, title, role)
        sheet.put_rows(x, 1, part(side, room, height - 1))
    sheet.put_centered(width / 2, height // 2 - 1, "turn", Role.STRONG)
    sheet.put_centered(width / 2, height // 2, "===>" if ascii else "═══▶", Role.ARROW)
    return sheet.rows()
