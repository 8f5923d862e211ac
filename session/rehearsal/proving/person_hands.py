"""The hands of one kind of person: passes, strokes and squeezes with all their errors, stopped by what the eyes see."""

from __future__ import annotations

from collections import defaultdict
from random import Random
from typing import Final

from session.rehearsal.file_stroke import Hold, rub
from session.rehearsal.filer_hands import Hands
from session.rehearsal.hand_habits import Habit
from session.rehearsal.plate import SimulatedPlate, Stroked
from session.rehearsal.proving.person import Person
from session.rehearsal.proving.person_eyes import PersonEyes
from session.trade.saw import Saw

#: What a hearty stroke takes of steel 1 mm along the line and 1 mm thick, in mm³: judgment.
BITE: Final = 0.032

#: How the middle bites of days and files differ, as a share.
_DAYS: Final = 0.3

#: Strokes after which anybody looks up from one gullet.
MOST: Final = 12

#: Share of the way that goes to the tooth that the file is pressed to, and to one that is worked alone.
_LEANED: Final = 0.65
_ALONE: Final = 0.85

#: Of the times that hands do not turn to the flat that is left, those in which words that say so do not help: judgment.
UNHEEDED: Final = 0.25

#: What is left of an error that a cut has told.
LEARNED: Final = 0.35

#: What a file has left of its bite after so many strokes.
_WORN: Final = 0.7
_WORN_AFTER: Final = 3000


class PersonHands(Hands):
    """Hands of ``person`` on one plate; they stop by what ``eyes`` see."""

    def __init__(self, plate: SimulatedPlate, rng: Random, person: Person, eyes: PersonEyes) -> None:
        super().__init__(plate, rng, Habit.STEADY)
        self._person: Final = person
        self._eyes: Final = eyes
        saw = plate.saw
        self._bite: Final = BITE * saw.pitch_mm * saw.plate.mm * rng.lognormvariate(0.0, _DAYS)
        self._held: Final = Hold(rng.gauss(0.0, person.held_deg), rng.gauss(0.0, person.held_deg))
        self._tilt = rng.uniform(-person.tilt_mm, person.tilt_mm)
        self._one_side = rng.uniform(0.0, person.one_side)
        self.strokes = 0
        #: By tooth, how far strokes have lowered it, in mm.
        self.lowered: Final[dict[int, float]] = defaultdict(float)
        #: Whether the guides were turned with the saw.
        self.guided = True

    def level(self) -> None:
        """One pass along the line, as square and as light as the hands have it."""
        person = self._person
        take = max(0.002, person.pass_mm * self._rng.gauss(1.0, person.pass_spread))
        tilt = self._tilt + self._rng.gauss(0.0, person.tilt_mm / 3.0)
        # Held the other way out of square, it is the other row that comes down further.
        self._leveled_to = self.plate.level(take, tilt_mm=tilt) + min(0.0, tilt)

    def learn(self) -> None:
        """A trial cut has told what the hands did wrong: the same error is smaller from now on."""
        self._tilt *= LEARNED
        self._one_side *= LEARNED

    def bend(self, tooth: int, side: int, saw: Saw) -> None:
        """One squeeze."""
        wanted = saw.set_per_side.mm if saw.set_per_side is not None else 0.0
        if wanted:
            more = self._one_side if side == 1 else 0.0
            self.plate.bend(tooth, side, max(0.0, wanted * self._rng.gauss(1.0, self._person.squeeze) + more))

    def file(self, gullet: int, side: int, *, behind: float, ahead: float, lean: str, told: bool = False) -> int:
        """File ``gullet`` until, for these eyes, the shares ``behind`` and ``ahead`` of its two flats are gone.

        told: whether words at hand say to press to the flat that is left once the other is gone.
        """
        person, rng, eyes = self._person, self._rng, self._eyes
        seen = eyes.width(gullet), eyes.width(gullet + 1)
        judged = (1.0 + rng.gauss(0.0, person.halves), 1.0 + rng.gauss(0.0, person.halves))
        shares = behind, ahead
        goals = [
            0.0 if share >= 1.0 else max(0.0, width * (1.0 - share * eye))
            for width, share, eye in zip(seen, shares, judged, strict=True)
        ]
        wanted = [max(0.0, width - goal) for width, goal in zip(seen, goals, strict=True)]
        if sum(wanted) <= 0.0:
            return 0
        adapts, strokes = rng.random() < (1.0 - (1.0 - person.adapts) * UNHEEDED if told else person.adapts), 0
        way = {"heel": _LEANED, "toe": 1.0 - _LEANED}.get(lean, 0.5)
        if not lean and abs(behind - ahead) > 0.05:
            way = min(_ALONE, max(1.0 - _ALONE, wanted[0] / sum(wanted)))
        while strokes < MOST:
            left = [max(0.0, eyes.width(gullet + at) - goals[at]) for at in (0, 1)]
            # Where only a part of each flat is to go, the two are judged together.
            together = sum(eyes.width(gullet + at) for at in (0, 1)) <= sum(goals)
            if not any(left) or (any(goals) and together):
                break
            if strokes and adapts and not all(left):
                way = _ALONE if left[0] else 1.0 - _ALONE
            # Near the end a hand gets lighter, as far as it can.
            needed = self.plate.volume_mm3(gullet, sum(left))
            self._rub(gullet, way, max(person.lightest, min(1.0, needed / self._bite)))
            strokes += 1
        if strokes and rng.random() < person.overfiles:
            self._rub(gullet, way, 1.0)
            strokes += 1
        if strokes:
            self.plate.filed.append(Stroked(gullet, side, strokes))
        return strokes

    def alike(self, gullet: int, side: int, strokes: int) -> int:
        """The same strokes in every gullet, whatever shows."""
        for _ in range(strokes):
            self._rub(gullet, 0.5, 1.0)
        self.plate.filed.append(Stroked(gullet, side, strokes))
        return strokes

    def file_heel(self, share: float = 1.0) -> int:
        """The back of tooth 1, until ``share`` of its flat is gone for these eyes."""
        start, strokes = self._eyes.width(1), 0
        while strokes < MOST and self._eyes.width(1) > start * (1.0 - share):
            self._rub(0, 0.0, self._person.lightest)
            strokes += 1
        return strokes

    def _rub(self, gullet: int, way: float, share: float) -> None:
        person, rng = self._person, self._rng
        worn = 1.0 - (1.0 - _WORN) * min(1.0, self.strokes / _WORN_AFTER)
        bite = self._bite * worn * share * max(0.2, rng.gauss(1.0, person.bite))
        to_heel = min(0.95, max(0.05, way + rng.gauss(0.0, person.lean)))
        roll = self._held.rake + rng.gauss(0.0, person.roll_deg)
        if 1 <= gullet < self.plate.points:
            stumps = [self.plate.tooth(gullet + at).broken for at in (0, 1)]
            if any(stumps) and not all(stumps):
                to_heel = 1.0 - _ALONE if stumps[0] else _ALONE
        # A fleam guide that was not turned with the saw has the file across the plate the other way.
        fleam = self._held.fleam if self.guided else -2.0 * self.plate.saw.fleam
        beside = [k for k in (gullet, gullet + 1) if 1 <= k <= self.plate.points]
        tops = [self.plate.tooth(k).top for k in beside]
        rub(self.plate, gullet, bite, behind=to_heel, hold=Hold(roll, fleam, 0.0))
        for k, top in zip(beside, tops, strict=True):
            self.lowered[k] += top - self.plate.tooth(k).top
        self.strokes += 1
