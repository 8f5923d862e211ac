"""The filer's own count along the line, kept apart from the program's so that the two can be compared."""

from __future__ import annotations

from collections.abc import Callable

from session.desk.question import Question
from session.rehearsal.refusal_read import nearest_allowed
from session.sentences.flat_words import SCAN_SAYS, UNSEEN
from session.sentences.saying import Saying
from session.trade.saw import End, Saw


class OwnCount:
    """Where the hands stand on one side of one stage, counted on from the first place, which the words name.

    The hands go on by themselves, to the next gullet or the next but one; the program's numbers move them only
    at the beginning of a side. So a number that the program leaves out shows as a difference at the next check.

    stumps: the broken teeth that were told at the look over. last: where the hands stand or stood last, None before
    the first place. named: the number that the program gave that place, None when the place was set since.
    """

    def __init__(self, saw: Saw, stumps: frozenset[int] = frozenset()) -> None:
        self._stumps = stumps
        self.from_toe = saw.start is End.TOE
        self.last: int | None = None
        self.named: int | None = None
        self._leg: tuple[object, ...] = ()
        self._stride = 1
        self._scanned = False

    @staticmethod
    def is_tooth(saying: Saying) -> bool:
        """Whether the place in hand is one of the line: a tooth or a gullet."""
        return saying.of.startswith(("tooth", "gullet"))

    def stand(self, saying: Saying, nothing_at: Callable[[int], bool] = lambda tooth: False) -> int:
        """Go to the place in hand, one on from the last; stay when the words name the same one. Gives where that is.

        nothing_at: whether there is nothing to do at a place, so that the words may pass it over; they do so too where
        a scan told of the others.
        """
        tooth, leg = int(saying.numeral), _leg(saying)
        self._scanned = any(words in saying.instruction for words in (UNSEEN, SCAN_SAYS))
        if self.last is None or leg != self._leg or (saying.done == 0 and tooth != self.named):
            self._leg, self.last = leg, tooth
            self._stride = (2 if saying.sides == 2 else 1) * (-1 if self.from_toe else 1)
        elif tooth != self.named:
            first = self._after(self.last)
            passed = range(first, tooth, self._stride)
            # A later one that the words name is gone to when there is nothing to do at any before it.
            self.last = tooth if passed and (self._scanned or all(map(nothing_at, passed))) else first
        self.named = tooth
        return self.last

    @property
    def stride(self) -> int:
        """From one place to the next, below 0 from the toe."""
        return self._stride

    def come_back_to(self, place: int) -> None:
        """Go back to ``place``, which is next now."""
        self.last = place - self._stride
        self.named = None

    def following(self) -> int | None:
        """The place after the one last stood at; None before the first."""
        return None if self.last is None else self._after(self.last)

    def _after(self, place: int) -> int:
        """The next place; nothing is done to a stump, so that hands go past it where one tooth is worked."""
        place += self._stride
        while self._leg[2:] and str(self._leg[2]).startswith("tooth") and place in self._stumps:
            place += self._stride
        return place

    def expected(self, saying: Saying) -> int | None:
        """The place that comes next by the own count; None at the beginning of a side, where the words say it."""
        if saying.done == 0 or _leg(saying) != self._leg:
            return None
        own, named = self.following(), int(saying.numeral)
        # Of those in between the scan has told.
        return named if own is not None and self._scanned and (named - own) * self._stride > 0 else own

    def second_answer(self, question: Question, told: str, refusal: str) -> str | None:
        """What is answered once ``told``, as the place that is next, was refused: of what ``refusal`` allows the
        nearest, the earlier of two, and the hands go on from there. None where none is allowed by its number, or where
        places would be marked that nobody worked: then the question is closed, and the screen is believed."""
        second = nearest_allowed(told, refusal)
        if second is None or question.check(str(second)) is not None or question.several(str(second)):
            self.begin_anew()
            return None
        self.come_back_to(second)
        return str(second)

    def begin_anew(self) -> None:
        """The line is gone along once more, from its first place."""
        self.last = None

    def place_set(self) -> None:
        """The program was told which place is next: its number for the last one no longer counts."""
        self.named = None


def _leg(saying: Saying) -> tuple[object, ...]:
    return (saying.stage, saying.side, saying.of)
