"""Pausing, and going on after it."""

from __future__ import annotations

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.desk.press_guards import span
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.mark import Did


def pause(making: MarkWriter, ask: Ask) -> Reply:
    """Pause where work is ``ask``-ed for, or go on after a pause."""
    state, at = making.state, making.at()
    if ask is Ask.FINISHED:
        return Reply("Finished: there is nothing to pause.", refused=True)
    if ask is not Ask.PAUSED:
        return making.make(acts.pause(state, at), note="Paused. All is saved.")
    since = next(mark.at for mark in reversed(state.marks) if mark.did is Did.PAUSED)
    seconds = (at - since).total_seconds()
    return making.make(acts.resume(state, at, after="pause", seconds=seconds), note=f"Rested {span(seconds)}.")
