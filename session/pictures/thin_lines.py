"""Thin lines: braille dots, two across and four down in each cell, so that dots lie on a square grid.

Measures are in units as in `session.pictures.filled_shapes`: a cell is one unit wide and two high, a dot half a unit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from session.pictures.filled_shapes import Point
from session.pictures.picture_rows import Role
from session.pictures.sheet import Sheet

_DOT_BITS: Final = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))


class Strokes:
    """A grid of ``width`` × ``height`` cells on which lines are drawn as dots."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height = width, height
        self._dots: dict[tuple[int, int], float] = {}

    def line(self, a: Point, b: Point) -> None:
        """A straight line from ``a`` to ``b``, in units; what lies outside the grid is cut off."""
        across, down = (b[0] - a[0]) * 2, (b[1] - a[1]) * 2
        steps = max(1, math.ceil(max(abs(across), abs(down))))
        if steps > 100_000:
            return
        lean = math.atan2(-down, across)
        for step in range(steps + 1):
            x = math.floor(a[0] * 2 + across * step / steps)
            y = math.floor(a[1] * 2 + down * step / steps)
            if 0 <= x < self.width * 2 and 0 <= y < self.height * 4:
                self._dots[x, y] = lean

    def outline(self, corners: Sequence[Point], *, closed: bool = True) -> None:
        """Lines from corner to corner, and back to the first when ``closed``."""
        for a, b in pairwise([*corners, corners[0]] if closed else corners):
            self.line(a, b)

    def dotted(self, inside: Sequence[Point], every: int = 3) -> None:
        """A sparse pattern of dots inside a convex polygon: the mark of a cut surface."""
        edges = list(pairwise([*inside, inside[0]]))
        for y in range(self.height * 4):
            for x in range(self.width * 2):
                if (x + y) % every == 0 and (x - y) % every == 0:
                    at = ((x + 0.5) / 2, (y + 0.5) / 2)
                    turns = [(b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]) for a, b in edges]
                    if all(t >= 0 for t in turns) or all(t <= 0 for t in turns):
                        self._dots.setdefault((x, y), math.nan)

    def draw(self, sheet: Sheet, role: Role, *, ascii: bool = False, over: bool = False) -> None:
        """Put the dots on the sheet; cells that already show something are kept unless ``over``."""
        cells: dict[tuple[int, int], int] = {}
        leans: dict[tuple[int, int], list[float]] = {}
        for (x, y), lean in self._dots.items():
            at = (x // 2, y // 4)
            cells[at] = cells.get(at, 0) | _DOT_BITS[y % 4][x % 2]
            if not math.isnan(lean):
                leans.setdefault(at, []).append(lean)
        for (x, y), bits in cells.items():
            if not over and sheet.char(x, y) != " ":
                continue
            if not ascii:
                sheet.put(x, y, chr(0x2800 + bits), role)
            elif (x, y) in leans:
                sheet.put(x, y, _ascii(leans[x, y], bits), role)


def _ascii(leans: Sequence[float], bits: int) -> str:
    """The character whose stroke is nearest to the mean direction of the lines in a cell."""
    # Directions are doubled, so that a line and the same line drawn backward have one mean.
    mean = math.atan2(sum(math.sin(2 * a) for a in leans), sum(math.cos(2 * a) for a in leans)) / 2
    degrees = math.degrees(mean) % 180
    if degrees < 22 or degrees > 158:
        low, high = bits & 0b11000000, bits & 0b00001001
        return "_" if low else "'" if high and not bits & 0b00110110 else "-"
    if 75 < degrees < 105:
        return "|"
    return "/" if degrees <= 75 else "\\"
