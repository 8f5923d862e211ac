"""Leveling: what the flats tell, whether the line is good enough, and what the saw has left.

Leveling by Δ leaves on each point a flat of width Δ·(tan F + tan B) = Δ·pitch/depth, so a flat read with
a loupe is a height, and the heights of all sharpenings add up to what the saw has lost.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from typing import Final

from session.trade.middle_values import median
from session.trade.trade_error import TradeError
from session.value_class import dataclass

#: What one light leveling pass takes off: from memory.
PASS_MM: Final = 0.02

#: So many low teeth may stay and wait for the line to come down to them (HASL: leave them alone); the
#: number is common practice, no source.
LOW_TOLERATED: Final = 3

#: Of so many pairs of neighboring flats at least, this share has to have the larger one in the same row: judgment.
TURNS_FROM: Final = 12
TURNS_SHARE: Final = 0.75


@dataclass(frozen=True, slots=True)
class LineLoss:
    """What leveling has taken off a saw in all its recorded sharpenings.

    total_mm: the sum; each_mm: the median of one sharpening, None without records; left_mm: what the line has
    left above the limit, never below 0; sharpenings_left: how many at that median, None when it cannot be told.
    """

    total_mm: float
    each_mm: float | None
    left_mm: float
    sharpenings_left: int | None


def off_from_flat_mm(flat_mm: float, pitch_mm: float, depth_mm: float) -> float:
    """Height taken off a tooth that shows a flat ``flat_mm`` wide: width · depth / pitch, in millimeters.

    Raises TradeError for a flat below 0 or as wide as the pitch: then nothing of the tooth is left.
    """
    _tooth(pitch_mm, depth_mm)
    if not (math.isfinite(flat_mm) and 0.0 <= flat_mm < pitch_mm):
        raise TradeError(f"a flat of {flat_mm:g} mm; allowed: 0 mm or more, less than the pitch, {pitch_mm:g} mm")
    return flat_mm * depth_mm / pitch_mm


def flat_from_off_mm(off_mm: float, pitch_mm: float, depth_mm: float) -> float:
    """Width of the flat left by taking ``off_mm`` (0 or more, less than the depth) off a sharp tooth."""
    _tooth(pitch_mm, depth_mm)
    if not (math.isfinite(off_mm) and 0.0 <= off_mm < depth_mm):
        raise TradeError(f"{off_mm:g} mm off the tooth; allowed: 0 mm or more, less than its depth, {depth_mm:g} mm")
    return off_mm * pitch_mm / depth_mm


def untouched(flats: Sequence[float], broken: Collection[int] = ()) -> tuple[int, ...]:
    """The teeth (1 = heel) that no pass has touched, by the flats of all teeth, 0 for a tooth without one.

    Broken teeth do not count: no leveling is to go down to a stump (DREW-22).
    """
    return tuple(tooth for tooth, flat in enumerate(flats, 1) if flat == 0.0 and tooth not in broken)


def untouched_words(low: int) -> tuple[bool, str]:
    """Whether a line with so many teeth (0 or more) that no pass has touched is good enough, and why."""
    if low > LOW_TOLERATED:
        return False, f"{low} teeth show no flat; up to {LOW_TOLERATED} may stay."
    if low:
        return True, f"{low} low, left until the line comes down to {'it' if low == 1 else 'them'} (HASL)."
    return True, "Every tooth shows a flat."


def by_turns(flats: Mapping[int, float], broken: Collection[int] = ()) -> bool:
    """Whether flats are big and small by turns: nearly always the same row has the larger one, by a grade or more.

    flats: widths by tooth, in any one unit, as they were graded. A line of teeth that differ by chance is none: of few
    neighbors nothing is said, and of many, three in four have to agree (judgment).
    """
    pairs, larger = 0, Counter[bool]()
    for tooth, width in flats.items():
        if tooth + 1 in flats and tooth not in broken and tooth + 1 not in broken:
            pairs += 1
            if width != flats[tooth + 1]:
                larger[(width > flats[tooth + 1]) == bool(tooth % 2)] += 1
    return pairs >= TURNS_FROM and max(larger.values(), default=0) >= TURNS_SHARE * pairs


def line_loss(off_mm: Sequence[float], first_limit_mm: float) -> LineLoss:
    """Sum up what the sharpenings took off, oldest first, against a limit stated by the owner.

    first_limit_mm: how far the line may come down in all, counted from before the first record (a
    plate that gets too narrow, a back that gets too near). Raises TradeError for a negative amount.
    """
    if not (math.isfinite(first_limit_mm) and first_limit_mm >= 0.0):
        raise TradeError(f"a limit of {first_limit_mm:g} mm; allowed: 0 mm or more")
    for number, off in enumerate(off_mm, 1):
        if not (math.isfinite(off) and off >= 0.0):
            raise TradeError(f"sharpening {number} took {off:g} mm off the line; allowed: 0 mm or more")
    total = math.fsum(off_mm)
    left = max(0.0, first_limit_mm - total)
    each = median(off_mm) if off_mm else None
    count = math.floor(left / each + 1e-9) if each else None
    return LineLoss(total, each, left, count)


def _tooth(pitch_mm: float, depth_mm: float) -> None:
    for what, mm in (("pitch", pitch_mm), ("depth", depth_mm)):
        if not (math.isfinite(mm) and mm > 0.0):
            raise TradeError(f"{what} {mm:g} mm; allowed: above 0 mm")
