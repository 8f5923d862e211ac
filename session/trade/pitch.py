"""Pitch, the spacing of the points, from the counts that people use, and back.

Points per inch counts both ends of the inch (NOYES p. 63, GRIF art. 11), teeth per inch counts the
spaces between them, and the metric count takes 25 mm, not 25.4 (BS3159 5.3.1, GOR p. 155).
"""

from __future__ import annotations

import math
from typing import Final

from session.trade.trade_error import TradeError

INCH_MM: Final = 25.4
METRIC_MM: Final = 25.0

#: A line with more points is a slip of the pen; no hand saw comes near (our own limit).
MOST_POINTS: Final = 3000


def from_points_per_inch(points: float) -> float:
    """Pitch in mm of ``points`` points in an inch, both ends counted; more than 1."""
    return _from_points(points, INCH_MM, "points per inch")


def from_teeth_per_inch(teeth: float) -> float:
    """Pitch in mm of ``teeth`` whole teeth (spaces) in an inch; more than 0."""
    return _from_spaces(teeth, teeth, INCH_MM, "teeth per inch", least=0)


def from_points_per_25mm(points: float) -> float:
    """Pitch in mm of ``points`` points in 25 mm, both ends counted; more than 1."""
    return _from_points(points, METRIC_MM, "points per 25 mm")


def count_points(length_mm: float, pitch_mm: float) -> int:
    """Points along a toothed length with a point at both ends: the nearest whole number of spaces, plus 1.

    Raises TradeError when the length holds no space (fewer than 2 points) or more than MOST_POINTS points.
    """
    pitch = checked_pitch(pitch_mm)
    if isinstance(length_mm, bool) or not math.isfinite(length_mm) or length_mm <= 0:
        raise TradeError(f"toothed length {length_mm!r} mm; allowed: a finite length above 0")
    spaces = length_mm / pitch
    # A tiny pitch makes the quotient infinite, which cannot be rounded; judge it before rounding.
    if spaces > MOST_POINTS - 0.5:
        raise TradeError(f"a pitch of {pitch:g} mm along {length_mm:g} mm gives too many points; at most {MOST_POINTS}")
    points = math.floor(spaces + 0.5) + 1
    if points < 2:
        raise TradeError(f"a toothed length of {length_mm:g} mm is shorter than one pitch of {pitch:g} mm")
    return points


def checked_pitch(pitch_mm: float) -> float:
    """The pitch itself when it is finite and above 0; else raises TradeError."""
    if isinstance(pitch_mm, bool) or not math.isfinite(pitch_mm) or pitch_mm <= 0:
        raise TradeError(f"pitch {pitch_mm!r} mm; allowed: a finite length above 0")
    return pitch_mm


def _from_points(points: float, per_mm: float, words: str) -> float:
    return _from_spaces(points, points - 1, per_mm, words, least=1)


def _from_spaces(count: float, spaces: float, per_mm: float, words: str, least: int) -> float:
    if isinstance(count, bool) or not math.isfinite(count) or spaces <= 0:
        raise TradeError(f"{count!r} {words}; allowed: a finite number above {least}")
    pitch = per_mm / spaces
    if not 0 < pitch < math.inf:
        raise TradeError(f"{count!r} {words} gives no pitch; allowed: a finite number above {least}")
    return pitch
