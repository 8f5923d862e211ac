"""The saw low in the vise, as the person stands before it: teeth just above the jaws, handle to one side."""

from __future__ import annotations

from session.pictures.ink import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet


def vise(side: int, width: int, height: int, *, above_jaws: str = "", ascii: bool = False) -> Rows:
    """The vise with the saw in it. ``above_jaws`` is how far the teeth stand out, as text with its unit.

    side: 1 handle on the right, 2 on the left. Best from 30 × 8 on. Raises PictureError for an impossible
    side or room.
    """
    check_room(width, height)
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (handle on the right) and 2 (handle on the left)")
    sheet = Sheet(width, height)
    captions = 1 if height >= 5 else 0
    tooth, plate, jaw, edge, grip = ("^", "#", "%", "=", "@") if ascii else ("▲", "█", "▒", "▓", "█")
    top = 1 if height >= 6 else 0
    bottom = height - captions - 1
    # Drawn with the handle on the right; the other side is its mirror image.
    grip_width = min(9, width // 4)
    saw_end = width - grip_width
    sheet.put(1, top, tooth * max(0, saw_end - 1), Role.STEEL)
    sheet.put(1, top + 1, plate * max(0, saw_end - 1), Role.STEEL)
    jaw_left, jaw_right = min(4, width // 8), saw_end - min(4, width // 8)
    for row in range(top + 2, bottom + 1):
        fill = edge if row == top + 2 else jaw
        sheet.put(jaw_left, row, fill * max(0, jaw_right - jaw_left), Role.VISE)
    if bottom - top >= 4:
        screw = "(o)" if ascii else "╺◉╸"
        sheet.put((jaw_left + jaw_right) // 2 - 1, top + 4, screw, Role.FRAME)
    for row in range(top, min(top + 4, bottom + 1)):
        hollow = row in (top + 1, top + 2) and grip_width >= 7
        body = grip * 2 + " " * (grip_width - 5) + grip * 2 if hollow else grip * (grip_width - 1)
        sheet.put(saw_end, row, body, Role.HANDLE)
    if side == 2:
        sheet.flip()
    if top:
        text = f"teeth {above_jaws} above the jaws" if above_jaws else "teeth just above the jaws"
        sheet.put_centered(width / 2, 0, first_that_fits(width, (text, "saw low in the jaws", "low")), Role.STRONG)
    if captions:
        near_left, near_right = ("toe", "handle") if side == 1 else ("handle", "toe")
        back, forth = "<>" if ascii else "◀▶"
        text = f"{near_right} {forth}"
        if len(near_left) + len(text) + 3 <= width:
            sheet.put(0, height - 1, f"{back} {near_left}", Role.LABEL)
            sheet.put(width - len(text), height - 1, text, Role.LABEL)
    return sheet.rows()
