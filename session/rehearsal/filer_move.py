"""One thing that the simulated filer does at the program, and how often it does what not every filer does."""

from __future__ import annotations

from typing import Final

from session.sentences.offers import Act
from session.sentences.saying import Saying
from session.sentences.silence_words import NOT_YET
from session.value_class import dataclass

#: Of so many gullets one is flagged, and after one a wrong digit is pressed and taken back.
FLAG_IN: Final = 40
SLIP_IN: Final = 30

#: More leveling passes than planned that the filer asks for at most, in one leveling.
MOST_MORE: Final = 6

#: One filer of so many takes reshaping in by itself, where leveling is in the plan.
RESHAPES_IN: Final = 4

#: How often the filer grades the flats.
GRADES_SHARE: Final = 0.6

#: Remedies that it tries before it goes on with the saw as it is.
MOST_REMEDIES: Final = 4

#: One filer of so many tries first what costs no steel.
FREE_FIRST_IN: Final = 3


@dataclass(frozen=True, slots=True)
class Move:
    """One thing the filer does: the act, the digit for STROKES, what is typed when the act asks for words,
    and how many seconds of work come before it."""

    act: Act
    digit: int = 0
    text: str | None = None
    takes_s: float = 3.0

    def or_last_choice(self, saying: Saying) -> Move:
        """The same where a yes is answered by choices, and "not yet" is meant, or else the last: leaving open flags."""
        if self.act is not Act.AGREE or not saying.choices:
            return self
        not_yet = (offer.digit for offer in saying.offers if offer.digit == NOT_YET and offer.act is Act.STROKES)
        return Move(Act.STROKES, next(not_yet, len(saying.choices)), takes_s=self.takes_s)


def offered(saying: Saying, act: Act) -> bool:
    """Whether the program offers ``act`` now."""
    return any(offer.act is act for offer in saying.offers)
