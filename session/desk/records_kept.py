"""Teeth that the records tell broken or low where nobody looks today: what was recorded of them stands in the plan."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.desk.step_answers import passed_by
from session.sentences.moment import Moment
from session.texts.wording import capital, times
from session.trade.tooth_numbers import numbers_in_words
from session.walk import acts
from session.walk.flagged_places import strokes_before
from session.walk.mark import Mark
from session.walk.measurables import NOT_ANSWERED, NOT_LOOKED, NOTHING_TO_SEE, Measurable
from session.walk.place import Place
from session.walk.seen_marks import SeenAnswer, teeth_answer
from session.walk.stages import Stage

#: How a number of a tooth is entered that the records told, and not the eyes.
BY_RECORDS: Final = "by the records"

#: The looks for teeth of which the records tell.
_KEPT: Final = {str(what): what for what in (Measurable.BROKEN_TEETH, Measurable.LOW_TEETH)}


def skipped(making: MarkWriter, at: Moment, place: Place) -> Reply:
    """The question of the step ``place``, in hand, is passed over; teeth that are known to be broken or low stay so."""
    why = NOT_LOOKED if place.stage is Stage.LOOK_OVER else NOT_ANSWERED
    return _past(making, at, lambda: acts.done(making.state, making.at(), reason=why), passed_by(place))


def left_out(making: MarkWriter, at: Moment, reason: str) -> Reply:
    """The place in hand is left out for ``reason``; teeth that are known to be broken or low stay so here as well, and
    a gullet that was gone back to keeps its strokes."""
    before = strokes_before(making.state)
    kept = f", its {times(before, 'stroke')} kept" if before else ""
    told = f"Left out {at.place}{kept}: {reason}"
    return _past(making, at, lambda: acts.leave_out(making.state, making.at(), reason), told)


def _past(making: MarkWriter, at: Moment, passed: Callable[[], Mark], note: str) -> Reply:
    """The place in hand is gone past by the mark ``passed``; a look for broken or low teeth with those of before."""
    first, place = making.state.next_seq, at.place
    looks = place is not None and place.stage is Stage.LOOK_OVER
    for one in _still(at, _KEPT[place.step]) if looks and place is not None and place.step in _KEPT else ():
        reply = making.make(
            acts.measure(making.state, making.at(), one.what, one.value, unit=one.unit, entered=one.entered)
        )
        if reply.refused:
            return reply
        note = f"{note.rstrip('.')}. {capital(one.what).split()[0]} stays {one.entered}."
    return making.make(acts.of_answer(passed(), first), note=note)


def known_still(at: Moment) -> tuple[SeenAnswer, ...]:
    """The teeth of the line that the records tell broken, then low, as they are told where nobody looks; () where there
    are none, or somebody said today which are."""
    return (*_still(at, Measurable.BROKEN_TEETH), *_still(at, Measurable.LOW_TEETH))


def _still(at: Moment, what: Measurable) -> tuple[SeenAnswer, ...]:
    """The same of ``what``: teeth broken or low."""
    known = at.records.broken if what is Measurable.BROKEN_TEETH else at.records.low
    teeth = tuple(sorted({tooth for tooth in known if 1 <= tooth <= at.state.plan.points}))
    if not teeth or what in at.state.measured:
        return ()
    return (teeth_answer(what, teeth, f"{numbers_in_words(teeth)} {BY_RECORDS}"),)


def all_round(at: Moment, answers: Iterable[SeenAnswer]) -> tuple[SeenAnswer, ...]:
    """``answers`` to the step in hand, with the teeth known broken or low where they say that nothing is to be seen all
    round."""
    answers = tuple(answers)
    nothing = any(one.what == Measurable.ALL_ROUND and one.value == NOTHING_TO_SEE for one in answers)
    return (*answers, *(known_still(at) if nothing else ()))
