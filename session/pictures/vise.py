"""The saw low in the vise, as the person stands before it: teeth just above the jaws, handle to one side."""

from __future__ import annotations

from functools import partial
from typing import Final

from session.pictures.before_after import before_and_after
from session.pictures.materials import JAW, STEEL, WOOD
from session.pictures.picture_rows import PictureError, Role, Rows, beside, check_room, first_that_fits
from session.pictures.sheet import Sheet

#: Cells of the view from the end, and from which width on there is one.
_SECTION: Final = 18
_SECTION_FROM: Final = 52

#: From this width on the handle is drawn large enough to be known as one.
_SMALL: Final = 14


def vise(
    side: int,
    width: int,
    height: int,
    *,
    above_jaws: str = "",
    plate_rows: int = 1,
    reach: tuple[int, int] | None = None,
    teeth: int = 0,
    moves: str = "",
    ascii: bool = False,
) -> Rows:
    """The vise with the saw in it. ``above_jaws`` is how far the teeth stand out, as text with its unit, and
    ``plate_rows`` (1 to 3) how many rows of plate are drawn between the jaws and the teeth; a low room has fewer.

    side: 1 handle on the right, 2 on the left. reach: the first and the last tooth that it holds, named on the jaws.
    teeth: of the whole line, so that the jaws stand under those of ``reach``; 0 has them under the middle. moves: the
    end that the saw is moved toward, "handle" or "toe".
    Best from 30 × 8 on. Raises PictureError for an impossible side or room.
    """
    check_room(width, height)
    _check(side)
    sheet = Sheet(width, height)
    captions = 1 if height >= 5 else 0
    tooth, plate, jaw, edge, grip = ("^", "#", ":", "=", "@") if ascii else ("▲", "█", "░", "▓", "█")
    top = 1 if height >= 6 else 0
    bottom = height - captions - 1
    # Drawn with the handle on the right; the other side is its mirror image.
    grip_width = min(9, max(width // 4, 5 if width >= _SMALL else 1))
    saw_end = width - grip_width
    sheet.put(1, top, tooth * max(0, saw_end - 1), Role.STEEL)
    # One row at least is left to the jaws.
    jaws = top + 1 + max(1, min(plate_rows, bottom - top - 2))
    for row in range(top + 1, jaws):
        sheet.put(1, row, plate * max(0, saw_end - 1), Role.STEEL)
    jaw_left, jaw_right = min(4, width // 8), saw_end - min(4, width // 8)
    if reach is not None and reach[1] - reach[0] + 1 < teeth:
        jaw_left, jaw_right = _jaws_under(reach, teeth, saw_end)
    for row in range(jaws, bottom + 1):
        fill = edge if row == jaws else jaw
        sheet.put(jaw_left, row, fill * max(0, jaw_right - jaw_left), Role.VISE)
    if bottom - jaws >= 2:
        screw = "(o)" if ascii else "─●─"
        sheet.put((jaw_left + jaw_right) // 2 - 1, jaws + 2, screw, Role.FRAME)
    for row in range(top, min(top + 4, bottom + 1)):
        hollow = row in (top + 1, top + 2) and grip_width >= 7
        body = grip * 2 + " " * (grip_width - 5) + grip * 2 if hollow else grip * (grip_width - 1)
        sheet.put(saw_end, row, body, Role.HANDLE)
    if side == 2:
        sheet.flip()
        jaw_left, jaw_right = width - jaw_right, width - jaw_left
    if reach is not None and bottom >= jaws:
        near_left, near_right = (f" {tooth} " for tooth in (reach if side == 2 else reach[::-1]))
        if len(near_left) + len(near_right) + 3 <= jaw_right - jaw_left:
            sheet.put(jaw_left, jaws, near_left, Role.STRONG)
            sheet.put(jaw_right - len(near_right), jaws, near_right, Role.STRONG)
    if top:
        text = f"teeth {above_jaws} above the jaws" if above_jaws else "teeth just above the jaws"
        figure = tuple(f"{above_jaws} {out}" for out in ("above the jaws", "out", "up")) if above_jaws else ()
        shorter = (*figure, "close to the jaws", "close to jaws", "close")
        sheet.put_centered(width / 2, 0, first_that_fits(width, (text, *shorter)), Role.STRONG)
    if captions:
        near_left, near_right = ("toe", "handle") if side == 1 else ("handle", "toe")
        back, forth = "<>" if ascii else "◀▶"
        text = f"{near_right} {forth}"
        if len(near_left) + len(text) + 3 <= width:
            sheet.put(0, height - 1, f"{back} {near_left}", Role.LABEL)
            sheet.put(width - len(text), height - 1, text, Role.LABEL)
        if moves:
            way = f"move it {(back, forth)[(moves == 'handle') == (side == 1)]}"
            told = first_that_fits(max(0, width - len(near_left) - len(text) - 4), (way, way[-1], ""))
            sheet.put_centered((len(near_left) + 2 + width - len(text)) / 2, height - 1, told, Role.ARROW)
    return sheet.rows()


def _jaws_under(reach: tuple[int, int], teeth: int, saw_end: int) -> tuple[int, int]:
    """Where jaws begin and end under the teeth of ``reach``, the handle on the right: wide enough for their numbers."""
    first, last = reach
    left, right = saw_end - last * (saw_end - 1) / teeth, saw_end - (first - 1) * (saw_end - 1) / teeth
    wide = min(saw_end - 1, max(round(right - left), len(f" {first}  {last} ") + 3))
    start = max(1, min(round((left + right - wide) / 2), saw_end - wide))
    return start, start + wide


def clamped(
    side: int,
    reach: tuple[int, int],
    width: int,
    height: int,
    *,
    above_jaws: str = "",
    teeth: int = 0,
    moves: str = "",
    ascii: bool = False,
) -> Rows:
    """The saw clamped for the teeth of ``reach``, and beside it, where there is room, the plate between its battens.

    teeth, moves: as in ``vise``. Best from 30 × 8 on. Raises as ``vise`` does.
    """
    check_room(width, height)
    alone = partial(vise, above_jaws=above_jaws, reach=reach, teeth=teeth, moves=moves, ascii=ascii)
    if width < _SECTION_FROM or height < 7:
        return alone(side, width, height)
    return beside(alone(side, width - _SECTION - 1, height), _between_battens(_SECTION, height, ascii))


def _between_battens(width: int, height: int, ascii: bool) -> Rows:
    """From the end: the plate, a batten on either side of it, the jaws outside; the gullets just above."""
    sheet = Sheet(width, height)
    steel, wood, jaw = (material.cell(ascii=ascii) for material in (STEEL, WOOD, JAW))
    middle = width // 2 - 1
    sheet.put(middle, 1, "^^" if ascii else "▟▙", Role.STEEL)
    sheet.put(0, 1, "points", Role.LABEL)
    sheet.put(0, 2, "gullet" + (">" if ascii else "▶"), Role.STRONG)
    for row in range(2, height - 1):
        sheet.put(middle, row, steel * 2, Role.STEEL)
        if row >= 3:
            sheet.put(middle - 2, row, wood * 2, Role.BLOCK)
            sheet.put(middle + 2, row, wood * 2, Role.BLOCK)
        if row >= 4:
            sheet.put(1, row, jaw * (middle - 4), Role.VISE)
            sheet.put(middle + 5, row, jaw * (middle - 4), Role.VISE)
    sheet.put_centered(width / 2, height - 1, "between battens", Role.STRONG)
    return sheet.rows()


def turn(from_side: int, width: int, height: int, *, above_jaws: str = "", ascii: bool = False) -> Rows:
    """The saw in the vise before and after it is turned end for end; best from 36 × 8 on. Raises as ``vise`` does."""
    _check(from_side)
    return before_and_after(partial(vise, above_jaws=above_jaws, ascii=ascii), from_side, width, height, ascii=ascii)


def _check(side: int) -> None:
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (handle on the right) and 2 (handle on the left)")
