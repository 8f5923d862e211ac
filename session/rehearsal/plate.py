"""A simulated saw plate: what files, a saw set and a stone do to it, and what an eye sees on it.

Each tooth is held by three numbers: where its front and its back cross the nominal line, and how high it still
stands. A front leans back by tan F and a back forward by tan B, so both meet (front − back)·depth/pitch above
that line; where the tooth ends lower it shows a flat. Steel is only ever taken: the front moves toward the
heel, the back toward the toe, the top down. A file held at other angles than the recipe's adds a cut of its own
to a front or a back, and only what lies behind all cuts is left.

The plate judges what the program says, so its physics share no arithmetic with `session.trade`: angles, steel, set
and sides are worked out here and in `file_cuts` anew, and held against solids in tests/reference.

Gullet k lies in front of tooth k. Gullet 0 stands for the back of tooth 1, behind which no gullet is counted.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from session.rehearsal.file_cuts import Cut, at, leans, meeting
from session.trade.saw import FilePoints, Leans, Saw
from session.value_class import dataclass, field

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
    where that was. burr: whether the file has left a burr on it. broken: only a stump is left. front_cuts, back_cuts:
    what a file held at other angles than the recipe's has cut besides.
    """

    front: float
    back: float
    top: float
    set_mm: float
    set_top: float
    slope: float | None = None
    burr: bool = False
    broken: bool = False
    front_cuts: tuple[Cut, ...] = ()
    back_cuts: tuple[Cut, ...] = ()


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
    _leans_held: tuple[float, float] | None = field(default=None, repr=False, compare=False)

    @property
    def points(self) -> int:
        """Points along the line, counted on the plate itself."""
        return len(self.teeth)

    @property
    def leans(self) -> tuple[float, float]:
        """How far fronts and backs lean from upright as the recipe has the file held, as tangents."""
        if self._leans_held is None:
            to_toe = self.saw.file_points is FilePoints.TOE
            self._leans_held = leans(self.saw.rake, self.saw.fleam, self.saw.slope, to_toe=to_toe)
        return self._leans_held

    @property
    def depth_mm(self) -> float:
        """Depth of the sharp tooth that the recipe's file leaves."""
        return self.saw.pitch_mm / sum(self.leans)

    @property
    def rise(self) -> float:
        """Depth over pitch: how high a tooth stands for each mm between its flanks."""
        return 1.0 / sum(self.leans)

    def fronts(self, tooth: int) -> list[Cut]:
        """The cuts of the front of ``tooth``, the recipe's first."""
        steel = self.tooth(tooth)
        return [(steel.front, -self.leans[0]), *steel.front_cuts]

    def backs(self, tooth: int) -> list[Cut]:
        """The cuts of the back of ``tooth``, the recipe's first."""
        steel = self.tooth(tooth)
        return [(steel.back, self.leans[1]), *steel.back_cuts]

    def apex_mm(self, tooth: int) -> float:
        """Where the flanks of ``tooth`` meet, over the nominal line: its height once it is sharp."""
        steel = self.tooth(tooth)
        if steel.front_cuts or steel.back_cuts:
            return meeting(self.fronts(tooth), self.backs(tooth))
        return (steel.front - steel.back) * self.rise

    def flat_mm(self, tooth: int) -> float:
        """Width of the flat on ``tooth``, 0 or more."""
        begins, ends = self.flat_ends_mm(tooth)
        return max(0.0, ends - begins)

    def flat_ends_mm(self, tooth: int) -> tuple[float, float]:
        """Where the flat of ``tooth`` begins and ends along the line: its back and its front at its own height."""
        top = self.tooth(tooth).top
        return max(at(cut, top) for cut in self.backs(tooth)), min(at(cut, top) for cut in self.fronts(tooth))

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
        # The bend begins at the bent share of the depth under the point, and runs straight from there.
        return steel.set_mm / (self.saw.bent_share * self.depth_mm)

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
        # Neighbors lean opposite ways, so the first tooth fixes all others.
        with_first = tooth % 2 == 1
        return (with_first == (self.saw.first_leans is not Leans.TOWARD)) == (side == 1)

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
        """How much wider ``volume_mm3`` of steel makes ``gullet`` at the line."""
        behind, ahead = self.flats_of_gullet(gullet)
        gap = max(0.0, self.saw.pitch_mm - (behind + ahead) / 2.0)
        # The volume is plate·rise·take·(gap + take/2), so the take is the positive root.
        return math.sqrt(gap * gap + 2.0 * volume_mm3 / (self.saw.plate.mm * self.rise)) - gap

    def volume_mm3(self, gullet: int, take_mm: float) -> float:
        """Steel in a take from ``gullet``, both flanks together."""
        behind, ahead = self.flats_of_gullet(gullet)
        gap = max(0.0, self.saw.pitch_mm - (behind + ahead) / 2.0)
        # A gullet so wide at the line is so wide times the rise deep: the triangle after, less the one before.
        return self.saw.plate.mm * self.rise * ((gap + take_mm) ** 2 - gap**2) / 2.0

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
        if self.saw.first_leans is not Leans.UNSET and not self.leans_away(tooth, side):
            raise PlateError(f"Tooth {tooth} leans toward you on side {side}: bent back it may break out")
        if steel.broken:
            raise PlateError(f"tooth {tooth} is broken; a stump is not set")
        if to_mm > self.set_mm(tooth):
            steel.set_mm, steel.set_top, steel.slope = to_mm, steel.top, None

    def spring_back(self, tooth: int, share: float) -> None:
        """Let ``share`` (0 … 1) of the set of ``tooth`` go, as a bend does under work."""
        steel = self.tooth(tooth)
        slope = self._slope(steel) * (1.0 - share)
        steel.set_mm, steel.set_top, steel.slope = self.set_mm(tooth) * (1.0 - share), steel.top, slope

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

    def _numbers(self) -> range:
        return range(1, self.points + 1)

    def _flat_or_none(self, tooth: int) -> float:
        return self.flat_mm(tooth) if 1 <= tooth <= self.points and not self.teeth[tooth - 1].broken else 0.0


def _middle_of(values: Sequence[float]) -> float:
    return sorted(values)[len(values) // 2]
