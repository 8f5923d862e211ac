"""The file as it crosses the plate, seen from above with the person at the lower edge: its angle, and where it goes."""

from __future__ import annotations

import math
from functools import lru_cache

from session.pictures.filled_shapes import Point, Solid
from session.pictures.materials import FILE, STEEL
from session.pictures.picture_rows import PictureError, Role, Rows, check_room, first_that_fits
from session.pictures.sheet import Sheet
from session.trade.saw import FilePoints
from session.trade.sides import goes_left


class CrossingFile:
    """The file with its handle, about ``center``, its tip up and turned by the fleam."""

    def __init__(self, width: int, height: int, x: float, y: float, fleam: float, to_left: bool) -> None:
        self._sin, self._cos = math.sin(math.radians(fleam)), math.cos(math.radians(fleam))
        self._center = (x, y)
        self._sign = -1 if to_left else 1
        # The arrow wants a row of its own before the tip, which a small room has not to spare.
        reach = min(height - (2.5 if height >= 12 else 1.5), (width / 2 - 3) / max(self._sin, 0.05))
        self._width, self._height = width, height
        self._tip, self._butt, self._end = reach, -0.55 * reach, -1.02 * reach
        self._square = fleam > 0

    def at(self, along: float, across: float) -> Point:
        """A point given along the file's axis toward its tip, and across it, units."""
        x = self._sign * (along * self._sin + across * self._cos)
        return self._center[0] + x, self._center[1] - along * self._cos + across * self._sin

    def draw(self, sheet: Sheet, ascii: bool) -> None:
        """Lay the file over everything, its handle solid, an arrow before its tip; dots show what is square across."""
        if self._square:
            x, y = self._center
            for row in range(int(y / 2)):
                if sheet.char(int(x), row) == " ":
                    sheet.put(int(x), row, "." if ascii else "·", Role.FRAME)
        half = 1.25
        body = [(self._butt, -half), (self._tip, -half * 0.7), (self._tip, half * 0.7), (self._butt, half)]
        _clear(sheet, [self.at(along, across + math.copysign(1.2, across)) for along, across in body])
        file = Solid(self._width, self._height)
        file.fill([self.at(along, across) for along, across in body])
        file.lay(sheet, FILE, ascii=ascii)
        handle = Solid(self._width, self._height)
        handle.fill(
            [self.at(a, b) for a, b in ((self._butt, -1.6), (self._butt, 1.6), (self._end, 2), (self._end, -2))]
        )
        handle.draw(sheet, Role.HANDLE, ascii=ascii)
        x, y = self.at(self._tip + 1.6, 0.0)
        sheet.put(math.floor(x), max(0, math.floor(y / 2)), "^" if ascii else "▲", Role.ARROW)


def _clear(sheet: Sheet, polygon: list[Point]) -> None:
    """Take out of the sheet what lies under the polygon, so that what is laid on it stands out by its edge too."""
    gap = Solid(sheet.width, sheet.height)
    gap.fill(polygon)
    for x, y in gap.half_covered():
        sheet.put(x, y, " ", Role.PLAIN)


def points_left(points: FilePoints, side: int) -> bool:
    """Whether the file's tip goes to the left."""
    return goes_left(points is FilePoints.TOE, side)


def check_fleam(fleam: float) -> None:
    """Raise PictureError unless the fleam is 0 to 60 degrees."""
    if not 0 <= fleam <= 60:
        raise PictureError(f"fleam {fleam:g} degrees: allowed are 0 to 60")


@lru_cache(maxsize=8)
def file_across(
    fleam: float, side: int, file_points: FilePoints, width: int, height: int, *, ascii: bool = False
) -> Rows:
    """The file alone over a piece of the plate, for a small room: turned by ``fleam`` degrees (0 … 60), its arrow
    where it is pushed to. Best from 12 × 7 on.

    side: 1 toe on the left, 2 toe on the right. Raises PictureError for an impossible angle, side or room.
    """
    check_room(width, height)
    check_fleam(fleam)
    if side not in (1, 2):
        raise PictureError(f"side {side}: allowed are 1 (toe on the left) and 2 (toe on the right)")
    captions = 1 if height >= 6 else 0
    sheet = Sheet(width, height)
    rows = height - captions
    row = rows // 2
    sheet.put(0, row, STEEL.cell(ascii=ascii) * width, STEEL.role)
    CrossingFile(width, rows, width // 2 + 0.5, 2 * row + 1.0, fleam, points_left(file_points, side)).draw(sheet, ascii)
    if captions:
        degrees = " deg" if ascii else "°"
        words = (f"fleam {fleam:g}{degrees}", f"{fleam:g}{degrees}") if fleam else ("square across", "square")
        sheet.put_centered(width / 2, height - 1, first_that_fits(width, words), Role.STRONG)
    return sheet.rows()
