"""Grades of a flat, 0 to 4, as an eye with a loupe tells them apart, and the width each stands for.

A filer does not measure 180 flats; one glance and one key a tooth is what can be asked. The widths are
shares of the pitch, so that a grade looks the same on a coarse and on a fine saw (judgement).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

#: Width of the flat as a share of the pitch, by grade: judgement, no source.
SHARES: Final = (0.0, 0.04, 0.10, 0.18, 0.30)

#: What each grade looks like.
WORDS: Final = ("none", "a touch", "small", "clear", "wide")

#: Taken for a tooth that was not graded: the middle of what a light leveling leaves (judgement).
USUAL: Final = 2


class GradeError(ValueError):
    """A grade that is none; the message says which are."""


def width_mm(grade: int, pitch_mm: float) -> float:
    """The width in mm that ``grade`` (0 … 4) stands for at this pitch. Raises GradeError for another grade."""
    if isinstance(grade, bool) or grade not in range(len(SHARES)):
        raise GradeError(f"grade {grade!r}; allowed: 0 to {len(SHARES) - 1}")
    return SHARES[grade] * pitch_mm


def widths_mm(grades: Mapping[int, int], points: int, pitch_mm: float) -> tuple[float, ...]:
    """The widths of all flats of the line, those not graded taken as usual."""
    return tuple(width_mm(grades.get(tooth, USUAL), pitch_mm) for tooth in range(1, points + 1))
