"""Taking back the last act, and what was made by the same answer with it."""

from __future__ import annotations

from typing import Final

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.sentences.mark_words import told
from session.sentences.moment import Moment
from session.trade.scan_readings import BY_SCAN
from session.walk import acts, place_moves
from session.walk.flagged_places import looked_again
from session.walk.mark import Did
from session.walk.measurables import Measurable
from session.walk.stages import PLAN_STEP


def take_back(making: MarkWriter, moment: Moment) -> Reply:
    """Take back the last act of ``moment``, as far as it may be."""
    if moved := place_moves.move_undone(making.state, making.at()) if Did.PUT_BACK in moment.allowed else ():
        reply = making.make_all(moved, "")
        next_one = making.state.place or "the end"
        return reply if reply.refused else Reply(f"Not gone back: all stands as before, {next_one} is next.")
    last = making.state.last_act
    if last is None or Did.TOOK_BACK not in moment.allowed:
        return Reply("There is nothing to take back here.", refused=True)
    if (again := looked_again(making.state)) is not None:
        was = next(mark for mark in making.state.marks if mark.seq == again.of)
        return making.make(acts.put_back(making.state, making.at(), again), note=f"Not looked at again: {told(was)}.")
    marks = acts.take_back_whole(making.state, making.at())
    if len(marks) > 1 and last.unit == BY_SCAN:
        return making.make_all(marks, "Took back: the flats of the scan, all of them.")
    gone = {mark.of for mark in marks}
    whole = [mark for mark in making.state.marks if mark.seq in gone]
    told_of = [mark for mark in whole if mark.did is Did.MEASURED and mark.what != Measurable.WIDTHS]
    if whole[0] in told_of and whole[0].step != PLAN_STEP:
        # An answer is told by what was answered.
        return making.make_all(marks, f"Took back: {told(whole[0])}{_MORE * (len(told_of) > 1)}.")
    return making.make_all(marks, f"Took back: {told(last)}{_MORE * (len(marks) > 1)}.")


_MORE: Final = ", and what it went with"
