"""The set as the widths over the points tell it, and what today's own work will leave of it.

A caliper may be wrong by half a thou on each reading, so on the width and on the plate: half a thou on the set of one
side. Nothing is due by less than that.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median
from typing import Final

from session.advice.plausibility import READING_MM
from session.advice.saw_records import SawRecords
from session.trade.kerf import bent_height_mm
from session.trade.saw import Saw
from session.trade.set_rules import WOODS, set_advice
from session.trade.tooth import shallowest_mm
from session.walk.observation import Seen

#: The fullest useful set, as a multiple of the recipe's: judgement.
FULLEST: Final = 1.3

#: The least set where the recipe names none, as a share of the set it asks for: judgement.
LEAST_SHARE: Final = 0.5

#: What one light pass of the stone takes off the set of each side, in mm: judgement, nobody has printed it.
STONE_MM: Final = 0.25 * 0.0254


@dataclass(frozen=True, slots=True)
class MeasuredSet:
    """The set per side, all in mm.

    now_mm: the middle of the readings, else what the records foretell; None when neither tells. low_mm, high_mm: of the
    readings. readings: how many; 0 for one from the records. want_mm, least_mm: what the recipe (else what is usual)
    asks for in this wood. arm_mm: how far below the point the bend sits. slope: set lost for each mm of the line.
    """

    now_mm: float | None
    low_mm: float
    high_mm: float
    readings: int
    want_mm: float
    least_mm: float
    arm_mm: float
    slope: float

    @property
    def fullest_mm(self) -> float:
        """More than this is more than the work can use."""
        return FULLEST * self.want_mm

    @property
    def over(self) -> bool:
        """Whether it is over the fullest useful set by more than the caliper can be wrong."""
        return self.now_mm is not None and self.now_mm > self.fullest_mm + READING_MM + _SAME

    @property
    def uneven(self) -> bool:
        """Whether the readings differ by more than two of them can be wrong: a thou of width, half of that in set."""
        return self.readings > 1 and self.high_mm - self.low_mm > READING_MM + _SAME

    @property
    def enough_to_stone(self) -> bool:
        """Whether even the least of the readings is as much as the recipe asks for."""
        return self.low_mm >= self.want_mm - READING_MM - _SAME

    @property
    def under_wanted(self) -> bool:
        """Whether it is under what the recipe asks for by more than the caliper can be wrong."""
        return self.now_mm is not None and self.now_mm < self.want_mm - READING_MM - _SAME

    def left_mm(self, off_mm: float, stones: int = 0) -> float | None:
        """What is left once the line has come down by ``off_mm`` and each side was stoned ``stones`` times.

        s' = s − σ·δ (geometry of the bend: similar triangles), less what the stone takes.
        """
        if self.now_mm is None:
            return 0.0 if off_mm >= self.arm_mm else None
        return max(0.0, self.now_mm - self.slope * off_mm - STONE_MM * stones)

    def due(self, off_mm: float, stones: int = 0) -> bool:
        """Whether that is under the least by more than the caliper can be wrong; False when nobody can tell."""
        left = self.left_mm(off_mm, stones)
        return left is not None and self.want_mm > 0 and left < self.least_mm - READING_MM - _SAME


#: Below any caliper: what two ways of the same arithmetic may differ by.
_SAME: Final = 1e-6


def measured_set(saw: Saw, seen: Seen, records: SawRecords) -> MeasuredSet:
    """What is known of the set of ``saw``. Raises ToothError for angles that leave no tooth."""
    arm = bent_height_mm(shallowest_mm(saw), saw.bent_share)
    want, least = _asked_for(saw, seen)
    sets = sorted(max(0.0, (width.mm - saw.plate.mm) / 2) for width in seen.over_points)
    now = median(sets) if sets else records.set_mm
    # Without records the set is taken as bent on the day it was newest: the steeper slope does not over-tell its life.
    slope = records.slope if records.slope is not None else max(want, now or 0.0) / arm
    low, high = (sets[0], sets[-1]) if sets else (now or 0.0, now or 0.0)
    return MeasuredSet(now, low, high, len(sets), want, least, arm, slope)


def wood_class(wood: str | None) -> str | None:
    """Which of the three conditions of wood the person's words mean; None when they do not tell."""
    if wood is None:
        return None
    words = wood.casefold()
    if words in WOODS:
        return words
    if any(sign in words for sign in ("green", "wet", "damp")):
        return "green or wet"
    if "soft" in words:
        return "dry softwood"
    return "dry hardwood" if "hard" in words else None


def _asked_for(saw: Saw, seen: Seen) -> tuple[float, float]:
    """The set wanted and the least, per side: the recipe's; drier and harder wood than the recipe's asks for less."""
    usual = set_advice(saw.kind, saw.cut, saw.wood, saw.plate.mm, saw.pitch_mm)
    want = usual.low_mm if saw.set_per_side is None else saw.set_per_side.mm
    if saw.least_per_side is not None:
        least = saw.least_per_side.mm
    else:
        least = usual.least_mm if saw.set_per_side is None else LEAST_SHARE * want
    wood = wood_class(seen.wood)
    if wood is not None and WOODS.index(wood) < WOODS.index(saw.wood):
        least = min(least, set_advice(saw.kind, saw.cut, wood, saw.plate.mm, saw.pitch_mm).least_mm)
    return want, least
