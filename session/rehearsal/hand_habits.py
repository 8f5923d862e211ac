"""What a hand does wrong until a trial cut has told it: habits of the simulated filer, one of them or none.

All amounts are judgment, chosen so that a cut shows the habit and that what the program adds can mend it.
"""

from __future__ import annotations

from enum import StrEnum
from random import Random
from typing import Final

#: Of so many filers one is steady from the start.
STEADY_IN: Final = 3


class Habit(StrEnum):
    """One habit, in words."""

    STEADY = "steady"
    ONE_SIDE = "bends one side a little more"
    LIGHT = "squeezes too lightly"
    HEAVY = "squeezes too hard"
    FAR_TOO_HARD = "squeezes far too hard"
    UNEVEN = "squeezes unevenly"
    UNEVEN_ROW = "squeezes unevenly from one side"
    NOW_AND_THEN = "now and then bends a point far out"
    TILTED = "levels out of square"
    PAST_THE_HEEL = "begins to level past the heel"
    IMPATIENT = "stops leveling too early"
    LIFTS_EARLY = "lifts the file before the flat is gone"


#: By habit, the least and most set that a squeeze gives, as a share of the set wanted.
_SQUEEZES: Final = {
    Habit.LIGHT: (0.38, 0.42),
    Habit.HEAVY: (1.31, 1.37),
    Habit.FAR_TOO_HARD: (1.61, 1.66),
    Habit.UNEVEN: (0.55, 1.0),
}

#: What a steady squeeze gives.
_STEADY: Final = (0.95, 1.05)

#: One point in so many is bent far out, and to what share of the set wanted.
_FAR_OUT_IN: Final = 14
_FAR_OUT: Final = 1.7

#: How much more one side is bent, and how much higher a tilted file leaves one row, in mm.
MORE_MM: Final = 0.014
TILT_MM: Final = 0.02

#: Teeth at the heel that are passed over, and the share of a flat that is left.
PASSED_OVER: Final = 3
LEFT_STANDING: Final = 0.3

#: What a pass that is not waited for takes, as a share of a full one.
LIGHTLY: Final = 0.25


def habit_of(seed: int) -> Habit:
    """The habit of the filer of ``seed``, the same each time, apart from all else that follows from the seed."""
    rng = Random(f"habit {seed}")
    return Habit.STEADY if rng.randrange(STEADY_IN) == 0 else rng.choice(list(Habit)[1:])


def squeeze_mm(habit: Habit, side: int, wanted_mm: float, rng: Random) -> float:
    """The set that one squeeze from ``side`` gives."""
    if habit is Habit.NOW_AND_THEN and rng.randrange(_FAR_OUT_IN) == 0:
        return _FAR_OUT * wanted_mm
    if habit is Habit.UNEVEN_ROW and side == 1:
        return wanted_mm * rng.uniform(*_SQUEEZES[Habit.UNEVEN])
    more = MORE_MM if habit is Habit.ONE_SIDE and side == 1 and wanted_mm else 0.0
    return wanted_mm * rng.uniform(*_SQUEEZES.get(habit, _STEADY)) + more
