"""The hands of the simulated filer: how much a pass, a stroke and a squeeze do to the plate."""

from __future__ import annotations

import math
from random import Random
from typing import Final

from session.rehearsal.hand_habits import LEFT_STANDING, LIGHTLY, PASSED_OVER, TILT_MM, Habit, squeeze_mm
from session.rehearsal.plate import SimulatedPlate, Stroked
from session.trade.leveling import PASS_MM
from session.trade.saw import Saw
from session.trade.strokes import DEFAULT_BITE_HIGH_MM3, DEFAULT_BITE_LOW_MM3

#: Most strokes a digit can report.
MOST_STROKES: Final = 9

#: Bites that a hand keeps to, in mm³ a stroke: the middle of the remembered range.
BITE_MM3: Final = (DEFAULT_BITE_LOW_MM3 * 1.5, DEFAULT_BITE_HIGH_MM3 * 0.6)

#: How much of a gullet's work the tooth leaned toward takes: judgment.
LEANED: Final = 0.65

#: What one pass of the stone takes off the set, in mm: judgment.
STONE_MM: Final = 0.004

#: A take under this is none.
NOTHING_MM: Final = 1e-9


class Hands:
    """Two hands with their own bite and pressure, working on one plate.

    habit: what they do wrong; STEADY once a trial cut has told it.
    """

    def __init__(self, plate: SimulatedPlate, rng: Random, habit: Habit = Habit.STEADY) -> None:
        self.plate: Final = plate
        self.habit = habit
        self._rng: Final = rng
        self._leveled_to = -math.inf
        self._bite_mm3: Final = rng.uniform(*BITE_MM3)

    def level(self) -> None:
        """One light pass along the line."""
        take = PASS_MM * self._rng.uniform(1.1, 1.7) * (LIGHTLY if self.habit is Habit.IMPATIENT else 1.0)
        self._leveled_to = self.plate.level(
            take,
            first=PASSED_OVER + 1 if self.habit is Habit.PAST_THE_HEEL else 1,
            tilt_mm=TILT_MM if self.habit is Habit.TILTED else 0.0,
        )

    def untouched(self) -> int:
        """Whole teeth that the last pass has not touched; a dull point shines too, but not as a flat does."""
        line = self._leveled_to - NOTHING_MM
        return sum(steel.top < line and not steel.broken for steel in self.plate.teeth)

    def bend(self, tooth: int, side: int, saw: Saw) -> None:
        """Bend one tooth to the set of the recipe, within what a saw set repeats, or as the habit has it."""
        wanted = saw.set_per_side.mm if saw.set_per_side is not None else 0.0
        self.plate.bend(tooth, side, squeeze_mm(self.habit, side, wanted, self._rng))

    def dress(self, side: int) -> None:
        """One pass of the stone."""
        self.plate.dress(side, STONE_MM * self._rng.uniform(0.7, 1.3))

    def file(self, gullet: int, side: int, *, behind: float, ahead: float, lean: str) -> int:
        """File ``gullet`` until the shares ``behind`` and ``ahead`` (0 … 1) of its two flats are gone.

        lean: "heel", "toe" or "": with a lean, more of the same work falls to that tooth. Returns the strokes,
        0 when there was nothing to take.
        """
        flats = self.plate.flats_of_gullet(gullet)
        whole_share = 1.0 - LEFT_STANDING if self.habit is Habit.LIFTS_EARLY else 1.0
        takes = [flats[0] * behind * whole_share, flats[1] * ahead * whole_share]
        whole = sum(takes)
        if lean and whole > NOTHING_MM and max(behind, ahead) < 1.0:
            leaned = 0 if lean == "heel" else 1
            takes[leaned] = min(flats[leaned], max(takes[leaned], whole * LEANED))
            takes[1 - leaned] = min(flats[1 - leaned], whole - takes[leaned])
        strokes = self._strokes(gullet, takes)
        if strokes:
            self.plate.filed.append(Stroked(gullet, side, strokes))
        return strokes

    def file_heel(self, share: float = 1.0) -> int:
        """File the back of tooth 1, where no gullet is counted, until ``share`` (0 … 1) of its flat is gone."""
        _, flat = self.plate.flats_of_gullet(0)
        return self._strokes(0, [0.0, flat * share])

    def _strokes(self, gullet: int, takes: list[float]) -> int:
        """Give the takes in whole strokes, the last one as light as it has to be."""
        whole = sum(takes)
        if whole <= NOTHING_MM:
            return 0
        # Where a flat is wide the hands bear harder: nobody gives a gullet more than a few strokes at a time.
        needed = self.plate.volume_mm3(gullet, whole)
        bite = max(self._bite_mm3 * self._rng.uniform(0.9, 1.1), needed / (MOST_STROKES - 0.5))
        given, strokes = 0.0, 0
        while given < whole - NOTHING_MM and strokes < MOST_STROKES:
            last = strokes == MOST_STROKES - 1
            take = whole - given if last else min(self.plate.take_mm(gullet, bite), whole - given)
            self.plate.stroke(gullet, take * takes[0] / whole, take * takes[1] / whole)
            given += take
            strokes += 1
        return strokes
