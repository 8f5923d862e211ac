"""Flagged places that are still open, and when they are asked about."""

from __future__ import annotations

from typing import Final

from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.place import Place, place_of
from session.walk.stages import LEFT_OUT_STEP
from session.walk.state import State

#: Why a mark was taken back when the person goes back to a flagged place.
LOOK_AGAIN: Final = "flagged, look again"


def open_flags(state: State) -> tuple[Place, ...]:
    """The flagged places, in route order, that were not gone back to since: done once more, or left out."""
    of = {mark.of: mark.seq for mark in state.marks if mark.did is Did.TOOK_BACK and mark.reason == LOOK_AGAIN}
    again = {place_of(mark): of[mark.seq] for mark in state.marks if mark.seq in of}
    flagged = (place for place, mark in state.flags.items() if again.get(place, 0) <= mark.seq)
    return tuple(sorted((p for p in flagged if p in state.route.index), key=state.route.index.__getitem__))


def flags_asked(state: State) -> tuple[Place, ...]:
    """The open flags that are asked about now: of a side at the check that ends it, all of them before the close.

    Only a place with a mark can be gone back to.
    """
    now = state.front
    if now.ask is Ask.WORK and now.place is not None and now.place.step == LEFT_OUT_STEP:
        return tuple(place for place in open_flags(state) if place in state.outcomes)
    if now.ask is not Ask.CHECK or now.place is None:
        return ()
    leg, _ = state.route.leg_at(state.route.index[now.place])
    ends = now.place == leg.places[-1]
    return tuple(p for p in open_flags(state) if p in leg.places and p in state.outcomes) if ends else ()
