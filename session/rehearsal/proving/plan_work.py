"""Plans carried out on a simulated plate without the program's words: the advised one and all the others.

The hands are one person's, and keep their place: what is compared here is the plan alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from statistics import median
from typing import Final

from session.advice.flats_verdict import enough_after
from session.advice.set_advice import over_set
from session.advice.set_by_flats import set_after_passes
from session.advice.stone_passes import Stoned, over_now_mm, passes_down
from session.advice.work import What
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.proving.felt_faults import fault_felt
from session.rehearsal.proving.outcome import kept
from session.rehearsal.proving.person import Person
from session.rehearsal.proving.person_eyes import PersonEyes
from session.rehearsal.proving.person_filer import PASSES_AGAIN
from session.rehearsal.proving.person_hands import PersonHands
from session.trade.lengths import Length
from session.trade.observation import Seen
from session.trade.saw import Cut
from session.trade.seen_words import Bright, Cutting, Grain, Handle, LineShape, Plate, Toward
from session.value_class import replace

#: Passes after which anybody stops leveling, and teeth that may stay untouched.
_MOST_PASSES: Final = 12
_UNTOUCHED: Final = 3

#: A line that hangs by less than this looks straight, in mm.
_STRAIGHT_MM: Final = 0.015

LEVEL_ONCE: Final = (What.LEVEL_AGAIN, What.FILE, What.DRESS)
FULL: Final = (What.LEVEL, What.FILE, What.DRESS)

#: Every other plan, by the word it has in the proof. Rounds are light sharpenings one after the other.
PLANS: Final[dict[str, tuple[What, ...]]] = {
    "nothing": (),
    "stone": (What.STONE_BOTH,),
    "set": (What.SET,),
    "touch up": (What.TOUCH_UP,),
    "light": LEVEL_ONCE,
    "light, set": (What.LEVEL_AGAIN, What.SET, What.FILE, What.DRESS),
    "full": FULL,
    "full, set": (What.LEVEL, What.SET, What.FILE, What.DRESS),
    "reshape": (What.LEVEL, What.RESHAPE, What.LEVEL_AGAIN, What.SET, What.FILE, What.DRESS),
    "rounds": LEVEL_ONCE + LEVEL_ONCE,
}


class PlanWork:
    """One person's hands at a copy of ``plate``; everything follows from ``rng``."""

    def __init__(self, plate: SimulatedPlate, person: Person, rng: Random) -> None:
        self.plate: Final = kept(plate)
        steady = replace(person, slips=0.0, misleans=0.0)
        self._eyes: Final = PersonEyes(self.plate, steady, rng)
        self.hands: Final = PersonHands(self.plate, rng, steady, self._eyes)
        self._filed = False

    def do(self, works: Sequence[What], seen: Seen | None = None) -> SimulatedPlate:
        """Carry ``works`` out in their order; what takes no steel changes nothing here. Gives the plate.

        seen: what the works were advised by; then the flats are judged as the program judges them, which may have the
        teeth set besides. Else passes follow until nearly every tooth is touched.
        """
        for work in works:
            match work:
                case What.LEVEL if seen is not None:
                    passes = self._level_as_told()
                    follows = works[works.index(work) + 1 :]
                    if What.SET not in works and set_after_passes(self.plate.saw, seen, passes, follows):
                        self._set()
                case What.LEVEL:
                    self._level()
                case What.LEVEL_AGAIN:
                    self.hands.level()
                case What.RESHAPE:
                    self._reshape()
                case What.SET:
                    self._set()
                case What.FILE:
                    self._file()
                case What.TOUCH_UP:
                    for side, gullet in self._gullets():
                        # What was filed today already is filed once more only where a point shines.
                        if not self._filed or self._eyes.width(gullet) or self._eyes.width(gullet + 1):
                            self.hands.alike(gullet, side, 1)
                case What.STONE_BOTH | What.DRESS:
                    self._stone()
                case What.STONE_LEFT | What.STONE_RIGHT:
                    # The face turned up at side 1 is the right one in the cut.
                    self.hands.dress(1 if work is What.STONE_RIGHT else 2)
        return self.plate

    def _level(self) -> None:
        for _ in range(_MOST_PASSES):
            self.hands.level()
            if self.hands.untouched() <= _UNTOUCHED:
                return

    def _level_as_told(self) -> int:
        """Passes as long as the program asks for one more by what is counted; gives how many."""
        for passes in range(1, _MOST_PASSES + 1):
            self.hands.level()
            if enough_after(passes, self.hands.untouched(), self.plate.points):
                return passes
        return _MOST_PASSES

    def _stone(self) -> None:
        """A pass a side, and where the width says that the set is over, so many more as the program reckons."""
        saw, passes, made, before = self.plate.saw, 1, 0, self.width_mm()
        for _ in range(1 + PASSES_AGAIN):
            made += passes
            for _ in range(passes):
                for side in (1, 2):
                    self.hands.dress(side)
            now = self.width_mm()
            if not over_set(saw, (now - saw.plate.mm) / 2.0):
                return
            passes = passes_down(over_now_mm(saw, now), Stoned(max(0.0, (before - now) / 2.0), made))

    def width_mm(self) -> float:
        """The middle one of five widths, each read as a caliper is read."""
        return max(self.plate.saw.plate.mm, median(self._eyes.read_widths()))

    def _reshape(self) -> None:
        for gullet in range(1, self.plate.points + 1):
            self.hands.file(gullet, 1, behind=1.0, ahead=0.5, lean="")

    def _set(self) -> None:
        for side in (1, 2):
            for tooth in range(1, self.plate.points + 1):
                if self.plate.leans_away(tooth, side) and not self.plate.tooth(tooth).broken:
                    self.hands.bend(tooth, side, self.plate.saw)

    def _file(self) -> None:
        sides, self._filed = self.plate.saw.sides, True
        self.hands.file_heel()
        for side, gullet in self._gullets():
            share = 0.5 if side < sides else 1.0
            self.hands.file(
                gullet, side, behind=1.0 if sides == 1 else share, ahead=0.5 if sides == 1 else share, lean=""
            )

    def _gullets(self) -> list[tuple[int, int]]:
        plate, sides = self.plate, self.plate.saw.sides
        return [
            (side, gullet)
            for side in range(1, sides + 1)
            for gullet in range(1, plate.points + 1)
            if sides == 1 or plate.leans_away(gullet, side)
        ]


def seen_of(plate: SimulatedPlate, person: Person, rng: Random) -> Seen:
    """All that ``person`` can tell of ``plate`` at the look over, as the advice takes it."""
    eyes = PersonEyes(kept(plate), replace(person, misleans=0.0), rng)
    saw, figures, hollow = plate.saw, eyes.first_figures, plate.hollow_mm()
    fault = fault_felt(figures)
    shape = LineShape.STRAIGHT if abs(hollow) <= _STRAIGHT_MM else LineShape.HOLLOW if hollow > 0 else LineShape.CROWNED
    wanders = fault is not None and fault.name == "wanders"
    return Seen(
        first_leans=eyes.first_leans(),
        points_in_line=plate.points,
        plate=frozenset({Plate.STRAIGHT, Plate.CLEAN, Plate.SOUND}),
        handle=Handle.TIGHT,
        hard_teeth=False,
        line=shape,
        line_gap=Length.of(hollow, "mm") if shape is LineShape.HOLLOW else None,
        sizes=eyes.first_sizes,
        low=eyes.first_low,
        broken=plate.broken(),
        bright=Bright(eyes.first_bright),
        over_points=tuple(Length.of(round(width, 2), "mm") for width in eyes.widths()),
        last_cut=Cutting.GOOD if fault is None else Cutting(fault.name),
        wanders_to=(Toward.LEFT if figures.wander_mm < 0.0 else Toward.RIGHT) if wanders else None,
        cut=Grain.ALONG if saw.cut is Cut.RIP else Grain.ACROSS,
        wood=saw.wood,
    )
