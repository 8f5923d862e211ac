"""A filer that is one kind of person: reads the moment's words, and errs as that person does."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from typing import Final

from session.desk.question import Question
from session.rehearsal.diary import Kept
from session.rehearsal.filer import Filer
from session.rehearsal.filer_move import Move, offered
from session.rehearsal.hand_habits import Habit
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.proving.person import AFTER_INTERRUPTION, Person
from session.rehearsal.proving.person_eyes import PersonEyes
from session.rehearsal.proving.person_hands import PersonHands
from session.rehearsal.stroke_shares import named_shares, usual_shares
from session.sentences.offers import Act
from session.sentences.saying import Saying
from session.trade.saw import Saw
from session.walk.front_question import Ask
from session.walk.measurables import BY_THE_SCAN
from session.walk.stages import Stage

#: Remedies that anybody tries in one sharpening: judgment.
REMEDIES: Final = 2

#: How often anybody stones or bends once more because the set is not right yet: judgment.
PASSES_AGAIN: Final = 4

#: How long somebody is away, in seconds, least and most.
_AWAY_S: Final = (90.0, 900.0)

#: Of interruptions, the share in which nobody presses pause; of double presses, that which comes later than the guard.
_UNTOLD: Final = 0.5
_LATE: Final = 0.3

#: Of double presses that made a mark, the share that is seen at once.
_SEEN: Final = 0.5

#: By these words hands turn to the flat that is left.
PRESS_TO_THE_OTHER: Final = "press to the other"

_TURNS: Final = re.compile(r"turn (it|the fleam guide|the guide|the block)\b|other hand|end for end", re.IGNORECASE)


class PersonFiler(Filer):
    """``person`` at ``plate``; everything follows from ``seed``.

    grades: whether the flats are graded; strip: by a printed strip besides. scan: whether they are taken from a scan.
    """

    def __init__(
        self,
        saw: Saw,
        seed: int,
        *,
        person: Person,
        plate: SimulatedPlate,
        grades: bool = True,
        strip: bool = False,
        scan: bool = False,
    ) -> None:
        # What is known of where the flats lie is trusted, be it by an eye on a strip or by a scan.
        super().__init__(saw, seed, habit=Habit.STEADY, strip=strip or scan, plate=plate)
        self._scan_taken = False
        if scan:
            self._way = BY_THE_SCAN
        self.person: Final = person
        self._looks = PersonEyes(plate, person, self._rng)
        self._works = PersonHands(plate, self._rng, person, self._looks)
        self._eyes, self._hands = self._looks, self._works
        self._grades, self._reshapes = grades, False
        self.impatient: Final = self._rng.random() < person.impatient
        if self.impatient:
            self._works.habit = Habit.IMPATIENT
        self._alike: Final = self._rng.choice((1, 2))
        self.slips = self.found_slips = 0
        self._off, self._slipped_at, self._again = 0, 0, 0
        self._slipped_on: tuple[object, ...] = ()
        self._asked: Final = Counter[int]()
        self._visited: Final = Counter[int]()
        self._rested_at: tuple[object, ...] = ()
        self._fresh = self._walks_off = self._double = self._undo = False

    @property
    def lowered(self) -> Mapping[int, float]:
        """By tooth, how far strokes brought it down, in mm."""
        return self._works.lowered

    @property
    def missed(self) -> int:
        """Gullets to which the head came and the hands never did, in all the filing."""
        return len(self._asked.keys() - self._visited.keys())

    @property
    def twice(self) -> int:
        """Gullets to which the hands came more often than the head."""
        return len(self._visited - self._asked)

    @property
    def strokes(self) -> int:
        """Strokes of the triangular file so far."""
        return self._works.strokes

    def next(self, saying: Saying) -> Move | None:
        """What is done on hearing ``saying``."""
        if self._scan_taken:
            # All flats are told at once, and the look at them is still to be ended.
            self._here, self._told, self._scan_taken = (), None, False
        if self._undo and offered(saying, Act.TAKE_BACK):
            self._undo = False
            self._here, self._told = (), None
            return self._move(Act.TAKE_BACK, 1.5, 4)
        if saying.ask in (Ask.TURN, Ask.FIT):
            if saying.instruction.startswith("Turn the saw"):
                # Until the words say so nobody turns the guides.
                self._works.guided = False
            elif _TURNS.search(saying.instruction):
                self._works.guided = True
        return super().next(saying)

    def choose(self, question: Question) -> str:
        """The answer to a question that the last act opened; nobody tries remedies without end."""
        if not question.choices:
            # Flagged twice: a word for it.
            return "look again"
        told = len(self.remedies)
        if question.title.startswith("The set is too") and self._again < PASSES_AGAIN:
            # Offered once more, it is done once more, until patience ends.
            self._again += 1
            self._mended_set = False
        if self._eyes.fault is not None and told >= REMEDIES and question.choices:
            return question.choices[-1]
        chosen = super().choose(question)
        if len(self.remedies) > told:
            self._works.learn()
        return chosen

    def _after_leveling(self, saying: Saying) -> Move:
        # What is still offered was not taken: after a silence the place was asked for first.
        self._graded &= BY_THE_SCAN not in saying.choices
        move = super()._after_leveling(saying)
        self._scan_taken = BY_THE_SCAN in saying.choices and move.digit == saying.choices.index(BY_THE_SCAN) + 1
        return move

    def _pauses_now(self, saying: Saying) -> bool:
        self._works.guided |= saying.sides == 1 or saying.side == 1
        if self._rested_at == self._here or self._rng.random() >= self.person.interrupted:
            return False
        self._rested_at, self._fresh = self._here, True
        self._rests_s = self._rng.uniform(*_AWAY_S)
        self._walks_off = self._rng.random() < _UNTOLD
        return not self._walks_off

    def _at_tooth(self, saying: Saying) -> Move:
        if self._double:
            self._double = False
            self._undo = self._rng.random() < _SEEN
            return self._move(Act.DONE, 0.3, 1.0)
        move = super()._at_tooth(saying)
        if move.act not in (Act.DONE, Act.STROKES) or saying.stage is not Stage.FILE:
            return move
        self._double = self._rng.random() < self.person.doubles * _LATE
        if self._walks_off:
            self._walks_off = False
            return Move(move.act, move.digit, move.text, move.takes_s + self._rests_s)
        return move

    def _confirm(self, saying: Saying) -> Move:
        if not saying.choices:
            return super()._confirm(saying)
        # Away without a word: was it done before?
        worked = self._told is not None
        says = worked == (self._rng.random() < self.person.notices)
        if worked and not says:
            self._here, self._told = (), None
        return self._move(Act.STROKES, 4, 15, digit=1 if says else 2)

    def _check(self, saying: Saying) -> Move:
        """Count on the saw itself: whoever finds a place that was passed goes back to it."""
        # A count along one side finds what went wrong on that side, and nothing of work that is over.
        here = (saying.stage, saying.side)
        if self._off and self._rng.random() < self.person.notices and self._slipped_on == here:
            self.found_slips += 1
            back, self._off = self._slipped_at, 0
            self.differed.append(f"{saying.stage}, side {saying.side}: went wrong at {back}")
            self.tally.come_back_to(back)
            self._here, self._told = (), None
            return self._move(Act.DIFFER, 10, 30, text=str(back))
        return super()._check(saying)

    def _hands_at(self, gullet: int, saying: Saying) -> int:
        """Where the hands really are while the head is at ``gullet``."""
        stride = self.tally.stride
        chance = self.person.slips * (AFTER_INTERRUPTION if self._fresh else 1.0)
        self._fresh = False
        if saying.done == 0:
            # The first place of a side is looked for.
            self._off = 0
        elif not self._off and self._rng.random() < chance:
            self.slips += 1
            self._off, self._slipped_at = self._rng.choice((1, -1)), gullet
            self._slipped_on = (saying.stage, saying.side)
        at = gullet + self._off * stride
        if self._off and not 1 <= at <= self.plate.points:
            self._off, at = 0, gullet
        if self._off and self._eyes.nothing_at(at) and not self._eyes.nothing_at(gullet):
            # It shines nowhere: that one was done already.
            self._off, at = 0, gullet
        return at

    def _file(self, saying: Saying, gullet: int) -> Move:
        at = self._hands_at(gullet, saying)
        self._asked[gullet] += 1
        self._visited[at] += 1
        hands, eyes, text = self._works, self._eyes, saying.instruction
        heel = eyes.first_back_in(saying.lines)
        if "the same one or two in every gullet" in text:
            return self._filed(saying, at, hands.alike(at, saying.side, self._alike))
        # A gullet that gives nothing by the words is believed to, by whoever has told where the flats lie.
        spared = eyes.forbids(text)
        if not (spared and self._strip) and eyes.nothing_at(at) and not (heel and eyes.sees(1)):
            return self._leave_out(saying.stage, gullet, eyes.why_not(at))
        strokes = 0
        if not spared:
            named = eyes.shares_in(saying)
            half = eyes.half_in(text)
            behind, ahead = (
                named_shares(saying, named, self._rng)
                if named
                else usual_shares(saying, gullet, half=half, from_toe=self.tally.from_toe)
            )
            lean, told = "" if named else eyes.lean_in(text), any(PRESS_TO_THE_OTHER in line for line in saying.lines)
            strokes = hands.file(at, saying.side, behind=behind, ahead=ahead, lean=lean, told=told)
        if heel:
            strokes = max(strokes, hands.file_heel(0.5 if saying.side < saying.sides else 1.0))
        return self._filed(saying, at, strokes)

    def _filed(self, saying: Saying, at: int, strokes: int) -> Move:
        self._keep(Kept.FILE, saying.stage, at, saying.side, strokes)
        if not strokes:
            return self._move(Act.DONE, 1, 3)
        return self._move(Act.STROKES, 1 + strokes, 2 + 1.3 * strokes, digit=min(9, strokes))
