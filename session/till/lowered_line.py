"""How far the flats of its levelings say that a line came down: a middle, and the range that coarse grades leave open.

A tooth without a flat is low and was not reached, so it says nothing of how far the others came down.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Final, Self

from session.trade.grades import OLD_SHARES, SHARES, span_of
from session.trade.leveling import off_from_flat_mm
from session.trade.middle_values import median
from session.value_class import dataclass
from session.walk.tally import Leveling


@dataclass(frozen=True, slots=True)
class LoweredLine:
    """Heights in mm, 0 or more. middle_mm: by the width that each grade stands for. least_mm, most_mm: by the
    narrowest and the widest flats that get these grades."""

    least_mm: float
    middle_mm: float
    most_mm: float

    @classmethod
    def of(cls, heights: Iterable[tuple[float, float, float]]) -> Self:
        """All levelings together, each as least, middle and most. Errors of an eye are alike each time, so that the
        ends of the ranges are added up."""
        least, middle, most = zip(*heights, strict=True)
        return cls(math.fsum(least), math.fsum(middle), math.fsum(most))


#: A line that was not leveled.
AS_IT_WAS: Final = LoweredLine(0.0, 0.0, 0.0)


def lowered_by_counts(flats: Iterable[tuple[int, ...]], pitch_mm: float, depth_mm: float) -> LoweredLine:
    """By how many flats had each grade after each leveling. Raises TradeError for a pitch or a depth that is none."""
    return LoweredLine.of(_heights(counts, pitch_mm, depth_mm) for counts in flats)


def _heights(counts: tuple[int, ...], pitch_mm: float, depth_mm: float) -> tuple[float, float, float]:
    scale = SHARES if len(counts) == len(SHARES) else OLD_SHARES
    spans = [span_of(grade, scale) for grade in range(len(scale))]
    each = ([least for least, _ in spans], scale, [most for _, most in spans])
    least, middle, most = (off_from_flat_mm(_middle(counts, widths) * pitch_mm, pitch_mm, depth_mm) for widths in each)
    return least, middle, most


def _middle(counts: tuple[int, ...], widths: Iterable[float]) -> float:
    """The median of the flats that show, each as wide as its grade has it in ``widths``; 0 when none shows."""
    # Counts come from a file: weighed, not spelled out one by one.
    shown = sum(counts[1:])
    half, seen = [(shown - 1) // 2, shown // 2], 0
    found: list[float] = []
    for width, count in zip(list(widths)[1:], counts[1:], strict=True):
        found += [width for at in half if seen <= at < seen + count]
        seen += count
    return median(found) if found else 0.0


def lowered_by_teeth(levelings: Iterable[Leveling], depth_mm: Callable[[int], float]) -> LoweredLine:
    """By the flat of each tooth, whose depth is ``depth_mm`` of it: what a scan measured is as wide as it measured."""
    found = []
    for leveling in levelings:
        shown = [
            tuple(depth_mm(tooth) * width for width in _open(leveling, tooth, share))
            for tooth, share in leveling.flats.items()
            if share > 0.0
        ]
        least, middle, most = (median(ends) for ends in zip(*shown, strict=True)) if shown else (0.0, 0.0, 0.0)
        found.append((least, middle, most))
    return LoweredLine.of(found)


def _open(leveling: Leveling, tooth: int, share: float) -> tuple[float, float, float]:
    scale = leveling.scale
    if tooth in leveling.scanned or share not in scale:
        return share, share, share
    least, most = span_of(scale.index(share), scale)
    return least, share, most
