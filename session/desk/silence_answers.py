"""The answers to a press after a long silence: what is in hand was done meanwhile, or not yet."""

from __future__ import annotations

from typing import Final

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.sentences.offers import worked_word
from session.texts.wording import times
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.stages import Kind

#: The digits of the two answers (session/sentences/front_words.py).
WORKED: Final = 1
NOT_YET: Final = 2


class SilenceAnswers:
    """Answers through one `MarkWriter`."""

    def __init__(self, making: MarkWriter) -> None:
        self._making: Final = making
        self._counted: tuple[Place | None, int] = (None, 0)

    def ask(self, place: Place | None, strokes: int) -> None:
        """Keep what the press that is asked about counted at ``place``: so many strokes, 0 for none."""
        self._counted = place, strokes

    @property
    def strokes(self) -> int:
        """The strokes that "filed" records in the place in hand: those of that press, made for this very place."""
        place, strokes = self._counted
        return strokes if place is not None and place.kind is Kind.GULLET and place == self._making.state.place else 0

    def undecided(self) -> Reply:
        """A yes, or the key that goes on: neither says which of the two it means."""
        return Reply(f"Press {WORKED} or {NOT_YET}: {self._keys()}. Nothing was marked.", refused=True)

    def answer(self, digit: int) -> Reply:
        """The answer ``digit``."""
        if digit not in (WORKED, NOT_YET):
            return Reply(f"{digit}: allowed: {WORKED} or {NOT_YET}; {self._keys()}.", refused=True)
        making, strokes = self._making, self.strokes
        place = making.state.place
        confirmed = making.make(acts.confirm(making.state, making.at(), "yes"), note=f"Not yet: {place} is next.")
        front = making.state.front
        if confirmed.refused or digit == NOT_YET:
            return confirmed
        if front.ask is not Ask.WORK or front.place != place or place is None:
            # The silence began before the place could be worked: at a turn, a fitting or a caution.
            return Reply("Nothing was marked: what is asked here comes before it.")
        counted = strokes or None
        done = acts.done(making.state, making.at(), strokes=counted)
        return making.make(done, note=f"Marked {_told(place, counted)}.")

    def _keys(self) -> str:
        place = self._making.state.place
        return f"{WORKED} {worked_word(place) if place is not None else 'done'}, {NOT_YET} not yet"


def _told(place: Place, strokes: int | None) -> str:
    if strokes is None:
        return str(place)
    return f"{place} ({times(strokes, 'stroke')})"
