"""The answers to a press after a long silence: what is in hand was done meanwhile, or not yet."""

from __future__ import annotations

from typing import Final

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
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

    def answer(self, digit: int, strokes: int) -> Reply:
        """The answer ``digit``; ``strokes`` are those of the press that was asked about, 0 for none counted."""
        if digit not in (WORKED, NOT_YET):
            return Reply(f"{digit}: allowed: {WORKED} or {NOT_YET}.", refused=True)
        making = self._making
        place = making.state.place
        confirmed = making.make(acts.confirm(making.state, making.at(), "yes"), note=f"Not yet: {place} is next.")
        front = making.state.front
        if confirmed.refused or digit == NOT_YET or front.ask is not Ask.WORK or front.place != place or place is None:
            return confirmed
        counted = strokes if strokes and place.kind is Kind.GULLET else None
        done = acts.done(making.state, making.at(), strokes=counted)
        return making.make(done, note=f"Marked {_told(place, counted)}.")


def _told(place: Place, strokes: int | None) -> str:
    if strokes is None:
        return str(place)
    return f"{place} ({times(strokes, 'stroke')})"
