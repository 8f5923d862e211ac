"""The set as the widths over the points tell it, and what today's own work will leave of it.

How it wears, when it is due, over or uneven is asked of the room of arithmetic and of `session.advice.set_advice`.
"""

from __future__ import annotations

from typing import Final

from session.advice.saw_records import SawRecords
from session.advice.set_advice import LEAST_SHARE, PLENTY, slope_of, stone_alone_evens
from session.advice.wood_words import wood_class
from session.trade.kerf import SET_ERROR_MM, bent_height_mm
from session.trade.lengths import Length
from session.trade.observation import Seen
from session.trade.saw import Saw
from session.trade.set_readings import SetReadings, set_readings
from session.trade.set_rules import WOODS, set_advice
from session.trade.setting import SetLine, set_due
from session.trade.tooth import shallowest_mm
from session.value_class import dataclass, replace

#: How far apart the fullest and the leanest place of a line are that was just set by hand, as a share of the set:
#: judgment. On a coarse saw that is more than a caliper can be wrong.
BY_HAND: Final = 0.15


@dataclass(frozen=True, slots=True)
class MeasuredSet:
    """What is known of the set per side.

    asked: the saw with the set that the recipe, or where it is silent what is usual, asks for in this wood. want_mm,
    least_mm: those amounts. fullest_mm: more than this is more than the work in this wood can use (judgment). arm_mm:
    how far below the point the bend sits. readings: of today, None when not measured. line: the set by now and how it
    goes with the steel, by today's readings, else by the records; None when not known.
    """

    asked: Saw
    want_mm: float
    least_mm: float
    fullest_mm: float
    arm_mm: float
    readings: SetReadings | None
    line: SetLine | None

    @property
    def now_mm(self) -> float | None:
        """The set by now; None when not known."""
        return None if self.line is None else self.line.left_mm

    @property
    def over(self) -> bool:
        """Whether it is over the fullest useful set by more than the caliper can be wrong."""
        return self.now_mm is not None and self.want_mm > 0 and self.now_mm > self.fullest_mm + SET_ERROR_MM

    @property
    def uneven(self) -> bool:
        """Whether the readings differ by more than two readings of one width can."""
        return self.readings is not None and self.readings.uneven

    @property
    def unevener_than_set(self) -> bool:
        """The same, and by more than a hand leaves that sets the teeth anew: then setting can even it."""
        if self.readings is None or not self.uneven:
            return False
        return self.readings.most_mm - self.readings.least_mm > BY_HAND * self.want_mm

    @property
    def places(self) -> int:
        """At how many places it was measured today."""
        return 0 if self.readings is None else self.readings.count

    @property
    def under_wanted(self) -> bool:
        """Whether it is under what the recipe asks for by more than the caliper can be wrong."""
        return self.now_mm is not None and set_due(self.now_mm, self.want_mm)

    def enough_to_stone(self, off_mm: float = 0.0) -> bool:
        """Whether the leanest place still has the least set once it is stoned and the line came down by ``off_mm``."""
        return self.readings is not None and stone_alone_evens(self.asked, self.readings, down_mm=off_mm)

    def left_mm(self, off_mm: float, stones: int = 0) -> float | None:
        """What is left once the line has come down by ``off_mm`` and each side was stoned ``stones`` times.

        Where nobody knows the set, only that a line come down by the whole bent part has none.
        """
        if self.line is None:
            return 0.0 if off_mm >= self.arm_mm else None
        return self.line.after(off_mm, stones).left_mm

    def due(self, off_mm: float, stones: int = 0) -> bool:
        """Whether that is under the least by more than the caliper can be wrong; False when nobody can tell."""
        left = self.left_mm(off_mm, stones)
        return left is not None and self.want_mm > 0 and set_due(left, self.least_mm)

    @property
    def under_least(self) -> bool:
        """Whether there is less than the least, be it by a hair."""
        return self.now_mm is not None and self.now_mm < self.least_mm


def measured_set(saw: Saw, seen: Seen, records: SawRecords) -> MeasuredSet:
    """What is known of the set of ``saw``. Raises TradeError for angles that leave no tooth."""
    arm = bent_height_mm(shallowest_mm(saw), saw.bent_share)
    want, least = _asked_for(saw, seen)
    asked = replace(saw, set_per_side=Length.of(want, "thou"), least_per_side=Length.of(least, "thou"))
    line, readings = records.line, None
    if seen.over_points:
        # A caliper's error under the plate is no set at all.
        readings = set_readings([max(saw.plate.mm, width.mm) for width in seen.over_points], saw.plate.mm)
        slope = line.slope if line is not None else slope_of(asked, readings.middle_mm) or 0.0
        line = SetLine(readings.middle_mm, slope)
    return MeasuredSet(asked, want, least, _fullest_mm(saw, seen, want), arm, readings, line)


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


def _fullest_mm(saw: Saw, seen: Seen, want_mm: float) -> float:
    """The fullest useful set per side: PLENTY times the wanted, and in wood that is wetter or softer than the recipe's
    as much as is usual there (KING, FIT, GRIF, MTS, HOLTZ, SPON, NOYES: more; the amount as `set_advice` has it)."""
    fullest = PLENTY * want_mm
    wood = wood_class(seen.wood)
    if wood is None or WOODS.index(wood) <= WOODS.index(saw.wood):
        return fullest
    return max(fullest, set_advice(saw.kind, saw.cut, wood, saw.plate.mm, saw.pitch_mm).high_mm)
