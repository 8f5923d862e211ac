"""The trough between the two rows of points: sighted along the edge, and tried with a needle."""

from __future__ import annotations

from typing import Final

from session.pictures.filled_shapes import Point, Solid
from session.pictures.materials import STEEL, TOOL
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet

#: How far the points stand out on either side, how deep the trough is and the plate thick, as shares of the room's
#: width: larger than they are, to be seen at all.
_OUT: Final = 0.08
_PLATE: Final = 0.34

#: How much lower a point of an uneven row stands, as a share of the trough's depth.
_LOWER: Final = 0.55


def trough(fleam: float, width: int, height: int, *, ascii: bool = False) -> Rows:
    """An even trough beside an uneven one, as they look along the edge from the heel. Best from 26 × 8 on.

    fleam: degrees; with it the trough is a V, without it its floor is flat. Raises PictureError for an impossible room.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    captions = 1 if height >= 5 else 0
    half = max(1, width // 2)
    for left, lower, told in ((0, 0.0, ("even rows", "even")), (width - half, _LOWER, ("uneven rows", "uneven"))):
        part = Solid(half, height - captions)
        part.fill(_section(half, height - captions, fleam, lower))
        drawn = Sheet(half, height)
        part.lay(drawn, STEEL, ascii=ascii)
        if captions:
            drawn.put_centered(half / 2, height - 1, first_that_fits(half, told), Role.STRONG)
        if lower and height >= 8:
            drawn.put_centered(half * 0.78, 0, "v low" if ascii else "▼ low", Role.ARROW)
        elif height >= 8:
            both = "v   v" if ascii else "▼   ▼"
            drawn.put_centered(half / 2, 0, both, Role.ARROW)
            start = (half + len(both)) // 2 + 1
            drawn.put(start, 0, first_that_fits(half - start, ("same height", "same", "")), Role.ARROW)
        sheet.put_rows(left, 0, drawn.rows())
    return sheet.rows()


def needle(fleam: float, width: int, height: int, *, ascii: bool = False) -> Rows:
    """A needle that slides between the rows, from above, and in the trough in section. Best from 26 × 9 on.

    Drawn with the heel on the right. Raises PictureError for an impossible room.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    tooth = STEEL.cell(ascii=ascii) * 2
    for x in range(1, width - 2, 6):
        sheet.put(x, 1, tooth, STEEL.role)
        sheet.put(x + 3, 3, tooth, STEEL.role)
    arrow = "<" if ascii else "◀"
    sheet.put(0, 2, arrow, Role.ARROW)
    sheet.put(1, 2, ("=" if ascii else "═") * max(0, width - 2), TOOL.role)
    told = first_that_fits(width, ("from above: it slides between the rows", "it slides between the rows", "it slides"))
    sheet.put_centered(width / 2, 0, told, Role.STRONG)
    room = height - 5
    if room >= 3:
        wide = min(width, 3 * room + 8)
        part = Solid(wide, room)
        part.fill(_section(wide, room, fleam, 0.0))
        drawn = Sheet(wide, room)
        part.lay(drawn, STEEL, ascii=ascii)
        floor = next((y for y in range(room) if drawn.char(wide // 2, y) != " "), room)
        drawn.put(wide // 2 - (wide % 2 == 0), max(0, floor - 1), ("o" if ascii else "●") * 2, TOOL.role)
        sheet.put_centered(width / 2, 4, first_that_fits(width, ("the needle in the trough", "needle")), Role.LABEL)
        sheet.put_rows((width - wide) // 2, 5, drawn.rows())
        sheet.put(0, height - 1, first_that_fits((width - wide) // 2, ("along it", "")), Role.LABEL)
    return sheet.rows()


def _section(width: float, rows: int, fleam: float, lower: float) -> list[Point]:
    """The edge as it looks from its end: two points that stand out, and what is between them."""
    middle, plate, out = width / 2, width * _PLATE, width * _OUT
    top, foot = 2.0 if rows >= 7 else 0.0, 2.0 * rows
    deep = (foot - top) * 0.4
    flat = 0.0 if fleam else plate * 0.3
    right_top = top + lower * deep
    left, right = middle - plate / 2, middle + plate / 2
    return [
        (left, foot),
        (left, top + deep),
        (left - out, top),
        (middle - flat, top + deep * 0.8),
        (middle + flat, top + deep * 0.8),
        (right + out * (1 - lower * 0.5), right_top),
        (right, top + deep),
        (right, foot),
    ]
