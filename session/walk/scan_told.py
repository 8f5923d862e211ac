"""What a scan told of the flat in hand before an eye was asked to tell it anew: its place holds, whatever its width."""

from __future__ import annotations

from session.trade.scan_readings import BY_SCAN
from session.walk.mark import Did, Mark
from session.walk.place import place_of
from session.walk.state import State


def told_of_flat(state: State) -> Mark | None:
    """The mark by which a scan told the flat in hand, taken back since; None where it told none."""
    here = state.place
    if here is None or not here.tooth or not state.route.leg_at(state.here)[0].scan:
        return None
    told = (mark for mark in reversed(state.marks) if mark.unit == BY_SCAN and mark.did is Did.DONE)
    return next((mark for mark in told if mark.tooth == here.tooth and place_of(mark) == here), None)
