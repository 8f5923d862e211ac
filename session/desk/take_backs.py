"""Taking back the last act, and what was made by the same answer with it."""

from __future__ import annotations

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.sentences.moment import Moment
from session.sentences.whereabouts import told
from session.trade.flats_by_scan import BY_SCAN
from session.walk import acts
from session.walk.flagged_places import looked_again
from session.walk.mark import Did


def take_back(making: MarkWriter, moment: Moment) -> Reply:
    """Take back the last act of ``moment``, as far as it may be."""
    last = making.state.last_act
    if last is None or Did.TOOK_BACK not in moment.allowed:
        return Reply("There is nothing to take back here.", refused=True)
    if (again := looked_again(making.state)) is not None:
        was = next(mark for mark in making.state.marks if mark.seq == again.of)
        return making.make(acts.put_back(making.state, making.at(), again), note=f"Not looked at again: {told(was)}.")
    marks, words = acts.take_back_whole(making.state, making.at()), told(last)
    if len(marks) > 1 and last.unit == BY_SCAN:
        return making.make_all(marks, "Took back: the flats of the scan, all of them.")
    return making.make_all(marks, f"Took back: {words}{', and what it went with' * (len(marks) > 1)}.")
