"""Trial cuts as they look from above the board: good, wandering, binding; across the grain and along it."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from typing import Final

from session.pictures.materials import STEEL, WOOD
from session.pictures.picture_rows import Role, Rows, check_room
from session.pictures.sheet import Sheet


class CutLook(Enum):
    """How one cut runs."""

    GOOD = "good"
    TO_THE_LEFT = "to the left"
    TO_THE_RIGHT = "to the right"
    BINDS = "binds"
    ACROSS = "across"
    ALONG = "along"


#: A board with its name under it.
Board = tuple[str, CutLook]

TRIAL_CUTS: Final = (("good", CutLook.GOOD), ("wanders", CutLook.TO_THE_LEFT), ("binds", CutLook.BINDS))
WAYS: Final = (("left", CutLook.TO_THE_LEFT), ("right", CutLook.TO_THE_RIGHT))
GRAINS: Final = (("across", CutLook.ACROSS), ("along", CutLook.ALONG))
WOODS: Final = (("dry", CutLook.GOOD), ("damp closes", CutLook.BINDS))

#: A cut that wanders has left its line by so much of half the board at its end.
_OFF: Final = 0.7


def cuts(boards: Sequence[Board], width: int, height: int, *, ascii: bool = False) -> Rows:
    """The boards side by side with the person at the lower edge, each cut from there on along its dotted line.

    Best from 26 × 8 on for three boards. Raises PictureError for an impossible room.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    captions = 1 if height >= 4 else 0
    step = width / len(boards)
    for number, (name, look) in enumerate(boards):
        left, right = round(number * step), round((number + 1) * step) - 1
        _board(sheet, look, left, max(1, min(right - left, 3 * height)), height - captions, ascii)
        if captions:
            middle = left + min(right - left, 3 * height) / 2
            sheet.put_centered(middle, height - 1, name[: max(1, right - left)], Role.STRONG)
    return sheet.rows()


def _board(sheet: Sheet, look: CutLook, left: int, width: int, rows: int, ascii: bool) -> None:
    wood = WOOD.cell(ascii=ascii)
    across, along = ("-", "|") if ascii else ("─", "│")
    kerf = 2 if width >= 8 else 1
    line = left + (width - kerf) // 2
    for y in range(rows):
        grain = wood * width
        if look is CutLook.ACROSS:
            grain = (across if y % 2 else wood) * width
        elif look is CutLook.ALONG:
            grain = ((along + wood) * width)[:width]
        sheet.put(left, y, grain, WOOD.role)
    # The cut goes from the person's edge; some of the line is still before it.
    end = max(0, rows // 5)
    for y in range(rows):
        sheet.put(line + kerf // 2, y, "." if ascii else "·", Role.LABEL)
    for y in range(end, rows):
        share = (rows - 1 - y) / max(1, rows - 1 - end)
        off = round(_OFF * share**2 * (width - kerf) / 2)
        x = line - off if look is CutLook.TO_THE_LEFT else line + off if look is CutLook.TO_THE_RIGHT else line
        sheet.put(x, y, " " * kerf, Role.PLAIN)
        if look is CutLook.BINDS:
            # The wood has closed on the plate.
            sheet.put(x, y, (STEEL.cell(ascii=ascii) + wood)[:kerf], STEEL.role)
    if look is CutLook.BINDS and width >= 6:
        back, forth = "<>" if ascii else "◀▶"
        for y in range(end + 1, rows, 3):
            sheet.put(line - 1, y, forth, Role.ARROW)
            sheet.put(line + 1, y, back, Role.ARROW)
    elif width >= 6:
        sheet.put(line, rows - 1, ("^" if ascii else "▲") * kerf, Role.ARROW)
