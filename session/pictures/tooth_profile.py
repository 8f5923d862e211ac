"""A few teeth from the side, points up and the handle on the right, as rake and fleam leave them on the plate."""

from __future__ import annotations

import math

from session.pictures.filled_shapes import Solid
from session.pictures.materials import STEEL
from session.pictures.picture_rows import PictureError, Role, Rows, check_room
from session.pictures.sheet import Sheet


def profile(front_deg: float, back_deg: float, width: int, height: int, *, ascii: bool = False) -> Rows:
    """Teeth whose fronts lean ``front_deg`` back from square and whose backs ``back_deg``, seen on the plate.

    Best from 30 × 5 on. Raises PictureError for angles that leave no tooth, or an impossible room.
    """
    check_room(width, height)
    rise = math.tan(math.radians(front_deg)) + math.tan(math.radians(back_deg))
    if not (-45 < front_deg < 80 and -45 < back_deg < 80 and rise > 0.05):
        raise PictureError(f"front {front_deg:g} and back {back_deg:g} degrees leave no tooth")
    sheet = Sheet(width, height)
    captions = 1 if height >= 4 else 0
    depth = 2.0 * (height - captions) - 1.0
    pitch = depth * rise
    steel = Solid(width, height)
    # The toe is on the left, and the fronts face it.
    front, back = depth * math.tan(math.radians(front_deg)), depth * math.tan(math.radians(back_deg))
    for count in range(math.ceil(width / pitch) + 2):
        tip = (count - 0.5) * pitch
        steel.fill([(tip, 0.5), (tip + back, depth + 0.5), (tip - front, depth + 0.5)])
    steel.fill([(0.0, depth + 0.5), (width, depth + 0.5), (width, 2.0 * (height - captions)), (0.0, 2.0 * height)])
    steel.lay(sheet, STEEL, ascii=ascii)
    if captions:
        back_sign, forth = "<>" if ascii else "◀▶"
        sheet.put(0, height - 1, " " * width, Role.PLAIN)
        sheet.put(0, height - 1, f"{back_sign} toe", Role.LABEL)
        sheet.put(width - 8, height - 1, f"handle {forth}", Role.LABEL)
        degrees = " deg" if ascii else "°"
        text = f"front {front_deg:.0f}{degrees}, back {back_deg:.0f}{degrees}"
        if width >= len(text) + 18:
            sheet.put_centered(width / 2, height - 1, text, Role.STRONG)
    return sheet.rows()
