"""The eyes of one kind of person: what they miss, misread and see wrongly once."""

from __future__ import annotations

from random import Random
from statistics import median
from typing import Final

from session.rehearsal.eyes import Eyes, asked_at
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.proving.cut_figures import CutFigures, cut_figures, under_the_line
from session.rehearsal.proving.felt_faults import ASTRAY_MM, fault_felt
from session.rehearsal.proving.person import Person
from session.sentences.saying import Saying
from session.trade.lengths import by_inches
from session.trade.saw import Cut, Leans
from session.trade.seen_words import Cutting, Grain, Sizes, Toward
from session.walk.measurables import Measurable

#: The finest grade there is.
_MOST_GRADE: Final = 5

#: A trial cut: its length, and what a sharp saw of 3.6 mm pitch takes of it with one stroke; strokes go with pitch.
_CUT_MM: Final = 150.0
_STROKES_AT_PITCH: Final = 60.0

#: How far the middles of two rows stand apart, in mm, where big and small teeth are seen without a flat.
_SIZES_MM: Final = 0.06

#: How far a tooth has to lie under the points beside it to be seen low along a straight edge, in mm.
_LOW_MM: Final = 0.08

#: How far a caliper's reading is off.
_CALIPER_MM: Final = 0.006


class PersonEyes(Eyes):
    """Looks at a plate as ``person`` does."""

    def __init__(self, plate: SimulatedPlate, person: Person, rng: Random) -> None:
        self._person: Final = person
        self._rng_of_eyes: Final = rng
        self._mistaken = rng.random() < person.misleans
        self._looked = False
        super().__init__(plate)
        #: The figures of the last trial cut.
        self.cut: CutFigures | None = None

    def sees(self, tooth: int) -> bool:
        """Whether the flat of ``tooth`` is wide enough for these eyes; a stump has none."""
        return self.width(tooth) > 0.0

    def width(self, tooth: int) -> float:
        """The flat of ``tooth`` as far as these eyes see one, in mm; 0 beyond the ends of the line."""
        plate = self._plate
        if not 1 <= tooth <= plate.points or plate.tooth(tooth).broken:
            return 0.0
        flat = plate.flat_mm(tooth)
        return flat if flat > self._person.sees_mm else 0.0

    def grade(self, tooth: int) -> int:
        """The nearest grade, now and then one too many or too few; none stays none."""
        grade = super().grade(tooth)
        if grade and self._rng_of_eyes.random() < self._person.misgrades:
            grade += self._rng_of_eyes.choice((-1, 1))
        return min(_MOST_GRADE, max(0, grade))

    def first_leans(self) -> Leans:
        """How tooth 1 leans; wrong once for whoever is mistaken at the first look."""
        seen = super().first_leans()
        if self._mistaken:
            self._mistaken = False
            return Leans.TOWARD if seen is Leans.AWAY else Leans.AWAY
        return seen

    def big_and_small(self) -> bool:
        """Whether the flats of one row are seen to be twice as wide as those of the other."""
        rows = [[self.width(k) for k in range(first, self._plate.points + 1, 2)] for first in (1, 2)]
        smaller, larger = sorted(median(row) for row in rows)
        return larger >= 2.0 * smaller and larger > 0.0

    def answer(self, saying: Saying, rng: Random) -> str | None:
        """The answer to the step in hand; what a person sees of sizes and cut besides what any filer sees."""
        asked, plate = asked_at(saying), self._plate
        match asked:
            case Measurable.OVER_POINTS:
                return ", ".join(self._written(width) for width in self.read_widths(rng))
            case Measurable.ALL_ROUND if self.first_sizes is not Sizes.EVEN or self.first_low:
                return "something"
            case Measurable.LOW_TEETH:
                return ", ".join(map(str, self.first_low)) or "none"
            case Measurable.SIZES:
                return self.first_sizes
            case Measurable.WANDERS_TO:
                return Toward.LEFT if self.first_figures.wander_mm < 0.0 else Toward.RIGHT
            case Measurable.GRAIN:
                return Grain.ALONG if plate.saw.cut is Cut.RIP else Grain.ACROSS
            case Measurable.WOOD:
                return plate.saw.wood if plate.saw.wood in saying.choices else None
            case _:
                return super().answer(saying, rng)

    @property
    def first_bright(self) -> str:
        """How many points shone when the saw came."""
        return self._first_bright

    def widths(self) -> list[float]:
        """Width over the points at five places along the line, each of two whole neighbors."""
        plate = self._plate
        pairs = [k for k in range(1, plate.points) if not any(plate.tooth(k + at).broken for at in (0, 1))]
        at = [pairs[len(pairs) * place // 10] for place in (1, 3, 5, 7, 9)]
        return [plate.saw.plate.mm + plate.set_mm(k) + plate.set_mm(k + 1) for k in at]

    def read_widths(self, rng: Random | None = None) -> list[float]:
        """The same as a caliper is read; by ``rng``, or by what these eyes do by chance."""
        rng = self._rng_of_eyes if rng is None else rng
        return [width + rng.gauss(0.0, _CALIPER_MM) for width in self.widths()]

    def _last_cut(self) -> str:
        """How the saw cut when it came: by its figures, the worst of them first."""
        plate = self._plate
        self.first_figures = figures = cut_figures(plate)
        rows = [[plate.tooth(k).top for k in range(first, plate.points + 1, 2)] for first in (1, 2)]
        apart = abs(median(rows[0]) - median(rows[1]))
        self.first_sizes = Sizes.ALTERNATE if apart > _SIZES_MM else Sizes.EVEN
        under = under_the_line(plate)
        self.first_low = tuple(k for k, depth in under.items() if depth > _LOW_MM)
        fault = fault_felt(figures)
        return Cutting.GOOD if fault is None else Cutting(fault.name)

    def heights_differ(self) -> bool:
        """Whether a straight edge shows that the teeth do not agree: looked for once after each cut."""
        if self._looked:
            return False
        self._looked = True
        figures = cut_figures(self._plate)
        return figures.working < 0.95 or abs(figures.wander_high_mm) > ASTRAY_MM

    def _cut(self, rng: Random) -> str:
        """A trial cut as its figures have it: strokes by speed, and how far it left the line."""
        plate = self._plate
        saw, figures = plate.saw, cut_figures(plate)
        self._looked = False
        self.cut, self.fault = figures, fault_felt(figures)
        strokes = max(3, round(_STROKES_AT_PITCH / saw.pitch_mm / max(figures.speed, 0.05) * rng.uniform(0.95, 1.05)))
        inches = by_inches(saw.unit)
        text = f"6 in, 3/4 in, {strokes} strokes" if inches else f"150 mm, 20 mm, {strokes} strokes"
        wander = round(abs(figures.wander_mm) * _CUT_MM / 100.0, 1)
        if self.fault is not None and self.fault.toward:
            return f"{text}, {max(wander, 0.3)} mm {self.fault.toward}"
        return text
