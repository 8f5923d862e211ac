"""The straight edge on the points: the three shapes of a line, and the slip in its widest gap."""

from __future__ import annotations

from typing import Final

from session.pictures.filled_shapes import Point, Solid
from session.pictures.materials import LIGHT, STEEL, WOOD
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet
from session.trade.seen_words import LineShape

#: Cells of the name beside a line, from which width on there is one.
_NAME: Final = 9
_NAMED_FROM: Final = 24

#: A tooth and the space to the next, as drawn on a whole line; units.
_PITCH: Final = 3.0
_DEPTH: Final = 1.4

_SHAPES: Final = (LineShape.STRAIGHT, LineShape.CROWNED, LineShape.HOLLOW)


def line_shapes(width: int, height: int, *, ascii: bool = False) -> Rows:
    """A straight, a crowned and a hollow line, each under a straight edge, with where the eye is. Best from 28 × 10 on.

    Raises PictureError for an impossible room.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    eye = 1 if height >= 7 else 0
    rows = max(1, (height - eye) // len(_SHAPES))
    name = _NAME if width >= _NAMED_FROM else 0
    arrow = "<--" if ascii else "◀──"
    if eye:
        told = first_that_fits(
            width, (f"{arrow} sight along the points from the heel", f"{arrow} eye at the heel", arrow)
        )
        sheet.put(width - len(told), 0, told, Role.ARROW)
    for number, shape in enumerate(_SHAPES):
        top = eye + number * rows
        _line(sheet, shape, name, top, rows, ascii)
        if name:
            sheet.put(0, top + min(1, rows - 1), str(shape), Role.STRONG)
            light = "light" if shape is not LineShape.STRAIGHT else ""
            sheet.put(0, top + min(2, rows - 1) if rows >= 3 else height, light, Role.LABEL)
    return sheet.rows()


def line_gap(width: int, height: int, *, ascii: bool = False) -> Rows:
    """A hollow line under a straight edge with a slip in its widest gap. Best from 28 × 8 on; raises as above."""
    check_room(width, height)
    sheet = Sheet(width, height)
    captions = 1 if height >= 5 else 0
    _line(sheet, LineShape.HOLLOW, 0, 0, height - captions, ascii)
    if height - captions >= 4:
        gap = [row for row in range(1, height - captions) if sheet.char(width // 2, row) == " "]
        slip = LIGHT.cell(ascii=ascii)
        for row in gap:
            sheet.put(width // 2 - 1, row, slip * 2, LIGHT.role)
        if len(gap) >= 2:
            left, right = ("->", "<-") if ascii else ("▶", "◀")
            sheet.put(width // 2 - 2 - len(f"slip {left}"), gap[0], f"slip {left}", Role.STRONG)
            sheet.put(width // 2 + 2, gap[0], right, Role.STRONG)
    if captions:
        told = first_that_fits(width, ("the slip that just goes in is the gap", "slip = widest gap", "gap"))
        sheet.put_centered(width / 2, height - 1, told, Role.STRONG)
    return sheet.rows()


def _line(sheet: Sheet, shape: LineShape, left: int, top: int, rows: int, ascii: bool) -> None:
    """One whole line in its shape from column ``left`` on, in so many rows, the straight edge in the first of them."""
    width = sheet.width - left
    sheet.put(left, top, WOOD.cell(ascii=ascii) * width, WOOD.role)
    begin, ground = 2.0 * (top + 1), 2.0 * (top + rows)
    most = max(0.0, ground - begin - _DEPTH - 0.8)
    count = max(2, round(width / _PITCH))
    pitch = width / count
    points: list[Point] = [(float(left), ground)]
    for n in range(count):
        for at, deep in ((n, _DEPTH), (n + 0.5, 0.0)):
            # The first and the last point stand where the curve ends.
            share = max(-1.0, min(1.0, (2 * at - count) / (count - 1)))
            bow = {LineShape.STRAIGHT: 0.0, LineShape.CROWNED: share**2, LineShape.HOLLOW: 1 - share**2}[shape]
            points.append((left + at * pitch, begin + deep + bow * most))
    points.append((float(sheet.width), points[1][1]))
    points.append((float(sheet.width), ground))
    steel = Solid(sheet.width, sheet.height)
    steel.fill(points)
    steel.lay(sheet, STEEL, ascii=ascii, over=False)
