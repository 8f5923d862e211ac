"""What unknown tones leave in doubt of a line: half of what its figures differ by, read by usual or by linear ones.

Tones move every edge alike, so that flats come out wider or narrower by some hundredths of a millimeter, and heights
against the line hardly otherwise. The half is added to the standard uncertainties, tooth by tooth.
"""

from __future__ import annotations

import math
from typing import Any, Final

from session.trade.middle_values import median
from session.trade.scanned_line import IN_DOUBT, ScannedLine, ScannedTooth, ToothState, is_measured
from session.value_class import replace

#: Where the other reading tells nothing of a tooth: so many dots are in doubt of a flat, a height and a place (found
#: on rendered scans).
FLAT_DOTS, HEIGHT_DOTS, PLACE_DOTS = 1.2, 0.3, 0.3

#: A figure, its uncertainty, and what is in doubt of it at least where the other reading has none, in dots.
_FIGURES: Final = (
    ("height_mm", "se_mm", HEIGHT_DOTS),
    ("flat_mm", "se_flat_mm", FLAT_DOTS),
    ("place_mm", "se_place_mm", PLACE_DOTS),
    ("front_deg", "se_front_deg", 0.0),
    ("back_deg", "se_back_deg", 0.0),
)


def with_doubt(line: ScannedLine, other: ScannedLine | None, dot: float) -> tuple[ScannedLine, float]:
    """``line``, as usual tones have it, with what is in doubt beside ``other``, as linear ones have it, None where they
    make no such line; and half of what a flat differs by, mm, the middle one. dot: mm."""
    if other is None or other.count != line.count:
        return replace(line, teeth=tuple(_tooth(one, None, 0.0, dot) for one in line.teeth)), FLAT_DOTS * dot
    both = list(zip(line.teeth, other.teeth, strict=True))
    # Where tooth 1 was taken to stand is no part of what another differs by.
    moved = median(two.place_mm - one.place_mm for one, two in both)
    flats = [
        abs(one.flat_mm - two.flat_mm) / 2.0
        for one, two in both
        if one.flat_mm is not None and two.flat_mm is not None and max(one.flat_mm, two.flat_mm) > 0.0
    ]
    teeth = tuple(_tooth(one, two, moved, dot) for one, two in both)
    gap = (line.line_gap_mm - other.line_gap_mm) / 2.0
    told = replace(line, teeth=teeth, se_line_gap_mm=math.hypot(line.se_line_gap_mm, gap))
    return told, median(flats) if flats else 0.0


def _tooth(one: ScannedTooth, two: ScannedTooth | None, moved: float, dot: float) -> ScannedTooth:
    more: dict[str, Any] = {}
    for name, se, dots in _FIGURES:
        here, stated = getattr(one, name), getattr(one, se)
        there = None if two is None else getattr(two, name)
        if here is None or stated is None:
            continue
        off = dots * dot if there is None else (there - here - (moved if name == "place_mm" else 0.0)) / 2.0
        more[se] = math.hypot(stated, off)
    one = replace(one, **more)
    if two is not None and is_measured(one.state) and is_measured(two.state) and two.state is not one.state:
        return replace(one, state=ToothState.NOT_SEEN, why=IN_DOUBT)
    return one
