"""The whole saw from its side: what to look at all round, the handle tried, the plate sighted, the oiled rag."""

from __future__ import annotations

from typing import Final

from session.pictures.filled_shapes import Solid
from session.pictures.materials import HANDLE, JAW, LIGHT, STEEL
from session.pictures.picture_rows import Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet

#: Rows above and below the saw that its labels take.
_LABELS: Final = 2


def all_round(width: int, height: int, *, ascii: bool = False) -> Rows:
    """The saw with what may be wrong with each part of it. Best from 26 × 9 on; raises PictureError for a bad room."""
    sheet, top, low, end = _saw(width, height, ascii)
    down, up = ("v", "^") if ascii else ("▼", "▲")
    told = first_that_fits(end, ("bend, rust, gum?", "bend, rust?", ""))
    sheet.put_centered(end / 2, top - 2, told, Role.STRONG)
    sheet.put_centered(end / 2, top - 1, down, Role.ARROW)
    sheet.put(max(0, width - 6), top - 2, "loose?", Role.STRONG)
    sheet.put(max(0, width - 4), top - 1, down, Role.ARROW)
    told = first_that_fits(
        width, ("crack?  dark tips?  uneven teeth?", "crack? dark tips? uneven?", "crack? dark? uneven?", "crack?")
    )
    sheet.put_centered(end / 2, low + 2, told, Role.STRONG)
    for x in (end // 4, end // 2, 3 * end // 4):
        sheet.put(x, low + 1, up, Role.ARROW)
    return sheet.rows()


def handle_tried(width: int, height: int, *, ascii: bool = False) -> Rows:
    """The plate held, the handle moved in every direction. Best from 26 × 9 on; raises PictureError for a bad room."""
    sheet, top, low, end = _saw(width, height, ascii)
    down, up, left, right = "v^<>" if ascii else "▼▲◀▶"
    middle = (end + width) // 2
    sheet.put_centered(middle, top - 1, up, Role.ARROW)
    sheet.put_centered(middle, low + 1, down, Role.ARROW)
    row = (top + low) // 2
    sheet.put(end - 2, row, left, Role.ARROW)
    sheet.put(width - 1, row, right, Role.ARROW)
    sheet.put_centered(end / 2, top - 1, first_that_fits(end, ("hold the plate", "hold")), Role.STRONG)
    told = first_that_fits(width, ("does the handle move on the plate?", "does it move?", "moves?"))
    sheet.put_centered(width / 2, low + 2, told, Role.STRONG)
    return sheet.rows()


def wiped(width: int, height: int, *, ascii: bool = False) -> Rows:
    """An oiled rag that goes from the back down, and off before the points; a brush that goes out over them.

    Best from 26 × 9 on; raises PictureError for a bad room.
    """
    sheet, top, low, end = _saw(width, height, ascii)
    down = "v" if ascii else "▼"
    wide, at = max(4, end // 4), end // 3
    for row in range(top - 1, max(top, (top + low) // 2)):
        sheet.put(at, row, LIGHT.cell(ascii=ascii) * wide, LIGHT.role)
    # It is off the plate before the points: no arrow leads a hand onto them.
    for row in range((top + low) // 2, max(low, (top + low) // 2 + 1)):
        sheet.put(at + wide // 2 - 1, row, f" {down} ", Role.ARROW)
    sheet.put_centered(at + wide / 2, top - 2, first_that_fits(end, ("oiled rag", "rag")), Role.STRONG)
    # No hand is on the bristles that go over the points.
    brush, hair = 5 * end // 6, "|" if ascii else "│"
    sheet.put(brush - 1, low - 1, HANDLE.cell(ascii=ascii) * 3, HANDLE.role)
    sheet.put(brush - 1, low, hair * 3, Role.FRAME)
    sheet.put(brush, low + 1, down, Role.ARROW)
    told = first_that_fits(
        width, ("rag off before the points, brush out over them", "points: rag off, brush over", "rag, brush")
    )
    sheet.put_centered(width / 2, low + 2, told, Role.STRONG)
    return sheet.rows()


def plate_sighted(width: int, height: int, *, ascii: bool = False) -> Rows:
    """A straight and a bent plate as they look along the back, the eye at the heel. Best from 26 × 8 on.

    Raises PictureError for an impossible room.
    """
    check_room(width, height)
    sheet = Sheet(width, height)
    grip = max(2, width // 10)
    arrow = "<--" if ascii else "◀──"
    told = first_that_fits(width, (f"{arrow} your eye looks from the handle", f"{arrow} eye at the handle", arrow))
    sheet.put(width - len(told), 0, told, Role.ARROW)
    rows = max(2, (height - 1) // 2)
    for number, bent, name in ((0, 0.0, "straight"), (1, 1.0, "bent")):
        top = 1 + number * rows
        room = 2.0 * max(1, rows - 1)
        bow = bent * max(0.0, room - 2.0)
        count, end = 24, float(width - grip)
        upper = [(end * n / count, 2.0 * top + bow * (2 * n / count - 1) ** 2) for n in range(count + 1)]
        plate = Solid(width, height)
        plate.fill([*upper, *((x, y + 1.6) for x, y in reversed(upper))])
        plate.lay(sheet, STEEL, ascii=ascii)
        sheet.put(int(end), int((upper[-1][1] + 0.8) / 2), HANDLE.cell(ascii=ascii) * grip, HANDLE.role)
        row = top + rows - 1 if not bent else top + max(1, rows // 2)
        sheet.put_centered(width / 2, min(height - 1, row), name, Role.STRONG)
    return sheet.rows()


def brushed(width: int, height: int, *, ascii: bool = False) -> Rows:
    """Filings brushed off the bench, away from the face. Best from 26 × 8 on; raises PictureError for a bad room."""
    check_room(width, height)
    sheet = Sheet(width, height)
    bench = height - 3
    for row in range(max(1, bench), height - 1):
        sheet.put(0, row, JAW.cell(ascii=ascii) * width, JAW.role)
    brush = width // 4
    wood, hair = HANDLE.cell(ascii=ascii), "|" if ascii else "│"
    tall = max(1, min(3, bench - 3))
    for row in range(bench - 1 - tall, bench - 1):
        sheet.put(brush + 2, row, wood * 2, HANDLE.role)
    sheet.put(brush, bench - 2, wood * 6, HANDLE.role)
    sheet.put(brush, bench - 1, hair * 6, Role.FRAME)
    for x in range(brush + 8, width, 3):
        sheet.put(x, bench - 1, "." if ascii else "·", Role.FLAT)
        sheet.put(x + 1, bench - 2 if x % 2 else bench - 1, "'" if ascii else "·", Role.FLAT)
    arrow = "====>" if ascii else "════▶"
    sheet.put(brush + 9, max(0, bench - 4), arrow, Role.ARROW)
    sheet.put(0, bench - 1, "you", Role.LABEL)
    told = first_that_fits(width, ("a brush, away from your face, never the hand", "away from your face", "brush"))
    sheet.put_centered(width / 2, height - 1, told, Role.STRONG)
    return sheet.rows()


def put_by(width: int, height: int, *, ascii: bool = False) -> Rows:
    """File, saw set and stone over their places on a shelf. Best from 26 × 7 on; raises PictureError for a bad room."""
    check_room(width, height)
    sheet = Sheet(width, height)
    shelf = height - 2
    step = width / 3
    down, file, stone = ("v", "%", ":") if ascii else ("▼", "▒", "░")
    steel = STEEL.cell(ascii=ascii)
    wide = max(4, int(step) - 3)
    shapes = (
        ("file", (HANDLE.cell(ascii=ascii) * 2 + file * wide)[:wide], Role.FILE),
        ("saw set", (steel * 2 + " " + steel * wide)[:wide], Role.STEEL),
        ("stone", stone * wide, Role.FILE),
    )
    for number, (name, shape, role) in enumerate(shapes):
        middle = (number + 0.5) * step
        sheet.put_centered(middle, max(0, shelf - 4), shape, role)
        sheet.put_centered(middle, max(0, shelf - 2), down, Role.ARROW)
        sheet.put_centered(middle, height - 1, name[: int(step)], Role.STRONG)
    sheet.put(0, shelf, JAW.cell(ascii=ascii) * width, JAW.role)
    return sheet.rows()


def _saw(width: int, height: int, ascii: bool) -> tuple[Sheet, int, int, int]:
    """The saw, its toe on the left, its points below; its first and last row, and where its handle begins."""
    check_room(width, height)
    sheet = Sheet(width, height)
    top = _LABELS if height >= 8 else 1
    low = max(top + 1, min(height - 1 - _LABELS, top + max(3, width // 7)))
    grip = max(5, min(16, width // 4))
    end = width - grip
    plate = Solid(width, height)
    foot = 2.0 * low
    # The back falls toward the toe (HOLTZ: a hand saw is about twice as wide at its heel as at its toe).
    plate.fill([(0.0, foot), (0.0, (2.0 * top + foot) / 2), (float(end), 2.0 * top), (float(end), foot)])
    plate.lay(sheet, STEEL, ascii=ascii)
    sheet.put(0, low, ("v" if ascii else "▼") * end, Role.STEEL)
    wood = HANDLE.cell(ascii=ascii)
    for row in range(top, low + 1):
        hollow = top < row < low and grip >= 6
        sheet.put(end, row, wood * 3 + " " * (grip - 5) + wood * 2 if hollow else wood * grip, HANDLE.role)
        # Without color too it is seen where the plate ends.
        sheet.put(end, row, " ", Role.PLAIN)
    return sheet, top, low, end
