"""The flats that are still to be graded, all at once: the same grade as before, or not seen."""

from __future__ import annotations

from typing import Final

from session.desk.act_reply import Reply
from session.desk.desk import Desk
from session.desk.question import Question
from session.trade.grades import WORDS
from session.walk import acts
from session.walk.graded_flats import last_grade

#: What the flats that nobody looked at count as from then on.
_UNSEEN: Final = "not seen: grading ends here; they count as narrow, the usual width"


def rest_question(desk: Desk) -> Question:
    """What the rest of the flats are: one answer for all of them, as the first and last are named (bench rule 9). It is
    asked about once more, as a digit may have been meant for a grade.

    Where each flat is told against a strip as well, they can only be not seen.
    """
    state, making = desk.moment.state, desk.making
    leg, first = state.route.leg_at(state.here)
    rest = [p for p in leg.places[state.here - first :] if not p.on_strip and not state.passed(p)]
    grade, on_strip = last_grade(state), any(place.on_strip for place in leg.places)
    told = f"{rest[0]} to {rest[-1]}" if len(rest) > 1 else f"{rest[0]}"
    same = f"as before: grade {grade}, {WORDS[grade]}" if grade is not None and not on_strip else ""

    def then(text: str) -> Reply:
        if text == same and grade is not None:
            marks = acts.rest_as_before(making.state, making.at(), grade)
            return making.make_all(marks, f"Graded {told}: {grade}, as before.")
        return making.make(acts.rest_not_seen(making.state, making.at()), note=f"Not graded: {told}.")

    def several(text: str) -> str:
        if text == same:
            return f"All at once, {told}: grade {grade}."
        return f"No grade at all for {told}: not seen."

    return Question(
        f"The rest of the flats: {told}, {'1 tooth' if len(rest) == 1 else f'{len(rest)} teeth'}",
        (f"No digit is a grade here: Esc, then grade {rest[0]} alone.", f"Taken back, it is graded on from {rest[0]}."),
        choices=(*([same] if same else []), _UNSEEN),
        then=then,
        several=several,
    )
