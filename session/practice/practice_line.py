"""Ten invented teeth of a leveled line, as steel: what is practiced on, and what each stroke really does to it.

Their flats are wider than a light leveling leaves, to be seen on a screen. All amounts are judgment.
"""

from __future__ import annotations

from random import Random
from typing import Final

from session.rehearsal.plate import SimulatedPlate, ToothSteel
from session.trade.evening import Lean
from session.trade.grades import nearest, width_mm
from session.trade.lengths import Length, parse_length
from session.trade.saw import Cut, Leans, Saw
from session.trade.strokes import usual_bite

TEETH: Final = 10

#: Grades that the flats of the line have; one tooth is low and has none.
GRADES: Final = (3, 3, 4, 4, 5)

#: How much of a stroke's steel comes from the tooth that the file is pressed to.
LEANED: Final = 0.65

#: A stroke here, in strokes of the usual bite: few presses show much. A light stroke takes this share of it.
HEARTY: Final = 2.2
LIGHT: Final = 0.25

#: How far the low tooth stands under the line, in mm.
LOW_MM: Final = 0.06

PITCH_MM: Final = 25.4 / 7

SAW: Final = Saw(
    name="Practice",
    kind="panel",
    cut=Cut.CROSSCUT,
    toothed_length=Length.of((TEETH - 1) * PITCH_MM),
    plate=parse_length("0.9 mm"),
    points=TEETH,
    pitch_mm=PITCH_MM,
    count_as="8 points per inch",
    rake=15.0,
    fleam=25.0,
    first_leans=Leans.AWAY,
)

#: The gullets between the ten teeth; what lies beyond belongs to the rest of a longer line.
GULLETS: Final = tuple(range(1, TEETH))


class PracticeLine:
    """The ten teeth; the same for the same ``seed``."""

    def __init__(self, seed: int) -> None:
        rng = Random(f"practice {seed}")
        low = rng.randrange(4, TEETH - 2)
        self.plate: Final = SimulatedPlate(SAW, [])
        for tooth in range(1, TEETH + 1):
            middle = SAW.from_heel_mm(tooth)
            wide = -LOW_MM / self.plate.rise if tooth == low else width_mm(rng.choice(GRADES), PITCH_MM)
            top = -LOW_MM if tooth == low else 0.0
            self.plate.teeth.append(ToothSteel(middle + wide / 2, middle - wide / 2, top, 0.0, top))
        #: The flats as the leveling left them, by tooth, in mm; 0 for the low tooth.
        self.leveled: Final = {k: self.plate.flat_mm(k) if k != low else 0.0 for k in range(1, TEETH + 1)}
        self._low: Final = low

    def grade(self, tooth: int) -> int:
        """The grade of the flat on ``tooth`` as the plate has it now; 0 for none that an eye sees."""
        return nearest(self.plate.flat_mm(tooth) / PITCH_MM) if self.plate.shines(tooth) else 0

    def gone(self, tooth: int) -> float:
        """The share of the flat that leveling left on ``tooth`` that is gone, 0 … 1; 1 for a low tooth."""
        first = self.leveled[tooth]
        return 1.0 - self.plate.flat_mm(tooth) / first if first else 1.0

    def lowered_mm(self, tooth: int) -> float:
        """How much lower than the leveling left it ``tooth`` is now, 0 or more."""
        return max(0.0, -self.plate.tooth(tooth).top - (LOW_MM if tooth == self._low else 0.0))

    def best_lean(self, gullet: int) -> Lean:
        """Where the printed rule presses: to the larger flat by a grade or more, else straight (KING 64, DREW, FIT)."""
        behind, ahead = self.grade(gullet), self.grade(gullet + 1)
        return Lean.STRAIGHT if behind == ahead else Lean.HEEL if behind > ahead else Lean.TOE

    def stroke(self, gullet: int, lean: Lean, *, light: bool = False) -> None:
        """One stroke in ``gullet``, pressed to ``lean``. Steel is gone for good, on either side."""
        bite = usual_bite(PITCH_MM, SAW.plate.mm).mm3 * HEARTY * (LIGHT if light else 1.0)
        take = self.plate.take_mm(gullet, bite)
        behind = {Lean.HEEL: LEANED, Lean.TOE: 1.0 - LEANED}.get(lean, 0.5)
        # Beside a tooth without a flat a file that is pressed off it does not touch it.
        if lean is not Lean.STRAIGHT and not self.grade(gullet if lean is Lean.TOE else gullet + 1):
            behind = 1.0 if lean is Lean.HEEL else 0.0
        self.plate.stroke(gullet, take * behind, take * (1.0 - behind))
