"""Which saws the proof tries: every condition, person and kind in turn, the rest by chance, all from one seed."""

from __future__ import annotations

from random import Random
from typing import Final

from session.rehearsal.proving.person import PEOPLE
from session.rehearsal.proving.saw_conditions import KINDS, Condition
from session.rehearsal.proving.sharpening_trial import Case
from session.texts.guidance import Level

GUIDANCE: Final = (Level.TAUGHT, Level.BRIEF, Level.BARE)
MEASURING: Final = ("nothing", "grades", "strip", "scan")

#: Kills that one sharpening meets at most.
MOST_KILLS: Final = 3

#: Seeds of one proof lie so far from those of the next.
_APART: Final = 1_000_000


def case_of(seed: int, number: int) -> Case:
    """Saw ``number``, 0 or more, of the proof with that seed."""
    rng = Random(f"proof {seed} {number}")
    conditions, kinds = list(Condition), list(KINDS)
    in_turn = number // len(conditions)
    return Case(
        seed=seed * _APART + number,
        kind=kinds[in_turn // len(PEOPLE) % len(kinds)],
        condition=str(conditions[number % len(conditions)]),
        person=PEOPLE[in_turn % len(PEOPLE)].name,
        guidance=str(rng.choice(GUIDANCE)),
        measuring=rng.choice(MEASURING),
        kills=rng.randint(0, MOST_KILLS),
    )
