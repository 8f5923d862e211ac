"""The same people without the program: rules stated beforehand, the same hands, eyes, slips and interruptions.

Nobody tells them what to leave out, and nobody keeps their place: they go on from where they believe they are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from enum import StrEnum
from random import Random
from typing import Final

from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.proving.outcome import kept
from session.rehearsal.proving.person import AFTER_INTERRUPTION, Person
from session.rehearsal.proving.person_eyes import PersonEyes
from session.rehearsal.proving.person_hands import PersonHands
from session.value_class import dataclass

#: Passes, strokes and looks of somebody who goes by a rule of thumb.
PASSES: Final = 2
MOST_PASSES: Final = 6
STROKES: Final = 2

#: Seconds for a pass, a bend, a stroke, a gullet and a stone: as the filer at the program takes them.
_PASS_S: Final = 25.0
_BEND_S: Final = 2.8
_STROKE_S: Final = 1.15
_GULLET_S: Final = 1.5
_STONE_S: Final = 14.0


class Rule(StrEnum):
    """How somebody works who has no program."""

    TWO_STROKES = "two strokes everywhere"
    BY_THE_FLAT = "until the flat goes"


@dataclass(frozen=True, slots=True)
class AloneWork:
    """What was done: the line as it was when filing began, strokes, seconds, slips of the place, gullets missed and
    filed once more."""

    leveled: SimulatedPlate
    lowered: Mapping[int, float]
    strokes: int
    seconds: float
    slips: int
    missed: int
    twice: int


def sharpen_alone(plate: SimulatedPlate, person: Person, rng: Random, rule: Rule) -> AloneWork:
    """Sharpen ``plate`` by ``rule``: level, set every tooth, file every gullet, stone each side once.

    TWO_STROKES: two passes and two strokes in each gullet, whatever shows. BY_THE_FLAT: passes until every point is
    touched, half of each flat from the first side and the rest from the second, no plan of which.
    """
    eyes = PersonEyes(plate, person, rng)
    hands = PersonHands(plate, rng, person, eyes)
    seconds, impatient = 0.0, rng.random() < person.impatient
    for number in range(MOST_PASSES):
        hands.level()
        seconds += _PASS_S
        done = number + 1 >= PASSES if rule is Rule.TWO_STROKES else hands.untouched() == 0
        if done or impatient:
            break
    leveled = kept(plate)
    sides = plate.saw.sides
    for side in (1, 2):
        for tooth in range(1, plate.points + 1):
            if plate.leans_away(tooth, side) and not plate.tooth(tooth).broken:
                hands.bend(tooth, side, plate.saw)
                seconds += _BEND_S
    slips, asked, visited = 0, Counter[int](), Counter[int]()
    for side in range(1, sides + 1):
        wanted = [k for k in range(1, plate.points + 1) if sides == 1 or plate.leans_away(k, side)]
        asked.update(wanted)
        for gullet, slipped in _gullets(wanted, person, rng):
            visited[gullet] += 1
            slips += slipped
            if rule is Rule.TWO_STROKES:
                strokes = hands.alike(gullet, side, STROKES)
            else:
                share = 0.5 if side < sides else 1.0
                behind = 1.0 if sides == 1 else share
                strokes = hands.file(gullet, side, behind=behind, ahead=0.5 if sides == 1 else share, lean="")
            seconds += _GULLET_S + _STROKE_S * strokes
    for side in (1, 2):
        hands.dress(side)
        seconds += _STONE_S
    missed, twice = len(asked.keys() - visited.keys()), len(visited - asked)
    return AloneWork(leveled, hands.lowered, hands.strokes, seconds, slips, missed, twice)


def _gullets(wanted: Sequence[int], person: Person, rng: Random) -> list[tuple[int, bool]]:
    """The gullets of one side as the hands come to them, and at which they slipped."""
    found, place, fresh = [], 0, False
    while place < len(wanted):
        slipped = rng.random() < person.slips * (AFTER_INTERRUPTION if fresh else 1.0)
        if slipped and place:
            place = min(len(wanted) - 1, max(0, place + rng.choice((1, -1))))
        found.append((wanted[place], slipped))
        fresh = rng.random() < person.interrupted
        place += 1
    return found
