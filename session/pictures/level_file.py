"""Leveling: the file along the points and square to the plate, and flats of several widths to compare with."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from session.pictures.materials import FILE, STEEL, WOOD
from session.pictures.picture_rows import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet
from session.pictures.tooth_row import RowTooth, ToothRow, sum_tan

#: Cells of the end view where there is room, and in a small room; in less than twice those it is left out.
_END_VIEW: Final = 22
_SMALL_END_VIEW: Final = 16


def leveling(
    front_deg: float,
    back_deg: float,
    side: int,
    width: int,
    height: int,
    *,
    to_toe: bool = True,
    ascii: bool = False,
) -> Rows:
    """The file on the points, from the side and, where there is room, from the end with its block.

    front_deg, back_deg: lean of front and back from square, seen on the plate. side: 1 toe on the left.
    to_toe: the file is pushed from the heel to the toe; an arrow on it tells. Best from 48 × 8 on. Raises PictureError
    for impossible angles, side or room.
    """
    check_room(width, height)
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (toe on the left) and 2 (toe on the right)")
    end_view = next((cells for cells in (_END_VIEW, _SMALL_END_VIEW) if width >= 2 * cells and height >= 5), 0)
    room = width - end_view
    sheet = Sheet(room, height)
    captions = 1 if height >= 5 else 0
    thick = 2 if height >= 14 else 1
    tips = 2.0 * (thick + (height >= 9))
    ground = 2.0 * (height - captions)
    shares = (0.16, 0.05, 0.16, 0.0, 0.22, 0.1, 0.16, 0.05)
    # Four teeth and more, so that low ones are seen among others.
    pitch = max(3.0, min(room / 4, (ground - tips) * 0.7 * sum_tan(front_deg, back_deg)))
    teeth = [((n + 0.5) * pitch, shares[n % len(shares)]) for n in range(-1, math.ceil(room / pitch) + 1)]
    _draw_teeth(sheet, teeth, pitch, front_deg, back_deg, tips, ground, ascii)
    # The file is shaded otherwise than the steel, so that the two stay apart without color.
    for row in range(thick):
        sheet.put(2, int(tips / 2) - 1 - row, FILE.cell(ascii=ascii) * (room - 4), Role.FILE)
    if room >= 16:
        arrow = (" ===> " if ascii else " ═══▶ ") if to_toe else (" <=== " if ascii else " ◀═══ ")
        sheet.put((room - len(arrow)) // 2, int(tips / 2) - thick, arrow, Role.ARROW)
    if side == 1:
        sheet.flip()
    if captions:
        near_left, near_right = ("toe", "heel") if side == 1 else ("heel", "toe")
        back, forth = "<>" if ascii else "◀▶"
        sheet.put(0, height - 1, f"{back} {near_left}", Role.LABEL)
        sheet.put(room - len(near_right) - 2, height - 1, f"{near_right} {forth}", Role.LABEL)
        text = first_that_fits(max(0, room - 18), ("file flat along the points", "file along the points", ""))
        sheet.put_centered(room / 2, height - 1, text, Role.STRONG)
    whole = Sheet(width, height)
    whole.put_rows(0, 0, sheet.rows())
    if end_view:
        _end_view(whole, room, end_view, int(tips / 2), thick, ascii)
    return whole.rows()


def flats(
    shares: Sequence[tuple[str, float]],
    front_deg: float,
    back_deg: float,
    side: int,
    width: int,
    height: int,
    *,
    ascii: bool = False,
) -> Rows:
    """Teeth with flats of given widths in a row, each with its name under it, first one on the left; at most ``height``
    rows.

    shares: name and flat width as a share of the pitch, 0 to below 1; 1 to 9 of them. A tooth without a
    flat stands lower than the line of the file. Raises PictureError for other shares.
    """
    check_room(width, height)
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (toe on the left) and 2 (toe on the right)")
    if not 1 <= len(shares) <= 9 or not all(0 <= share < 1 for _, share in shares):
        raise PictureError("flats to compare: allowed are 1 to 9, each 0 up to less than one pitch")
    height = flats_rows(len(shares), front_deg, back_deg, width, height)
    captions = _captions(height)
    pitch = width / len(shares)
    depth = pitch / sum_tan(front_deg, back_deg)
    sheet = Sheet(width, height)
    ground = 2.0 * (height - captions)
    ordered = shares if side == 2 else shares[::-1]
    teeth = [((n + 0.5) * pitch, share) for n, (_, share) in enumerate(ordered)]
    scale = min(1.0, (ground - 2.0) / depth)
    _draw_teeth(sheet, teeth, pitch * scale, front_deg, back_deg, 1.0, ground, ascii)
    if side == 1:
        sheet.flip()
    if captions:
        for n, (name, _) in enumerate(shares):
            sheet.put_centered((n + 0.5) * pitch, height - 1, name[: max(1, int(pitch) - 1)], Role.LABEL)
    return sheet.rows()


def drawn_wider(count: int) -> tuple[float, ...]:
    """How wide the flats of so many grades are drawn, each by the same step wider than the one before, as shares of the
    pitch: true to scale the narrow ones would be one dot."""
    return tuple(grade / count for grade in range(count))


def flats_rows(count: int, front_deg: float, back_deg: float, width: int, height: int) -> int:
    """Rows that so many flats take of ``height``: more of them would only show more of the plate."""
    depth = width / count / sum_tan(front_deg, back_deg)
    return min(height, math.ceil((1 + depth) / 2) + 1 + _captions(height))


def _captions(height: int) -> int:
    return 1 if height >= 3 else 0


def _draw_teeth(
    sheet: Sheet,
    teeth: Sequence[tuple[float, float]],
    pitch: float,
    front: float,
    back: float,
    tips: float,
    ground: float,
    ascii: bool,
) -> None:
    """Teeth at these places with these flats (shares of the pitch), the file's line at ``tips``, toe on the right.

    A tooth without a flat ends below that line; how far below is not to scale.
    """
    depth = pitch / sum_tan(front, back)
    row = ToothRow(front, back, depth, tips, ground)
    row.draw(sheet, [RowTooth(x, share * pitch, 0.0 if share else 0.15 * depth) for x, share in teeth], ascii=ascii)


def _end_view(sheet: Sheet, x: int, room: int, tips_row: int, thick: int, ascii: bool) -> None:
    """The plate's section with the file across it and the block under the file, against the plate."""
    steel, file, wood = (material.cell(ascii=ascii) for material in (STEEL, FILE, WOOD))
    middle = x + room // 2
    last = sheet.height - 2
    wide = min(7, room // 2 - 3)
    for row in range(tips_row, last + 1):
        sheet.put(middle, row, steel * 2, Role.STEEL)
        if row <= tips_row + 2 * thick:
            sheet.put(middle + 2, row, wood * wide, Role.BLOCK)
    for row in range(tips_row - thick, tips_row):
        sheet.put(middle - wide + 2, row, file * 2 * wide, Role.FILE)
    caption = first_that_fits(room - 1, ("square to the plate", "square"))
    sheet.put_centered(x + (room + 1) / 2, sheet.height - 1, caption, Role.STRONG)
