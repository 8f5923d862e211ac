"""Flats, tooth by tooth: what a digit and the advance key say of the width of one, and of its place on the strip."""

from __future__ import annotations

from typing import Final

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.sentences.offers import NO_DIGIT
from session.trade.grades import WORDS
from session.trade.strip_readings import ON_MARK_KEY, quarters_by_key, reading_words
from session.walk import acts
from session.walk.graded_flats import last_grade
from session.walk.place import Place
from session.walk.stages import Stage

#: The digit that lays the strip aside.
ASIDE: Final = 0

#: The digits that tell a width, as words.
_GRADES: Final = f"0 to {len(WORDS) - 1}"

#: The digits that tell a place, as words.
_PLACES: Final = f"1 to {2 * ON_MARK_KEY - 1}, or {ASIDE} to lay the strip aside"


def of_a_flat(place: Place) -> bool:
    """Whether what is done at ``place`` is to tell of a flat."""
    return place.stage is Stage.LEVEL and place.tooth > 0


class FlatAnswers:
    """Tells of flats through one `MarkWriter`: first the width of each, then its place where a strip is in use."""

    def __init__(self, making: MarkWriter) -> None:
        self._making: Final = making

    def digit(self, place: Place, digit: int) -> Reply:
        """What ``digit`` tells of the flat at ``place``, in hand."""
        making, at = self._making, self._making.at()
        if digit == NO_DIGIT:
            return Reply(f"Tell it by a digit: {_PLACES if place.on_strip else _GRADES}.", refused=True)
        if not place.on_strip:
            return making.make(acts.grade(making.state, at, digit), note=f"Graded {place}: {digit}.")
        if digit == ASIDE:
            note = "The strip is laid aside: grades alone from here on."
            return making.make(acts.lay_strip_aside(making.state, at), note=note)
        quarters = quarters_by_key(digit)
        if quarters is None:
            return Reply(f"{digit}: allowed: {_PLACES}.", refused=True)
        told = f"Told tooth {place.tooth}: {reading_words(quarters)}."
        return making.make(acts.place_flat(making.state, at, quarters), note=told)

    def done(self, place: Place) -> Reply:
        """The advance key: the grade as before, which the first flat has none of; of the strip nothing is told."""
        making, at = self._making, self._making.at()
        if place.on_strip:
            return making.make(acts.done(making.state, at), note=f"Skipped: where flat {place.tooth} lies.")
        grade = last_grade(making.state)
        if grade is None:
            # A record tells what was seen, and nobody has said anything of a flat yet.
            return Reply(f"Nothing to repeat yet: grade {place} by a digit, {_GRADES}.", refused=True)
        return making.make(acts.grade(making.state, at, grade), note=f"Graded {place}: {grade}, as before.")
