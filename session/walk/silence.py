"""Whether the place is asked for after a long silence, and a press waits to hear if its work was done."""

from __future__ import annotations

from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.stages import Kind, Stage
from session.walk.state import State


def after_silence(state: State) -> bool:
    """Whether the last interruption was a silence, and what is in hand may have been worked in it: a gullet, a tooth
    that is bent, a pass."""
    place = state.place
    if state.front.ask is not Ask.CONFIRM or place is None or place.kind is Kind.STEP:
        return False
    if place.stage is Stage.LEVEL and place.tooth:
        # A flat is told, not worked: nothing may have been done to it unseen.
        return False
    last = next((mark for mark in reversed(state.marks) if mark.did is Did.RESUMED), None)
    return last is not None and last.what == "no key"
