"""A place that is worked with a tool is done: what is recorded of it, and what is said, at a look again too."""

from __future__ import annotations

from session.advice.gullet_advice import over_shown
from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.desk.step_answers import marked
from session.sentences.moment import Moment
from session.sentences.offers import NO_DIGIT
from session.sentences.work_words import no_stroke
from session.texts.wording import times
from session.walk import acts
from session.walk.flagged_places import strokes_before
from session.walk.place import Place


def filed(making: MarkWriter, at: Moment, strokes: int) -> Reply:
    """The gullet in hand is done with so many strokes, 1 to `session.walk.rules.MOST_STROKES` with those before; a
    touch of the box of all digits counts none of them."""
    if strokes == NO_DIGIT:
        return Reply("Press the digit itself: 1 to 9 strokes, 0 for ten and more.", refused=True)
    before, place = strokes_before(making.state), making.state.place
    counted = times(before + strokes, "stroke")
    told = f"{before} and {strokes} more: {counted}" if before else counted
    with_it = ", the back of tooth 1 with it" if at.expected.back else ""
    note = f"Marked {place} ({told}){with_it}{over_shown(at.expected, before + strokes)}."
    return making.make(acts.done(making.state, making.at(), strokes=strokes), note=note)


def gone_on(making: MarkWriter, at: Moment, place: Place) -> Reply:
    """``place``, in hand, is done as it is told; one that was gone back to was looked at, and keeps its strokes."""
    note = marked(place)
    if at.worked_before is not None:
        before = strokes_before(making.state)
        kept = f"; it keeps its {times(before, 'stroke')}" if before else ""
        note = f"Looked again at {place}, nothing more{kept}."
    return making.make(acts.done(making.state, making.at(), reason=no_stroke(at, place)), note=note)
