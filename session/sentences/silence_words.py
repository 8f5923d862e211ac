"""The answers to a press after a long silence: what became of the place in hand meanwhile, and the digit of each."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.walk.place import Place
from session.walk.stages import Kind, Stage

#: The digits of the answers, the same at every place.
WORKED: Final = 1
NOT_YET: Final = 2
BEGUN: Final = 3

#: What was done to a place of a stage, in one word.
_WORKED: Final = {Stage.FILE: "filed", Stage.RESHAPE: "filed", Stage.SET: "bent"}

#: How a place that was begun is ended, by its kind. A tooth is bent in one squeeze, so that none is left in the midst.
_ENDED: Final = {
    Kind.GULLET: "finish it, and count all its strokes",
    Kind.PASS: "push on to the end of the line",
}


def worked_word(place: Place | None) -> str:
    """What was done to ``place``, in one word."""
    return _WORKED.get(place.stage, "done") if place is not None else "done"


def silence_words(place: Place | None) -> Mapping[int, str]:
    """Each digit that answers of ``place``, and its answer in a word or two."""
    words = {WORKED: worked_word(place), NOT_YET: "not yet"}
    return {**words, BEGUN: "begun"} if place is not None and place.kind in _ENDED else words


def silence_question(place: Place) -> str:
    """What is asked of ``place``: which of the answers holds."""
    *others, last = silence_words(place).values()
    return f"Look at the saw: {place}: {', '.join(others)}, or {last}?"


def silence_choices(place: Place, worked: str) -> tuple[str, ...]:
    """The answers in full, in the order of their digits. worked: what the first of them marks besides."""
    said = (f"{worked_word(place)}{worked}: mark it and go on", "not yet: it is next")
    return (*said, f"begun: {_ENDED[place.kind]}") if place.kind in _ENDED else said


def begun_told(place: Place) -> str:
    """What is done with ``place`` now that it is known to be half done: nothing is recorded of a part."""
    return f"Nothing was marked. Begun: {place}: {_ENDED[place.kind]}."
