"""The filer's own count along the line, kept apart from the program's so that the two can be compared."""

from __future__ import annotations

from session.counsel.saying import Saying
from session.trade.saw import End, Saw


class Tally:
    """Counts the places stood at on one side of one stage, from the first one that was found by the words.

    The count goes on by itself, every gullet or every other one; the program's numbers enter it only once a
    side. So a gullet that the program leaves out or asks twice shows as a difference at the next check.
    """

    def __init__(self, saw: Saw) -> None:
        self.from_toe = saw.start is End.TOE
        self._leg: tuple[object, ...] = ()
        self._first = 0
        self._stride = 1
        self._stood: list[int] = []

    @staticmethod
    def is_tooth(saying: Saying) -> bool:
        """Whether the place in hand is one of the line: a tooth or a gullet."""
        return saying.of.startswith(("tooth", "gullet"))

    def stand(self, saying: Saying, tooth: int) -> None:
        """Stand at the place that the words name; at the same one as before, nothing is counted."""
        leg = (saying.stage, saying.side, saying.of)
        if leg != self._leg or (saying.done == 0 and tooth != self.named):
            self._leg, self._first, self._stood = leg, tooth, []
            self._stride = (2 if saying.sides == 2 else 1) * (-1 if self.from_toe else 1)
        if tooth != self.named:
            self._stood.append(tooth)

    @property
    def named(self) -> int | None:
        """The place last stood at, by the number that the program gave it."""
        return self._stood[-1] if self._stood else None

    @property
    def last(self) -> int | None:
        """The place last stood at by the own count; None when none was."""
        return self._first + self._stride * (len(self._stood) - 1) if self._stood else None

    def expected(self, saying: Saying) -> int | None:
        """The place that comes next by the own count; None at the beginning of a side, where the words say it."""
        if self.last is None or saying.done == 0 or (saying.stage, saying.side, saying.of) != self._leg:
            return None
        return self.after(self.last)

    def after(self, tooth: int) -> int:
        """The place after ``tooth`` on this side."""
        return tooth + self._stride
