"""Points turned to the light: a sharp one against a dull one, flats under a lamp, and hard ones under a file."""

from __future__ import annotations

import math
from typing import Final

from session.pictures.materials import BEHIND, FILE, STEEL
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet
from session.pictures.tooth_row import RowTooth, ToothRow, sum_tan

#: Width of the flat of a dull point as drawn, as a share of the pitch: larger than it is, to be seen at all.
_DULL: Final = 0.2

#: Width of the flats that leveling left, as drawn, as a share of the pitch: wide enough to be seen.
_LEVELED: Final = 0.24

#: How much of a hard tooth is drawn dark, as a share of its depth: at most three quarters (BS3159 5.1).
_DARK: Final = 0.5


def bright_points(front_deg: float, back_deg: float, width: int, height: int, *, ascii: bool = False) -> Rows:
    """A sharp point that gives back no light, and a dull one that shines. Best from 26 × 8 on.

    front_deg, back_deg: lean of front and back from square, seen on the plate. Raises PictureError for impossible
    angles and rooms.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    captions, above = (1, 3) if height >= 7 else (0, 1)
    row, (dull, sharp) = _pair(front_deg, back_deg, width, 2.0 * above, 2.0 * (height - captions))
    dark = RowTooth(sharp, below=0.0)
    row.draw(sheet, [RowTooth(dull, flat=_DULL * row.pitch, below=0.12 * row.depth), dark], ascii=ascii)
    sheet.flip()
    shine, quiet = width - 1 - int(dull), width - 1 - int(sharp)
    if above == 3:
        sheet.put_centered(shine + 0.5, 1, "\\ | /", Role.FLAT)
        # Not along the line: the plate is rolled about its own length.
        up, down = "^v" if ascii else "▲▼"
        rolls = (
            (f"tilt points {up} away", f"tilt it {up} away", f"tilt {up} away"),
            (f"{down} and toward you", f"{down} toward you", f"{down} toward"),
        )
        for y, told in enumerate(rolls):
            sheet.put_centered(
                quiet + 0.5, y, first_that_fits(2 * max(0, min(quiet, shine - quiet - 4)), (*told, "")), Role.ARROW
            )
        sheet.put_centered(shine + 0.5, 0, "window", Role.LABEL)
    if captions:
        for x, text in ((shine, "dull: shines"), (quiet, "sharp: dark")):
            sheet.put_centered(x, height - 1, text, Role.STRONG)
    return sheet.rows()


def flats_in_light(front_deg: float, back_deg: float, width: int, height: int, *, ascii: bool = False) -> Rows:
    """Leveled teeth under a lamp: flats that shine, and between them a low tooth without one. Best from 26 × 8 on.

    front_deg, back_deg: lean of front and back from square, seen on the plate. Raises PictureError for impossible
    angles and rooms.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    captions, above = (1, 3) if height >= 7 else (0, 1)
    total, tips, ground = sum_tan(front_deg, back_deg), 2.0 * above, 2.0 * (height - captions)
    pitch = max(3.0, min(width / 3, (ground - tips) * 0.9 * total))
    row = ToothRow(front_deg, back_deg, pitch / total, tips, ground)
    beside = range(-math.ceil(width / 2 / pitch), math.ceil(width / 2 / pitch) + 1)
    points = {n: width / 2 + n * pitch for n in beside}
    leveled = [RowTooth(x, flat=_LEVELED * pitch) for n, x in points.items() if n]
    row.draw(sheet, [*leveled, RowTooth(width / 2, below=0.3 * row.depth)], ascii=ascii)
    sheet.flip()
    if above == 3:
        sheet.put_centered(width / 2, 0, "lamp or window", Role.LABEL)
    for n in (-1, 1):
        x = width / 2 + n * pitch
        if above == 3:
            sheet.put_centered(x, 1, first_that_fits(int(pitch), ("\\ | /", "|")), Role.FLAT)
        if captions:
            sheet.put_centered(
                x, height - 1, first_that_fits(int(pitch) - 1, ("flat: shines", "flat", "")), Role.STRONG
            )
    if captions:
        low = first_that_fits(int(pitch) - 1, ("no flat: low", "no flat", ""))
        sheet.put_centered(width / 2, height - 1, low, Role.STRONG)
    return sheet.rows()


def hard_teeth(front_deg: float, back_deg: float, width: int, height: int, *, ascii: bool = False) -> Rows:
    """Dark tips, and the file that skates over one at the heel. Best from 26 × 8 on; raises as ``bright_points``."""
    check_room(width, height)
    sheet = Sheet(width, height)
    captions, above = (1, 3) if height >= 7 else (0, 1)
    row, teeth = _pair(front_deg, back_deg, width, 2.0 * above, 2.0 * (height - captions))
    row.draw(sheet, [RowTooth(x) for x in teeth], ascii=ascii)
    full = STEEL.cell(ascii=ascii)
    for y in range(int(row.tips / 2), int((row.tips + _DARK * row.depth) / 2)):
        for x in range(width):
            char = sheet.char(x, y)
            if char != " ":
                sheet.put(x, y, BEHIND.cell(ascii=ascii) if char == full else char, Role.FRAME)
    sheet.flip()
    heel = width - int(min(teeth)) - 1
    if above == 3:
        sheet.put(heel - 4, 2, FILE.cell(ascii=ascii) * 9, FILE.role)
        # As at leveling, the way the teeth cut.
        arrow = "<---" if ascii else "◀───"
        told = first_that_fits(width // 2, (f"{arrow} heel to toe", f"{arrow} to toe", arrow))
        sheet.put_centered(heel, 1, told, Role.ARROW)
        sheet.put_centered(heel, 0, first_that_fits(width // 2, ("one light push", "push")), Role.LABEL)
        # It is not laid in a gullet, as it is to file.
        on_tip = first_that_fits(max(0, heel - 5), ("file on the tip ->", "on the tip ->", "on tip ->", ""))
        sheet.put(0, 2, on_tip if ascii else on_tip.replace("->", "▶"), Role.STRONG)
    if captions:
        told = first_that_fits(width, ("dark tips: the file only skates, stop", "dark tip: file skates", "dark"))
        sheet.put_centered(width / 2, height - 1, told, Role.STRONG)
    return sheet.rows()


def _pair(
    front_deg: float, back_deg: float, width: int, tips: float, ground: float
) -> tuple[ToothRow, tuple[float, float]]:
    """Two large teeth, the toe on the right, and where their points are."""
    total = sum_tan(front_deg, back_deg)
    pitch = max(3.0, min(width / 2.0, (ground - tips) * 0.8 * total))
    return ToothRow(front_deg, back_deg, pitch / total, tips, ground), (width * 0.27, width * 0.75)
