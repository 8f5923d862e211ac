"""Filled shapes: polygons sampled eight by eight in each cell and matched to block characters.

Measures are in *units*: a cell is one unit wide and two high, as cells of a terminal nearly are, so that
an angle drawn here is the angle seen. x grows to the right, y downward.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

from session.pictures.materials import Material
from session.pictures.picture_rows import Role
from session.pictures.sheet import Sheet

Point = tuple[float, float]

#: Samples across and down in one cell.
_GRAIN: Final = 8

#: So many samples covered are a full cell.
_FULL: Final = _GRAIN * _GRAIN - 2


def _glyph_masks() -> tuple[tuple[str, int], ...]:
    """Block characters with the samples they cover; only shapes whose mirror image is one too."""
    half = _GRAIN // 2

    def mask(covers: Sequence[Sequence[bool]]) -> int:
        return sum(1 << (y * _GRAIN + x) for y in range(_GRAIN) for x in range(_GRAIN) if covers[y][x])

    def where(rows: range, columns: range) -> list[list[bool]]:
        return [[y in rows and x in columns for x in range(_GRAIN)] for y in range(_GRAIN)]

    everything, left, right = range(_GRAIN), range(half), range(half, _GRAIN)
    upper, lower = range(half), range(half, _GRAIN)
    found = [(" ", 0), ("█", mask(where(everything, everything))), ("▀", mask(where(upper, everything)))]
    found += [(chr(0x2580 + n), mask(where(range(_GRAIN - n, _GRAIN), everything))) for n in range(1, _GRAIN)]
    found += [("▌", mask(where(everything, left))), ("▐", mask(where(everything, right)))]
    corners = {
        "▘": mask(where(upper, left)),
        "▝": mask(where(upper, right)),
        "▖": mask(where(lower, left)),
        "▗": mask(where(lower, right)),
    }
    whole = found[1][1]
    found += corners.items()
    opposite = {"▟": "▘", "▙": "▝", "▜": "▖", "▛": "▗"}
    found += [(char, whole & ~corners[without]) for char, without in opposite.items()]
    return tuple(found)


_GLYPHS: Final = _glyph_masks()


@lru_cache(maxsize=4096)
def _nearest(mask: int) -> str:
    return min(_GLYPHS, key=lambda glyph: (glyph[1] ^ mask).bit_count())[0]


@lru_cache(maxsize=4096)
def _nearest_ascii(mask: int) -> str:
    covered = mask.bit_count() / (_GRAIN * _GRAIN)
    if covered >= 0.65:
        return "#"
    lower = (mask >> (_GRAIN * _GRAIN // 2)).bit_count() * 2 / (_GRAIN * _GRAIN)
    if covered >= 0.3:
        return ":" if lower >= 0.55 else "'"
    return "." if covered >= 0.12 and lower >= 0.2 else " "


class Solid:
    """A bitmap of ``width`` × ``height`` cells in which polygons are filled or cut out."""

    def __init__(self, width: int, height: int) -> None:
        self.width, self.height = width, height
        self._lines = (0,) * (height * _GRAIN)

    def fill(self, polygon: Sequence[Point]) -> None:
        """Fill the polygon. Its corners are in units; it may cross itself (even-odd)."""
        filled = _filled(self.width, self.height, tuple(polygon))
        self._lines = tuple(had | more for had, more in zip(self._lines, filled, strict=True))

    def half_covered(self) -> Iterator[tuple[int, int]]:
        """Column and row of each cell of which at least half is filled."""
        return ((x, y) for x, y, mask in self._cells() if mask.bit_count() * 2 >= _GRAIN * _GRAIN)

    def draw(self, sheet: Sheet, role: Role, *, ascii: bool = False) -> None:
        """Put every cell that is not empty on the sheet."""
        for x, y, text in _texts(self.width, self._lines, ascii):
            sheet.put(x, y, text, role)

    def lay(self, sheet: Sheet, material: Material, *, ascii: bool = False, over: bool = True) -> None:
        """Put it on the sheet in the texture of ``material``, its edges as sharp as block characters show them.

        over: also over cells that already show something.
        """
        for x, y, mask in self._cells():
            if not over and sheet.char(x, y) != " ":
                continue
            if mask.bit_count() >= _FULL:
                char = material.cell(ascii=ascii)
            elif ascii or not material.edged:
                char = material.cell(ascii=ascii) if mask.bit_count() * 2 >= _GRAIN * _GRAIN else " "
            else:
                char = _nearest(mask)
                char = material.full if char == "█" else char
            if char != " ":
                sheet.put(x, y, char, material.role)

    def _cells(self) -> tuple[tuple[int, int, int], ...]:
        return _cells(self.width, self._lines)


# From one gullet to the next nothing but numbers may change in a picture: the shapes of the last ones are kept.


@lru_cache(maxsize=64)
def _filled(width: int, height: int, polygon: tuple[Point, ...]) -> tuple[int, ...]:
    """The samples in each line of samples that lie in the polygon, a bit each."""
    samples = [0] * (height * _GRAIN)
    edges = list(zip(polygon, [*polygon[1:], polygon[0]], strict=True))
    top = max(0, math.floor(min(y for _, y in polygon) * _GRAIN / 2) - 1)
    bottom = min(len(samples), math.ceil(max(y for _, y in polygon) * _GRAIN / 2) + 1)
    crossings: list[list[float]] = [[] for _ in range(top, bottom)]
    for (x0, y0), (x1, y1) in edges:
        # An edge is asked only of the lines that it can cross.
        low, high = (y0, y1) if y0 < y1 else (y1, y0)
        first = max(top, math.floor(low * _GRAIN / 2) - 1)
        for line in range(first, min(bottom, math.ceil(high * _GRAIN / 2) + 1)):
            y = (line + 0.5) * 2 / _GRAIN
            if (y0 <= y) != (y1 <= y):
                crossings[line - top].append(x0 + (y - y0) * (x1 - x0) / (y1 - y0))
    for line, found in enumerate(crossings, top):
        found.sort()
        for start, end in zip(found[::2], found[1::2], strict=False):
            at = _sample(start, width)
            count = _sample(end, width) - at
            if count > 0:
                samples[line] |= ((1 << count) - 1) << at
    return tuple(samples)


def _sample(x: float, width: int) -> int:
    return max(0, min(width * _GRAIN, math.ceil(x * _GRAIN - 0.5)))


@lru_cache(maxsize=64)
def _cells(width: int, samples: tuple[int, ...]) -> tuple[tuple[int, int, int], ...]:
    """Column, row and samples of each cell that is not empty."""
    found: list[tuple[int, int, int]] = []
    for y in range(len(samples) // _GRAIN):
        lines = samples[y * _GRAIN : (y + 1) * _GRAIN]
        if any(lines):
            # Eight samples across are a byte, so that a cell is one byte of each of its lines.
            for x, cell in enumerate(zip(*(line.to_bytes(width, "little") for line in lines), strict=True)):
                if any(cell):
                    found.append((x, y, int.from_bytes(cell, "little")))
    return tuple(found)


@lru_cache(maxsize=64)
def _texts(width: int, samples: tuple[int, ...], ascii: bool) -> tuple[tuple[int, int, str], ...]:
    """What is drawn of the cells, without a space in it, and the column and row where each text begins."""
    nearest = _nearest_ascii if ascii else _nearest
    found: list[tuple[int, int, str]] = []
    for x, y, mask in _cells(width, samples):
        if (char := nearest(mask)) == " ":
            continue
        if found and found[-1][1] == y and found[-1][0] + len(found[-1][2]) == x:
            x, y, before = found.pop()
            char = before + char
        found.append((x, y, char))
    return tuple(found)
