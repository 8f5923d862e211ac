"""Looks taken before the bench was opened: recorded as marks, so that only the plan is left to settle."""

from __future__ import annotations

from session.advice.plausibility import doubts, without
from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.texts.steps import step as step_of
from session.trade.observation import Seen
from session.walk import acts
from session.walk.measurables import NOT_LOOKED
from session.walk.seen_marks import ASKED_AS, answers_of
from session.walk.stages import PLAN_STEP, Stage


def record_seen(making: MarkWriter, seen: Seen) -> Reply:
    """Record what ``seen`` holds and pass over the rest of the looks, up to the plan.

    What cannot be is not recorded: the walk stops at that look, and the note says what is expected in its place.
    """
    saw = making.sitting.saw
    doubted = doubts(saw, seen, today=making.at().date())
    again = {ASKED_AS[one.look] for one in doubted if one.look in ASKED_AS}
    for answer in answers_of(without(seen, doubted)):
        mark = acts.measure(
            making.state, making.at(), answer.what, answer.value, unit=answer.unit, entered=answer.entered
        )
        reply = making.make(mark)
        if reply.refused:
            return reply
    while (place := making.state.place) is not None and place.stage is Stage.LOOK_OVER and place.step != PLAN_STEP:
        asks = step_of(place.stage, place.step).asks
        if asks is not None and asks.what in again:
            one = next(one for one in doubted if ASKED_AS.get(one.look) is asks.what)
            return Reply(f"Look again: {one.seen}: {one.why}; expected: {one.expected}.")
        answered = asks is not None and asks.what in making.state.measured
        reply = making.make(acts.done(making.state, making.at(), reason=None if answered else NOT_LOOKED))
        if reply.refused:
            return reply
    return Reply("What was seen before is recorded. Settle the plan.")
