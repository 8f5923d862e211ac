"""Setting seen along the tooth line: the saw set's plunger pushes one tooth over, against its anvil."""

from __future__ import annotations

from typing import Final

from session.pictures.bent_section import BentSection, bent_section
from session.pictures.filled_shapes import Solid
from session.pictures.materials import TOOL
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet

#: From this room on plunger and anvil are drawn.
_TOOL_FROM: Final = 22


def setting(
    depth_mm: float,
    plate_mm: float,
    set_mm: float,
    bent_share: float,
    width: int,
    height: int,
    *,
    leans_away: bool = True,
    ascii: bool = False,
) -> Rows:
    """One tooth in section, the person on the left, so that a tooth leaning away leans to the right.

    depth_mm: of the tooth; plate_mm: thickness; set_mm: bend of the point to one side; all above 0.
    bent_share: how much of the depth is bent, from the point, above 0 to 1. The bend is drawn larger
    than it is where the scale would hide it, and says so. The anvil lies against the plate below the bend, and its
    slope is as steep as the bent tooth. Best from 30 × 10 on. Raises PictureError for measures outside these.
    """
    check_room(width, height)
    captions = 2 if height >= 8 else 1 if height >= 6 else 0
    section = bent_section(
        depth_mm,
        plate_mm,
        set_mm,
        bent_share,
        middle=width / 2,
        top=1.0 if captions else 0.0,
        foot=2.0 * (height - captions),
        widest_plate=width * 0.18,
        widest_bend=width * 0.2,
    )
    way = 1 if leans_away else -1
    sheet = Sheet(width, height)
    section.draw(sheet, way, ascii=ascii)
    if width >= _TOOL_FROM and height >= 6:
        _tool(sheet, section, way, ascii)
    section.draw_behind(sheet, -way, ascii=ascii)
    if captions:
        _captions(sheet, section, leans_away, ascii)
    return sheet.rows()


def _tool(sheet: Sheet, section: BentSection, way: int, ascii: bool) -> None:
    """The anvil on the far side, its face along the plate and the bent tooth, and the plunger on the near side."""
    face = section.middle + way * section.plate / 2
    outer = face + way * (section.bend + sheet.width * 0.17)
    top, bottom = section.top + 0.35 * section.bent, section.top + section.depth + 1.0
    begin = section.top + section.bent
    at_top = face + way * section.bend * (begin - top) / section.bent
    anvil = Solid(sheet.width, sheet.height)
    anvil.fill([(at_top, top), (face, begin), (face, bottom), (outer, bottom), (outer, top)])
    anvil.lay(sheet, TOOL, ascii=ascii, over=False)
    # The plunger meets the tooth at half the height of the bend.
    near = section.middle - way * section.plate / 2 + way * section.bend * 0.6
    thick = max(2.0, min(4.0, section.bent * 0.5))
    low = section.top + 0.4 * section.bent + thick / 2
    row, rows = int((low - thick) / 2), max(1, round(thick / 2))
    end = int(near) - 1 if way > 0 else int(near) + 2
    start = 8 if way > 0 else sheet.width - 9
    for y in range(row, row + rows):
        for x in range(min(start, end), max(start, end) + 1):
            sheet.put(x, y, TOOL.cell(ascii=ascii), TOOL.role)
    arrow = ("==>" if way > 0 else "<==") if ascii else ("══▶" if way > 0 else "◀══")
    sheet.put(4 if way > 0 else sheet.width - 7, row, arrow, Role.ARROW)
    sheet.put(0 if way > 0 else sheet.width - 7, row + rows, "plunger", Role.STRONG)
    at = round(outer) + 1 if way > 0 else round(outer) - 6
    sheet.put(at, int((begin + 1) / 2) + 1, "anvil", Role.STRONG)


def _captions(sheet: Sheet, section: BentSection, leans_away: bool, ascii: bool) -> None:
    width, height = sheet.width, sheet.height
    left, right = ("<-", "->") if ascii else ("◀", "▶")
    bend_row, gullet_row = (int((section.top + deep) / 2) for deep in (section.bent, section.depth))
    # On the side of the plunger, below it: there is nothing else.
    near = round(section.middle - section.plate / 2) if leans_away else round(section.middle + section.plate / 2)
    room = near - 1 if leans_away else width - near - 1
    for row, texts in ((bend_row, ("bend from here up", "bend", "")), (gullet_row, ("gullet", ""))):
        beside = "".join(sheet.char(x, row) for x in (range(near - 1) if leans_away else range(near + 1, width)))
        free = len(beside) - len(beside.rstrip() if leans_away else beside.lstrip())
        if row < height - (2 if height >= 8 else 1):
            text = first_that_fits(min(room, free) - 1, texts)
            arrow = right if leans_away else left
            if text:
                told = f"{text} {arrow}" if leans_away else f"{arrow} {text}"
                sheet.put(near - len(told) if leans_away else near, row, told, Role.LABEL)
    way = f"away from you {right}" if leans_away else f"{left} toward you"
    sheet.put_centered(width / 2, height - (2 if height >= 8 else 1), way, Role.STRONG)
    if section.enlarged and height >= 8:
        told = first_that_fits(width, ("bend drawn larger than it is", "bend drawn larger"))
        sheet.put_centered(width / 2, height - 1, told, Role.LABEL)
    sheet.put(0, 0, "you", Role.LABEL)
