"""What the simulated filer reads in the program's words and sees on the plate."""

from __future__ import annotations

import re
from random import Random
from statistics import median
from typing import Final

from session.advice.set_advice import least_set_mm
from session.rehearsal.cut_judgment import CutFault, cut_fault, idle, uneven_heights, uneven_rows
from session.rehearsal.plate import SimulatedPlate
from session.sentences.saying import Saying
from session.sentences.work_words import HERE
from session.texts.steps import step
from session.trade.file_names import CORNERS
from session.trade.grades import nearest
from session.trade.kerf import set_from_measurement_mm
from session.trade.lengths import by_inches, in_unit
from session.trade.saw import Leans
from session.trade.strip_readings import MOST_QUARTERS
from session.value_class import replace
from session.walk.measurables import NOTHING_TO_SEE, Measurable
from session.walk.stages import FACTS

#: A line that hangs or stands in its middle by less than this looks straight: judgment.
STRAIGHT_MM: Final = 0.015

#: The one file that the simulated filer owns.
FILE: Final = "loft taper"

#: Share of shining points from which they are "most".
MOST: Final = 0.5

#: How far an eye is off as it reads a flat against its mark, at most, as a share of the flat's width: judgment.
MISREAD: Final = 0.1

#: What a person takes each word for a share for, or its figure.
SHARES_MEANT: Final = {
    "none": 0.0,
    "a hair": 0.06,
    "a quarter": 0.25,
    "1/4": 0.25,
    "a third": 1 / 3,
    "1/3": 1 / 3,
    "half": 0.5,
    "1/2": 0.5,
    "two thirds": 2 / 3,
    "2/3": 2 / 3,
    "three quarters": 0.75,
    "3/4": 0.75,
    "all but a hair": 0.94,
    "all": 1.0,
    "the rest": 1.0,
}

_SHARE: Final = re.compile(rf"({'|'.join(sorted(SHARES_MEANT, key=len, reverse=True))}) of (?:flat )?(\d+)")
#: Flats so many times as wide as their neighbors are big beside small ones: judgment.
TWICE: Final = 2.0

_NAMED: Final = re.compile(r"\b(?:gullet|tooth) (\d+)")
_LEANS: Final = re.compile(r"Find tooth (\d+),.* it (leans|is to lean) (away from|toward) you")
_LEAN: Final = re.compile(r"press to the (heel|toe)")
_ONE_THEN: Final = re.compile(r"press to (\d+) down to half its flat, then to (\d+)", re.IGNORECASE)

#: What the named steps ask, by the title that stands over them.
_ASKED: Final = {
    step(stage, name).title: step(stage, name).asks for stage, facts in FACTS.items() for name in facts.steps
}


def asked_at(saying: Saying) -> Measurable | None:
    """What the step in hand asks; None where it asks nothing."""
    found = _ASKED.get(saying.title)
    return None if found is None else found.what


class Eyes:
    """Looks at one plate. What is asked about the saw as it came to the bench is kept from the first look."""

    def __init__(self, plate: SimulatedPlate) -> None:
        self._plate = plate
        self._first_bright = self._bright()
        self._first_cut = self._last_cut()
        #: What the last trial cut showed; None for a good one.
        self.fault: CutFault | None = None

    def sees(self, tooth: int) -> bool:
        """Whether a flat is seen on ``tooth`` that a file may take away."""
        return self._plate.shines(tooth)

    def number_in(self, text: str) -> int | None:
        """The tooth or gullet that ``text`` names, or None."""
        found = _NAMED.search(text)
        return int(found[1]) if found else None

    def lean_in(self, text: str) -> str:
        """Which way to lean first, "heel" or "toe", or empty when nothing is said of it."""
        if one := _ONE_THEN.search(text):
            return "toe" if int(one[1]) > int(one[2]) else "heel"
        found = _LEAN.search(text)
        return found[1] if found else ""

    def lean_asked(self, text: str) -> Leans | None:
        """How tooth 1 leans with the handle on the right, where ``text`` asks it of a tooth; else None."""
        found = _LEANS.search(text)
        if found is None:
            return None
        if found[2] == "is to lean":
            return Leans.UNSET
        return self.first_leans()

    def first_leans(self) -> Leans:
        """How tooth 1 leans with the handle on the right."""
        return Leans.AWAY if self._plate.leans_away(1, 1) else Leans.TOWARD

    def leans_as_told(self, text: str, side: int) -> bool:
        """Whether the tooth that ``text`` names leans as it says, seen from ``side``."""
        found = _LEANS.search(text)
        return found is None or self._plate.leans_away(int(found[1]), side) == (found[3] == "away from")

    def half_in(self, text: str) -> bool:
        """Whether only half of the flat is to go."""
        return " Stop " in text and "half of " in text

    def first_back_in(self, lines: tuple[str, ...]) -> bool:
        """Whether the back of tooth 1 is to be filed as well."""
        return any("the back of tooth 1" in line for line in lines)

    def forbids(self, text: str) -> bool:
        """Whether nothing is to be filed here."""
        return "do not file" in text or text.startswith("No stroke here")

    def advised(self, lines: tuple[str, ...]) -> bool:
        """Whether the program advises another plan than the one that stands."""
        return any(line.startswith("Advised:") for line in lines)

    def more_in(self, lines: tuple[str, ...]) -> bool:
        """Whether the program asks for one more pass."""
        return any("One more pass" in line for line in lines)

    def heights_differ(self) -> bool:
        """Whether, after a cut that told of heights, the teeth still do not agree."""
        return uneven_heights(self._plate)

    def big_and_small(self) -> bool:
        """Whether the flats of one row are seen to be twice as wide as those of the other, or more."""
        plate = self._plate
        rows: tuple[list[float], list[float]] = ([], [])
        for tooth in range(1, plate.points + 1):
            if tooth not in plate.broken():
                rows[tooth % 2].append(plate.flat_mm(tooth))
        if not all(rows):
            return False
        smaller, larger = sorted(map(median, rows))
        return larger >= TWICE * smaller > 0

    def why_not(self, gullet: int) -> str:
        """Why a gullet without a flat beside it is left out: a stump, a low tooth, or points that are sharp already."""
        if gullet in self._plate.broken():
            return "broken tooth"
        return "no flat on either tooth" if idle(self._plate, gullet) else "sharp already, no flat"

    def grade(self, tooth: int) -> int:
        """The grade whose width comes nearest to the flat of ``tooth``; none only where none is seen."""
        if not self.sees(tooth):
            return 0
        return nearest(self._plate.flat_mm(tooth) / self._plate.saw.pitch_mm)

    def place_on_strip(self, tooth: int, rng: Random) -> int:
        """How many quarters of its width the flat of ``tooth`` lies off its mark, positive toward the toe, as an eye
        reads it. The strip lies so that as many flats are off toward the heel as toward the toe."""
        plate = self._plate
        off = {k: self._off_mark(k) for k in range(1, plate.points + 1) if self.sees(k)}
        width = plate.flat_mm(tooth)
        share = (off[tooth] - median(off.values())) / width + rng.uniform(-MISREAD, MISREAD)
        return max(-MOST_QUARTERS, min(MOST_QUARTERS, round(4 * share)))

    def _off_mark(self, tooth: int) -> float:
        begins, ends = self._plate.flat_ends_mm(tooth)
        return (begins + ends) / 2.0 - replace(self._plate.saw, points=self._plate.points).from_heel_mm(tooth)

    def shares_in(self, saying: Saying) -> dict[int, float]:
        """By tooth, the share of each flat that is to go, where it is named: in the instruction, or beside it."""
        text = next((line for line in saying.lines if line.startswith(HERE)), saying.instruction)
        # The usual stop names flats as well, but no share of its own for each.
        named = text.partition(" Stop ")[0]
        return {int(tooth): SHARES_MEANT[share] for share, tooth in _SHARE.findall(named)}

    def answer(self, saying: Saying, rng: Random) -> str | None:
        """The answer to the step in hand, as typed or as the choice is worded; None where none is asked."""
        found = _ASKED.get(saying.title)
        if found is None:
            return None
        plate = self._plate
        match found.what:
            case Measurable.POINTS:
                return str(plate.points)
            case Measurable.OVER_POINTS | Measurable.OVER_POINTS_AFTER | Measurable.OVER_POINTS_END:
                return self._written(plate.over_points_mm())
            case Measurable.LINE:
                hollow = plate.hollow_mm()
                return "straight" if abs(hollow) <= STRAIGHT_MM else "hollow" if hollow > 0 else "crowned"
            case Measurable.BROKEN_TEETH:
                return ", ".join(str(tooth) for tooth in plate.broken()) or "none"
            case Measurable.BRIGHT_POINTS:
                return self._first_bright
            case Measurable.LAST_CUT:
                return self._first_cut
            case Measurable.FILE:
                # Of files of its own the best one stands first.
                return saying.choices[0] if saying.choices else f"{FILE}, corner {rng.choice(CORNERS)}"
            case Measurable.ALL_ROUND:
                return "something" if plate.broken() else NOTHING_TO_SEE
            case Measurable.PLATE:
                return "straight, clean, sound"
            case Measurable.HANDLE:
                return "tight"
            case Measurable.CRACK:
                return "none"
            case Measurable.HARD_TEETH:
                return "no"
            case Measurable.LINE_GAP:
                return self._written(max(0.0, plate.hollow_mm()))
            case Measurable.FIRST_LEANS:
                return str(self.first_leans())
            case Measurable.TROUGH:
                return "uneven" if self._uneven() or uneven_rows(plate) else "even"
            case Measurable.NEEDLE:
                return "no fleam" if plate.saw.fleam == 0 else "stops" if self._uneven() else "slides"
            case Measurable.TRIAL_CUT:
                self.fault = cut_fault(plate, rake=plate.saw.rake)
                return self._cut(rng)
            case _:
                return None

    def nothing_at(self, gullet: int) -> bool:
        """Whether no flat is seen on either side of ``gullet``."""
        plate = self._plate
        beside = (1, 2, 3) if gullet == 2 and plate.saw.sides == 2 else (gullet, gullet + 1)
        return not any(self.sees(k) for k in beside if k <= plate.points)

    def _uneven(self) -> bool:
        """Whether some flat was left standing that an eye sees."""
        plate = self._plate
        return any(self.sees(tooth) for tooth in range(1, plate.points + 1))

    def _bright(self) -> str:
        plate = self._plate
        shining = sum(self.sees(tooth) for tooth in range(1, plate.points + 1)) / plate.points
        return "most" if shining > MOST else "some" if shining > 0 else "none"

    def _last_cut(self) -> str:
        plate = self._plate
        least = least_set_mm(plate.saw)
        if least is not None and set_from_measurement_mm(plate.over_points_mm(), plate.saw.plate.mm) < least:
            return "binds"
        return "slow" if self._bright() == "most" else "good"

    def _cut(self, rng: Random) -> str:
        """A trial cut as it is told: coarse saws go faster, and a flat left standing costs strokes."""
        saw = self._plate.saw
        slow = 1.3 if self._uneven() else 1.0
        strokes = max(3, round(slow * 60.0 / saw.pitch_mm * rng.uniform(0.9, 1.1)))
        inches = by_inches(saw.unit)
        text = f"6 in, 3/4 in, {strokes} strokes" if inches else f"150 mm, 20 mm, {strokes} strokes"
        fault = self.fault
        return f"{text}, {fault.wander_mm} mm {fault.toward}" if fault is not None and fault.toward else text

    def _written(self, mm: float) -> str:
        """A caliper's reading in the owner's unit: to half a thousandth of an inch, or a hundredth of a mm."""
        if by_inches(self._plate.saw.unit):
            return f"{round(mm / 25.4 * 2000) / 2000:.4f} in"
        return in_unit(mm, "mm")
