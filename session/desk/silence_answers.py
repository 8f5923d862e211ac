"""The answers to a press after a long silence: what is in hand was done meanwhile, begun, or not yet."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.sentences.silence_words import BEGUN, NOT_YET, WORKED, begun_told, silence_words
from session.texts.wording import times
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.stages import Kind


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
        """A yes, or the key that goes on: neither says which of them it means."""
        return Reply(f"Press {self._digits()}: {self._keys()}. Nothing was marked.", refused=True)

    def answer(self, digit: int) -> Reply:
        """The answer ``digit``."""
        making, strokes = self._making, self.strokes
        place = making.state.place
        if place is None or digit not in silence_words(place):
            return Reply(f"{digit}: allowed: {self._digits()}; {self._keys()}.", refused=True)
        # Of a part nothing is recorded: the strokes are counted once the place is done.
        told = begun_told(place) if digit == BEGUN else f"Not yet: {place} is next."
        confirmed = making.make(acts.confirm(making.state, making.at(), "yes"), note=told)
        if confirmed.refused or digit == NOT_YET:
            return confirmed
        front = making.state.front
        if front.ask is not Ask.WORK or front.place != place:
            # The silence began before the place could be worked: at a turn, a fitting or a caution.
            return Reply("Nothing was marked: what is asked here comes before it.")
        if digit != WORKED:
            return confirmed
        counted = strokes or None
        done = acts.done(making.state, making.at(), strokes=counted)
        return making.make(done, note=f"Marked {_told(place, counted)}.")

    def _digits(self) -> str:
        *others, last = self._words()
        return f"{', '.join(map(str, others))} or {last}"

    def _keys(self) -> str:
        return ", ".join(f"{digit} {word}" for digit, word in self._words().items())

    def _words(self) -> Mapping[int, str]:
        return silence_words(self._making.state.place)


def _told(place: Place, strokes: int | None) -> str:
    if strokes is None:
        return str(place)
    return f"{place} ({times(strokes, 'stroke')})"
