"""The file's triangle seated in its gullet, drawn large, as the person sees it from the file's handle, on each side."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Final

from session.prints.drawn_shapes import Anchor, Ink, Lettering, Shape, Spot, Trace, arrow, from_plumb
from session.prints.sheet_draft import SMALL, WORDS
from session.trade.sides import goes_left
from session.trade.tooth import FILE_DEG

#: How large the triangle is drawn, in mm along a side, at most, and how much plate is drawn under the teeth.
LARGEST: Final = 38.0
_PLATE: Final = 9.0


def times_as_large(face_mm: float) -> int:
    """By how much a file of that face is drawn larger."""
    return max(1, int(LARGEST / face_mm))


def seated_file(
    pitch_mm: float, rake: float, face_mm: float, side: int, gullet: Spot, half: float
) -> tuple[Shape, ...]:
    """The file in a gullet whose floor is at ``gullet``, with as much of the line as ``half`` mm either way hold.

    rake: as the guide block holds the file. Everything is seen along the file, ``times_as_large`` as it is.
    """
    large = times_as_large(face_mm)
    heel = -1 if goes_left(False, side) else 1
    front, back = math.tan(math.radians(rake)), math.tan(math.radians(FILE_DEG - rake))
    pitch = pitch_mm * large
    depth = pitch / (front + back)
    x, y = gullet
    line: list[Spot] = []
    for number in range(-int(half / pitch) - 1, int(half / pitch) + 2):
        floor = x + number * pitch
        line += [(floor, y), (floor + (front if heel > 0 else back) * depth, y - depth)]
    cut = _between(line, x - half, x + half)
    plate = ((x + half, y + _PLATE), (x - half, y + _PLATE))
    face = face_mm * large
    corners = (gullet, from_plumb(gullet, heel * rake, face), from_plumb(gullet, heel * (rake - FILE_DEG), face))
    handle = (x + heel * half, y + _PLATE + 5.0)
    return (
        Trace((*cut, *plate), Ink.SHADE, closed=True),
        Trace(cut, Ink.LINE),
        Trace(corners, Ink.BOLD, closed=True, name=f"seated-side-{side}"),
        *arrow((handle[0] - heel * 14.0, handle[1]), handle, 2.4),
        Lettering((handle[0] - heel * 16.0, handle[1] + 1.1), "to the handle", SMALL, _outward(heel)),
        Lettering((x, y + _PLATE + 13.0), f"side {side}, as you see it", WORDS, Anchor.MIDDLE),
    )


def _outward(heel: int) -> Anchor:
    return Anchor.END if heel > 0 else Anchor.START


def _between(line: list[Spot], left: float, right: float) -> tuple[Spot, ...]:
    """The part of a line, given from left to right, between two uprights."""
    found: list[Spot] = []
    for (a, up), (b, down) in pairwise(line):
        low, high = max(a, left), min(b, right)
        if low <= high and b > a:
            found += [(at, up + (down - up) * (at - a) / (b - a)) for at in (low, high)]
        elif a == b and left <= a <= right:
            found.append((b, down))
    return tuple(dict.fromkeys(found))
