"""Trial cuts: how fast and how straight a saw cuts."""

from __future__ import annotations

import math
from typing import Final

from session.trade.rounding import significant
from session.trade.trade_error import TradeError
from session.value_class import dataclass

#: Outside this, an advance per stroke is more likely a slip of the pen than a cut: judgment.
LIKELY_ADVANCE_MM: Final = (0.05, 100.0)

#: A cut that leaves its line by so much in 100 mm, or by more, is one that wanders: judgment.
WANDERS_FROM_MM: Final = 0.5


def leaves_line_mm(length_mm: float, wander_mm: float) -> float:
    """How far a cut leaves its line over 100 mm, in mm, without its side; length_mm above 0.

    wander_mm: how far it is off at the end of its length."""
    return abs(wander_mm) / length_mm * 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialCut:
    """One trial cut.

    length_mm, thickness_mm: of the cut and of the board, above 0; strokes: 1 or more.
    wander_mm: how far the cut left the line at its end; positive to the right of the person sawing, else negative.
    days: days since the sharpening, 0 or more. wood: as the person calls it; only cuts in one wood compare.
    """

    length_mm: float
    thickness_mm: float
    strokes: int
    wander_mm: float = 0.0
    days: float = 0.0
    wood: str = ""

    def __post_init__(self) -> None:
        for what, mm in (("length of the cut", self.length_mm), ("thickness of the board", self.thickness_mm)):
            if not (math.isfinite(mm) and mm > 0.0):
                raise TradeError(f"{what} {mm:g} mm; allowed: above 0 mm")
        if self.strokes < 1:
            raise TradeError(f"{self.strokes} strokes; allowed: 1 or more")
        if not (math.isfinite(self.wander_mm) and abs(self.wander_mm) <= self.length_mm):
            raise TradeError(
                f"wander {self.wander_mm:g} mm; allowed: no more than the cut's length, {self.length_mm:g} mm"
            )
        if not (math.isfinite(self.days) and self.days >= 0.0):
            raise TradeError(f"{self.days:g} days after the sharpening; allowed: 0 or more")

    @property
    def advance_mm(self) -> float:
        """Length cut by one stroke, mm."""
        return self.length_mm / self.strokes

    @property
    def area_mm2(self) -> float:
        """Area of one face of the kerf cut by one stroke, mm²."""
        return self.length_mm * self.thickness_mm / self.strokes

    @property
    def wander_per_100_mm(self) -> float:
        """How far the cut leaves the line over 100 mm, in mm, without its side."""
        return leaves_line_mm(self.length_mm, self.wander_mm)

    @property
    def wander_side(self) -> str:
        """To which side it leaves it: "right", "left", or "straight"."""
        return "right" if self.wander_mm > 0 else "left" if self.wander_mm < 0 else "straight"

    @property
    def unlikely(self) -> str | None:
        """A sentence when the advance looks like a slip of the pen; else None."""
        low, high = LIKELY_ADVANCE_MM
        if low <= self.advance_mm <= high:
            return None
        usual = f"(usual: {low:g} to {high:g} mm)"
        return f"{significant(self.advance_mm, 3)} mm a stroke is unlikely; check length and strokes {usual}."
