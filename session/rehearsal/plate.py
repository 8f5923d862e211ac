"""A simulated saw plate: what files, a saw set and a stone do to it, and what an eye sees on it.

Each tooth is held by three numbers: where its front and its back cross the nominal line, and how high it still
stands. A front leans back by tan F and a back forward by tan B, so both meet (front − back)·depth/pitch above
that line; where the tooth ends lower it shows a flat. Steel is only ever taken: the front moves toward the
heel, the back toward the toe, the top down.

Gullet k lies in front of tooth k. Gullet 0 stands for the back of tooth 1, behind which no gullet is counted.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from session.trade.saw import Leans, Saw
from session.trade.setting import bends_back, set_slope
from session.trade.sides import side_on_which_leans_away
from session.trade.strokes import gullet_volume_mm3
from session.trade.tooth import tooth_of

#: A flat narrower than this gives back no light that an eye would see at the bench: judgment.
SEEN_MM = 0.004

#: A point stands out alone from so many times the middle set of its row: judgment.
ALONE = 1.15


class PlateError(ValueError):
    """Work that the plate does not allow, such as a tooth that is not there; the message says what is allowed."""


@dataclass(slots=True)
class ToothSteel:
    """The steel of one tooth, in mm.

    front, back: where its flanks cross the nominal line, along the line. top: its height over that line,
    below 0 once the line has come down. set_mm: how far it stood out when last bent or stoned, at
    the height ``set_top``. slope: set lost for each mm of height, fixed when it was bent; None while ``set_top`` is
    where that was. burr: whether the file has left a burr on it. broken: only a stump is left.
    """

    front: float
    back: float
    top: float
    set_mm: float
    set_top: float
    slope: float | None = None
    burr: bool = False
    broken: bool = False


@dataclass(frozen=True, slots=True)
class Stroked:
    """One gullet as it was filed: its number, the side the person stood at, and the strokes given, 1 or more."""

    gullet: int
    side: int
    strokes: int


@dataclass(slots=True)
class SimulatedPlate:
    """The plate of ``saw``, which may carry another number of teeth than its recipe says.

    teeth: from the heel. filed: every gullet filed, in order. Lengths in mm.
    """

    saw: Saw
    teeth: list[ToothSteel]
    filed: list[Stroked] = field(default_factory=list)

    @property
    def points(self) -> int:
        """Points along the line, counted on the plate itself."""
        return len(self.teeth)

    @property
    def depth_mm(self) -> float:
        """Depth of the sharp tooth that the recipe's file leaves."""
        return tooth_of(self.saw).depth_mm

    @property
    def rise(self) -> float:
        """Depth over pitch: how high a tooth stands for each mm between its flanks."""
        return self.depth_mm / self.saw.pitch_mm

    def apex_mm(self, tooth: int) -> float:
        """Where the flanks of ``tooth`` meet, over the nominal line: its height once it is sharp."""
        steel = self.tooth(tooth)
        return (steel.front - steel.back) * self.rise

    def flat_mm(self, tooth: int) -> float:
        """Width of the flat on ``tooth``, 0 or more."""
        steel = self.tooth(tooth)
        return max(0.0, steel.front - steel.back - steel.top / self.rise)

    def flat_ends_mm(self, tooth: int) -> tuple[float, float]:
        """Where the flat of ``tooth`` begins and ends along the line: its back and its front at its own height."""
        steel, cut = self.tooth(tooth), tooth_of(self.saw)
        back, front = math.tan(math.radians(cut.back_deg)), math.tan(math.radians(cut.front_deg))
        return steel.back + steel.top * back, steel.front - steel.top * front

    def shines(self, tooth: int) -> bool:
        """Whether an eye sees a flat on ``tooth`` that a file may take away; a stump has none."""
        return not self.tooth(tooth).broken and self.flat_mm(tooth) > SEEN_MM

    def flats_of_gullet(self, gullet: int) -> tuple[float, float]:
        """Widths of the flats behind and ahead of ``gullet`` (0 … N); 0 where there is no tooth or only a stump."""
        return self._flat_or_none(gullet), self._flat_or_none(gullet + 1)

    def broken(self) -> tuple[int, ...]:
        """Numbers of the broken teeth."""
        return tuple(k for k in self._numbers() if self.teeth[k - 1].broken)

    def hollow_mm(self) -> float:
        """How far the middle third of the line lies under its two ends, by their middle heights; below 0: crowned."""
        tops = [steel.top for steel in self.teeth if not steel.broken]
        third = max(1, len(tops) // 3)
        ends = tops[:third] + tops[-third:]
        middle = tops[third:-third] or tops
        return _middle_of(ends) - _middle_of(middle)

    def set_mm(self, tooth: int) -> float:
        """How far ``tooth`` stands out today: what its bend has left after the line has come down."""
        steel = self.tooth(tooth)
        came_down = max(0.0, steel.set_top - steel.top)
        return max(0.0, steel.set_mm - self._slope(steel) * came_down)

    def _slope(self, steel: ToothSteel) -> float:
        if steel.slope is not None:
            return steel.slope
        return set_slope(steel.set_mm, self.depth_mm, self.saw.bent_share)

    def over_points_mm(self) -> float:
        """Width over the points: the middle one of five readings spread along the line."""
        spread = max(1, (self.points - 2) // 4)
        readings = []
        for first in range(1, self.points, spread):
            pair = (first, first + 1)
            if not any(self.tooth(k).broken for k in pair):
                readings.append(self.saw.plate.mm + sum(self.set_mm(k) for k in pair))
        return _middle_of(readings) if readings else self.saw.plate.mm

    def leans_away(self, tooth: int, side: int) -> bool:
        """Whether ``tooth`` leans away from a person at ``side``."""
        return side_on_which_leans_away(tooth, self._leans()) == side

    def tooth(self, number: int) -> ToothSteel:
        """Tooth ``number``, 1 … N. Raises PlateError for another."""
        if not 1 <= number <= self.points:
            raise PlateError(f"tooth {number} is not on the plate; allowed: 1 to {self.points}")
        return self.teeth[number - 1]

    def level(self, take_mm: float, *, first: int = 1, tilt_mm: float = 0.0) -> float:
        """One pass along the line that takes ``take_mm`` off its highest point; gives the height it leaves.

        first: the tooth at which the file is laid on. tilt_mm: how much higher a file not held square leaves the row
        that leans toward a person at side 1.
        """
        if not (math.isfinite(take_mm) and take_mm >= 0.0):
            raise PlateError(f"a pass of {take_mm:g} mm; allowed: 0 mm or more")
        line = max(steel.top for steel in self.teeth[first - 1 :]) - take_mm
        for tooth in self._numbers()[first - 1 :]:
            steel = self.teeth[tooth - 1]
            tilted = tilt_mm if tilt_mm and not self.leans_away(tooth, 1) else 0.0
            steel.top = min(steel.top, line + tilted)
        return line

    def take_mm(self, gullet: int, volume_mm3: float) -> float:
        """How much wider ``volume_mm3`` of steel makes ``gullet`` at the line: gullet_volume_mm3 turned round."""
        behind, ahead = self.flats_of_gullet(gullet)
        gap = max(0.0, self.saw.pitch_mm - (behind + ahead) / 2.0)
        # The volume is plate·rise·take·(gap + take/2), so the take is the positive root.
        return math.sqrt(gap * gap + 2.0 * volume_mm3 / (self.saw.plate.mm * self.rise)) - gap

    def volume_mm3(self, gullet: int, take_mm: float) -> float:
        """Steel in a take from ``gullet``, both flanks together."""
        behind, ahead = self.flats_of_gullet(gullet)
        gap = max(0.0, self.saw.pitch_mm - (behind + ahead) / 2.0)
        return gullet_volume_mm3(take_mm, gap, self.rise, self.saw.plate.mm)

    def stroke(self, gullet: int, behind_mm: float, ahead_mm: float) -> None:
        """Take ``behind_mm`` off the front of the tooth behind ``gullet`` (0 … N), ``ahead_mm`` off the back ahead.

        All of it or, with a PlateError, nothing.
        """
        if not 0 <= gullet <= self.points:
            raise PlateError(f"gullet {gullet} is not on the plate; allowed: 0 to {self.points}")
        flanks = ((gullet, behind_mm, True), (gullet + 1, ahead_mm, False))
        for tooth, take, _ in flanks:
            if not (math.isfinite(take) and take >= 0.0):
                raise PlateError(f"gullet {gullet}: a take of {take:g} mm; allowed: 0 mm or more")
            if take > 0.0:
                self.tooth(tooth)
        for tooth, take, front in flanks:
            if take > 0.0:
                steel = self.tooth(tooth)
                if front:
                    steel.front -= take
                else:
                    steel.back += take
                steel.burr = True
                steel.top = min(steel.top, self.apex_mm(tooth))

    def bend(self, tooth: int, side: int, to_mm: float) -> None:
        """Bend ``tooth`` away from a person at ``side`` until it stands out by ``to_mm``; one bent enough stays.

        Raises PlateError for a broken tooth and for one that leans toward the person: bent back it may break out.
        """
        steel = self.tooth(tooth)
        against = bends_back(tooth, side, self._leans())
        if against is not None:
            raise PlateError(against)
        if steel.broken:
            raise PlateError(f"tooth {tooth} is broken; a stump is not set")
        if to_mm > self.set_mm(tooth):
            steel.set_mm, steel.set_top, steel.slope = to_mm, steel.top, None

    def dress(self, side: int, take_mm: float) -> None:
        """One pass of the stone along the face up at ``side``: no burr there, ``take_mm`` less set.

        A point that stands out alone bears the stone alone: half of what it stands out more goes too (judgment).
        """
        row = [k for k in self._numbers() if not self.leans_away(k, side)]
        middle = _middle_of([self.set_mm(k) for k in row]) if row else 0.0
        for k in row:
            steel = self.teeth[k - 1]
            alone = max(0.0, self.set_mm(k) - ALONE * middle) / 2.0
            steel.burr, steel.slope = False, self._slope(steel)
            steel.set_mm, steel.set_top = max(0.0, self.set_mm(k) - take_mm - alone), steel.top

    def _leans(self) -> Leans:
        return Leans.AWAY if self.saw.first_leans is Leans.UNSET else self.saw.first_leans

    def _numbers(self) -> range:
        return range(1, self.points + 1)

    def _flat_or_none(self, tooth: int) -> float:
        return self.flat_mm(tooth) if 1 <= tooth <= self.points and not self.teeth[tooth - 1].broken else 0.0


def _middle_of(values: Sequence[float]) -> float:
    return sorted(values)[len(values) // 2]
