"""What the countdown marks once its time is up, and why it is held instead."""

from __future__ import annotations

from session.desk.act_reply import Reply
from session.desk.countdown import UNSEEN_S, Countdown
from session.desk.flat_answers import of_a_flat
from session.desk.mark_writer import MarkWriter
from session.desk.press_guards import span
from session.sentences.moment import Moment
from session.sentences.work_words import no_stroke
from session.walk import acts
from session.walk.front_question import Ask, Front
from session.walk.stages import Kind


def can_time(now: Front) -> bool:
    """Whether what is asked is work of the kind that the countdown may mark."""
    kinds = (Kind.GULLET, Kind.TOOTH)
    return now.ask is Ask.WORK and now.place is not None and now.place.kind in kinds and not of_a_flat(now.place)


def timed(making: MarkWriter, moment: Moment, countdown: Countdown, *, shown: bool) -> Reply | None:
    """Mark the place in hand when the ``countdown`` that runs is over; None while there is nothing to say.

    shown: whether the place in hand has really been shown. Nothing is marked of a place that nobody could see, nor
    when its time was up long ago: then the program was not running, as while the machine sleeps.
    """
    place = making.state.place
    if place is None or not can_time(moment.front):
        countdown.hold()
        return Reply("The countdown is held: this needs you.")
    if countdown.left_s() > 0:
        return None
    if (over := countdown.over_s()) >= UNSEEN_S:
        countdown.hold()
        why = f"{span(over)} went by unseen" if shown else "the terminal does not say that it shows the place"
        return Reply(f"The countdown is held: {why}.", refused=True)
    if not shown:
        return None
    mark = acts.done(making.state, making.at(), by="timer", reason=no_stroke(moment, place))
    countdown.again()
    return making.make(mark, note=f"Marked by the timer: {place}.")
