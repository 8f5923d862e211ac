"""Flagged places that are still open, and when they are asked about."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.walk.account import ACTS, Account
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.place import Place, place_of
from session.walk.stages import LEFT_OUT_STEP
from session.walk.state import State
from session.walk.taken_back import LOOK_AGAIN, looks_again
from session.walk.tally import unfiled

#: Flags that are asked about at once where the digit after them goes on with all of them open.
MOST_ASKED: Final = 8


def flags_left(account: Account) -> Mapping[Place, Mark]:
    """The flagged places that were not gone back to since, each with the last mark that flagged it."""
    of = {mark.of: mark.seq for mark in looks_again(account.marks)}
    again = {place_of(mark): of[mark.seq] for mark in account.marks if mark.seq in of}
    return {place: mark for place, mark in account.flags.items() if again.get(place, 0) <= mark.seq}


def open_flags(state: State) -> tuple[Place, ...]:
    """The same of the places of the route, in its order."""
    flagged = (place for place in flags_left(state) if place in state.route.index)
    return tuple(sorted(flagged, key=state.route.index.__getitem__))


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
    return tuple(p for p in open_flags(state) if p in leg.places and p in state.outcomes)[:MOST_ASKED] if ends else ()


def worked_before(state: State) -> Mark | None:
    """The mark that says how the place in hand was worked before it was flagged and gone back to, so that it may need
    no work at all; None where it was not gone back to, or was left out or gone past without a stroke."""
    if not state.flags or state.place is None:
        return None
    again = {mark.of for mark in looks_again(state.marks)}
    # Of a place looked at more than once, the last says what all of them came to.
    was = next((mark for mark in reversed(state.marks) if mark.seq in again and place_of(mark) == state.place), None)
    if was is None or unfiled(state.place, was):
        return None
    return was if was.did is Did.DONE or was.strokes else None


def strokes_before(state: State) -> int:
    """The strokes counted in the gullet in hand before it was gone back to; 0 where it was not, or nobody counted."""
    was = worked_before(state)
    return (was.strokes or 0) if was is not None else 0


def looked_again(state: State) -> Mark | None:
    """The mark by which a flagged place was gone back to, where nothing was marked since and it can be put back."""
    for mark in reversed(state.marks):
        if mark.did is Did.TOOK_BACK and mark.reason == LOOK_AGAIN:
            return mark
        if mark.did is Did.PUT_BACK or (mark.did in ACTS and mark.seq not in state.taken):
            return None
    return None
