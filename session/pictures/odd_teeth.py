"""Teeth that are not as they should be: a high, a low, a broken one, big and small ones, and a cracked gullet."""

from __future__ import annotations

import math

from session.pictures.filled_shapes import Solid
from session.pictures.materials import WOOD
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet
from session.pictures.tooth_row import RowTooth, ToothRow, sum_tan
from session.walk.known_teeth import Known


def tooth_sizes(front_deg: float, back_deg: float, width: int, height: int, *, ascii: bool = False) -> Rows:
    """A line of even teeth over one whose teeth are big and small by turns. Best from 28 × 8 on; raises as above."""
    check_room(width, height)
    sheet = Sheet(width, height)
    half = height // 2
    total = sum_tan(front_deg, back_deg)
    for top, odd, told in ((0, 0.0, "even"), (half, 0.3, "big and small by turns")):
        part = Sheet(width, half if top else height - half)
        captions = 1 if part.height >= 3 else 0
        ground = 2.0 * (part.height - captions)
        pitch = max(3.0, min(width / 4.3, (ground - 0.8) * total))
        row = ToothRow(front_deg, back_deg, pitch / total, 0.4, ground)
        count = int(width / pitch) + 2
        # A small tooth stands low and its wide neighbor has grown into its place.
        teeth = [
            RowTooth(
                (n + 0.5) * pitch,
                below=odd * row.depth if n % 2 else 0.0,
                flat=0.0 if n % 2 else odd * 0.4 * pitch,
            )
            for n in range(-1, count)
        ]
        row.draw(part, teeth, ascii=ascii)
        part.flip()
        if captions:
            part.put_centered(width / 2, part.height - 1, first_that_fits(width, (told, "by turns", "")), Role.STRONG)
        # Of an odd height the upper line has the row more, for its name.
        sheet.put_rows(0, height - half if top else 0, part.rows())
    return sheet.rows()


def cracked(front_deg: float, back_deg: float, width: int, height: int, *, ascii: bool = False) -> Rows:
    """A crack that runs from the bottom of a gullet into the plate. Best from 26 × 8 on; raises as ``odd_tooth``."""
    check_room(width, height)
    sheet = Sheet(width, height)
    captions = 1 if height >= 5 else 0
    ground = 2.0 * (height - captions)
    total = sum_tan(front_deg, back_deg)
    pitch = max(3.0, min(width / 2.6, ground * 0.45 * total))
    row = ToothRow(front_deg, back_deg, pitch / total, 0.4, ground)
    tan_back = math.tan(math.radians(back_deg))
    # The gullet in the middle ends where the back of the tooth toward the toe comes down.
    behind = width / 2 - row.depth * math.tan(math.radians(front_deg))
    row.draw(sheet, [RowTooth(behind + n * pitch) for n in range(-2, 4)], ascii=ascii)
    x, y = round(behind + pitch - row.depth * tan_back), int((row.tips + row.depth) / 2)
    way, back = ("\\", "/") if ascii else ("▚", "▞")
    for step, at in enumerate(range(y, min(height - captions, y + max(3, height // 3)))):
        sheet.put(x, at, back if step % 2 else way, Role.LEFT_OUT)
    sheet.flip()
    if captions:
        told = first_that_fits(
            width, ("a crack from a gullet into the plate: out of use", "crack: out of use", "crack")
        )
        sheet.put_centered(width / 2, height - 1, told, Role.STRONG)
    return sheet.rows()


def odd_tooth(kind: Known, front_deg: float, back_deg: float, width: int, height: int, *, ascii: bool = False) -> Rows:
    """One high, low or broken tooth among its neighbors; the straight edge rocks on a high one, and shows light over a
    low one.

    front_deg, back_deg: lean of front and back from square, seen on the plate. Drawn with the toe on the left. Best
    from 28 × 8 on. Raises PictureError for impossible angles and rooms.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    captions = 1 if height >= 5 else 0
    edge = 2 if height >= 8 and kind is not Known.BROKEN else 1
    tips, ground = 2.0 * (edge + (kind is Known.HIGH)), 2.0 * (height - captions)
    pitch = max(3.0, min(width / 3.6, (ground - tips) * 0.75 * sum_tan(front_deg, back_deg)))
    row = ToothRow(front_deg, back_deg, pitch / sum_tan(front_deg, back_deg), tips, ground)
    off = {Known.HIGH: -0.28, Known.LOW: 0.3, Known.BROKEN: 0.0}[kind] * row.depth
    middle = width / 2
    span = int(width / pitch / 2) + 2
    teeth = [
        RowTooth(middle + k * pitch, below=0.0 if k else off, stump=kind is Known.BROKEN and k == 0)
        for k in range(-span, span + 1)
    ]
    row.draw(sheet, teeth, ascii=ascii)
    if kind is not Known.BROKEN:
        _rest(sheet, kind, middle, pitch, tips, off, 2.0 * edge, ascii)
    sheet.flip()
    if captions:
        told = {
            Known.HIGH: ("the edge rocks on the high one", "rocks on the high one", "high"),
            Known.LOW: ("light over the low one", "light over a low one", "low"),
            Known.BROKEN: ("broken: a stump between whole teeth", "broken: a stump", "stump"),
        }[kind]
        sheet.put_centered(width / 2, height - 1, first_that_fits(width, told), Role.STRONG)
    if kind is Known.BROKEN:
        sheet.put_centered(width / 2, 0, "v" if ascii else "▼", Role.ARROW)
    if kind is Known.HIGH and height >= 8:
        sheet.put(0, 0, "<->" if ascii else "◀─▶", Role.ARROW)
    _name_edge(sheet, ascii)
    return sheet.rows()


def _name_edge(sheet: Sheet, ascii: bool) -> None:
    """What lies on the points, in words on it, where it is as long as they are."""
    name = " straight edge "
    left = sheet.width - len(name) - 1
    if left > 0 and all(sheet.char(x, 0) == WOOD.cell(ascii=ascii) for x in range(left, left + len(name))):
        sheet.put(left, 0, name, Role.STRONG)


def _rest(
    sheet: Sheet, kind: Known, x: float, pitch: float, tips: float, off: float, thick: float, ascii: bool
) -> None:
    """Lay the straight edge on the points: level, or tipped over the high tooth at ``x`` onto one further on."""
    edge = Solid(sheet.width, sheet.height)
    width = float(sheet.width)
    fall = -off / (2 * pitch) if kind is Known.HIGH else 0.0
    left, right = (tips + min(off, 0.0) + fall * (at - x) for at in (0.0, width))
    edge.fill([(0.0, left), (width, right), (width, right - thick), (0.0, left - thick)])
    edge.lay(sheet, WOOD, ascii=ascii, over=False)
