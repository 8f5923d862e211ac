"""A few teeth as their steel really stands, seen near: flats, and tops that are lower than the line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from session.pictures.picture_rows import Role, Rows, check_room
from session.pictures.sheet import Sheet
from session.pictures.tooth_row import RowTooth, ToothRow, sum_tan
from session.value_class import dataclass

#: So many pitches are shown across.
_ACROSS: Final = 3.6


@dataclass(frozen=True, slots=True)
class BareTooth:
    """One tooth, in mm: where its flat begins and ends from the heel on, and how far its top is below the line."""

    back_mm: float
    front_mm: float
    below_mm: float


def bare_teeth(
    teeth: Sequence[BareTooth],
    at_mm: float,
    pitch_mm: float,
    angles: tuple[float, float],
    width: int,
    height: int,
    *,
    side: int,
    ascii: bool = False,
) -> Rows:
    """The teeth around ``at_mm`` (from the heel), their numbers under them and a mark over the place.

    angles: of front and back on the plate. side: 1 has the heel on the right, 2 on the left. Raises PictureError for an
    impossible room or angles.
    """
    check_room(width, height)
    sheet, total = Sheet(width, height), sum_tan(*angles)
    scale = width / _ACROSS / pitch_mm
    tips, ground = 2.2, 2.0 * max(1, height - 1)
    row = ToothRow(*angles, pitch_mm * scale / total, tips, ground)

    def x(mm: float) -> float:
        return (mm - at_mm) * scale + width / 2

    drawn = [
        RowTooth(x((one.back_mm + one.front_mm) / 2), (one.front_mm - one.back_mm) * scale, one.below_mm * scale)
        for one in teeth
    ]
    row.draw(sheet, drawn, ascii=ascii)
    sheet.flip() if side == 1 else None
    for number, one in enumerate(drawn, 1):
        at = width - one.x if side == 1 else one.x
        if 0 <= at < width:
            sheet.put(max(0, math.floor(at)), height - 1, str(number), Role.STRONG)
    sheet.put_centered(width / 2, 0, "v" if ascii else "▼", Role.NOW)
    ends = ("toe", "heel") if side == 1 else ("heel", "toe")
    sheet.put(0, height - 1, ends[0], Role.LABEL)
    sheet.put(width - len(ends[1]), height - 1, ends[1], Role.LABEL)
    return sheet.rows()
