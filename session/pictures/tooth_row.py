"""Teeth in a row, seen from the side: each with its flat, standing lower or higher than the line, or as a stump.

Drawn with the toe on the right. Units as in `session.pictures.filled_shapes`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from session.pictures.filled_shapes import Solid
from session.pictures.materials import LIGHT, STEEL
from session.pictures.picture_rows import PictureError
from session.pictures.sheet import Sheet
from session.value_class import dataclass

#: How much of a broken tooth is drawn as gone, as a share of its depth.
GONE: Final = 0.6


@dataclass(frozen=True, slots=True)
class RowTooth:
    """One tooth: the middle of its point from the left, its flat, how far its top is below the line, all in units.

    stump: what is left of a broken tooth; its flat and top are not looked at.
    """

    x: float
    flat: float = 0.0
    below: float = 0.0
    stump: bool = False


@dataclass(frozen=True, slots=True)
class ToothRow:
    """A row of teeth of one shape.

    front_deg, back_deg: lean of front and back from square, seen on the plate. depth: of a sharp tooth, units.
    tips: where the line of the points is, from above. ground: where the plate ends below.
    """

    front_deg: float
    back_deg: float
    depth: float
    tips: float
    ground: float

    @property
    def pitch(self) -> float:
        """From one tooth to the next, units."""
        return self.depth * sum_tan(self.front_deg, self.back_deg)

    def draw(self, sheet: Sheet, teeth: Sequence[RowTooth], *, ascii: bool) -> None:
        """Put the teeth on the plate, their flats in the texture of what shines."""
        tan_front, tan_back = math.tan(math.radians(self.front_deg)), math.tan(math.radians(self.back_deg))
        floor = min(self.ground, self.tips + self.depth)
        steel = Solid(sheet.width, sheet.height)
        for tooth in teeth:
            top, behind, ahead = self.tips + tooth.below, tooth.flat / 2, tooth.flat / 2
            if tooth.stump:
                gone = GONE * self.depth
                top, behind, ahead = self.tips + gone, gone * tan_back, gone * tan_front
            down = max(0.0, floor - top)
            steel.fill(
                [
                    (tooth.x - behind - down * tan_back, floor),
                    (tooth.x - behind, top),
                    (tooth.x + ahead, top),
                    (tooth.x + ahead + down * tan_front, floor),
                ]
            )
        width = float(sheet.width)
        steel.fill([(0.0, floor), (0.0, self.ground), (width, self.ground), (width, floor)])
        steel.draw(sheet, STEEL.role, ascii=ascii)
        for tooth in teeth:
            if tooth.flat > 0 and not tooth.stump:
                row = int((self.tips + tooth.below) / 2)
                # In whole cells, so that of two flats the wider one shines wider.
                cells = max(1, math.floor(tooth.flat + 0.5))
                first = math.floor(tooth.x - cells / 2 + 0.5)
                for x in range(first, first + cells):
                    sheet.texture(x, row, LIGHT, ascii=ascii)


def sum_tan(front_deg: float, back_deg: float) -> float:
    """Pitch by depth of teeth with these angles. Raises PictureError for angles that leave no tooth to draw."""
    total = math.tan(math.radians(front_deg)) + math.tan(math.radians(back_deg))
    if not (-60 <= front_deg <= 80 and -60 <= back_deg <= 80 and 0.3 <= total <= 8):
        raise PictureError(f"front {front_deg:g} and back {back_deg:g} degrees leave no tooth to draw")
    return total
