"""Grades of a flat, as an eye with a loupe tells them apart, and the width each stands for.

A filer does not measure 180 flats; one glance and one key a tooth is what can be asked. The widths are shares of the
pitch, so that a grade looks the same on a coarse and on a fine saw (judgment). A light leveling leaves 1 to 4 % of the
pitch, so that the scale begins with a hair and doubles from grade to grade.

Logs of before hold grades of a coarser scale. Which scale a grade belongs to is told by its unit, and what a state or a
summary hands on is the share itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.trade.trade_error import TradeError

#: The unit of the grades given today, and of those that older logs hold.
GRADE: Final = "fine grade"
OLD_GRADE: Final = "grade"

#: Width of the flat as a share of the pitch, by grade: judgment, no source.
SHARES: Final = (0.0, 0.01, 0.02, 0.04, 0.08, 0.16)

#: The same for a grade that an older log holds.
OLD_SHARES: Final = (0.0, 0.04, 0.10, 0.18, 0.30)

#: By unit, the scale of a grade.
SCALES: Final[Mapping[str, tuple[float, ...]]] = {GRADE: SHARES, OLD_GRADE: OLD_SHARES}

#: What each grade looks like; the last stands for all that is more.
WORDS: Final = ("none", "a hair", "narrow", "clear", "wide", "more")

#: Taken for a tooth that was not graded: the middle of what a light leveling leaves (judgment).
USUAL: Final = 2


def share_of(grade: object, unit: str | None) -> float | None:
    """The share of the pitch that ``grade`` stands for in the scale of ``unit``; None for what is no grade.

    A grade without a unit is of the old scale.
    """
    scale = SCALES.get(OLD_GRADE if unit is None else unit)
    if scale is None or isinstance(grade, bool) or not isinstance(grade, int) or grade not in range(len(scale)):
        return None
    return scale[grade]


def width_mm(grade: int, pitch_mm: float) -> float:
    """The width in mm that ``grade`` of today's scale stands for at this pitch. Raises TradeError for another grade."""
    share = share_of(grade, GRADE)
    if share is None:
        raise TradeError(f"grade {grade!r}; allowed: 0 to {len(SHARES) - 1}")
    return share * pitch_mm


def nearest(share: float, scale: tuple[float, ...] = SHARES) -> int:
    """The grade of ``scale`` whose width comes nearest to ``share`` of the pitch; 0 only for none."""
    if share <= 0.0:
        return 0
    return min(range(1, len(scale)), key=lambda grade: abs(scale[grade] - share))


def span_of(grade: int, scale: tuple[float, ...] = SHARES) -> tuple[float, float]:
    """The least and the most, as shares of the pitch, of the flats that an eye gives ``grade`` of ``scale``, 0 or more.

    From halfway to the grade below up to halfway to the one above, as `nearest` tells them; of the widest, which stands
    for all that is more, up to half as much again (judgment). Nothing where there is no flat.
    """
    if grade == 0:
        return 0.0, 0.0
    most = (scale[grade] + scale[grade + 1]) / 2 if grade + 1 < len(scale) else 1.5 * scale[grade]
    return (scale[grade - 1] + scale[grade]) / 2, most


def widths_mm(shares: Mapping[int, float], points: int, pitch_mm: float) -> tuple[float, ...]:
    """The widths of all flats of the line by their ``shares`` of the pitch, those not graded taken as usual."""
    return tuple(shares.get(tooth, SHARES[USUAL]) * pitch_mm for tooth in range(1, points + 1))
