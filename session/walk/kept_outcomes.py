"""What was marked of places before an earlier one was set by hand, and can stand again."""

from __future__ import annotations

from collections.abc import Mapping

from session.value_class import replace
from session.walk.account import ACTS
from session.walk.mark import Did, Mark
from session.walk.place import Place, place_of
from session.walk.state import State
from session.walk.taken_back import LOOK_AGAIN, set_backs


def kept_outcomes(state: State) -> Mapping[Place, Mark]:
    """The open places whose mark was taken back as an earlier place was set, each with the last mark that did so.

    Where a flat lies on the strip is not kept of a tooth that was graded anew since.
    """
    took = {mark.of: mark for mark in set_backs(state.marks)} if state.taken else {}
    kept: dict[Place, Mark] = {}
    for mark in state.marks if took else ():
        place = place_of(mark) if mark.seq in took else None
        if place is None or place in state.outcomes or place not in state.route.index:
            continue
        graded = state.outcomes.get(replace(place, step="")) if place.on_strip else None
        if graded is None or graded.seq < took[mark.seq].seq:
            kept[place] = took[mark.seq]
    return kept


def last_set_back(state: State) -> tuple[Mark, ...]:
    """The marks of the last setting of an earlier place, the last first, where nothing was marked since."""
    held = {mark.seq for mark in set_backs(state.marks)} if state.taken else set()
    found: list[Mark] = []
    for mark in reversed(state.marks) if held else ():
        if mark.seq in held and (not found or (mark.many, mark.seq) == (found[0].many, found[-1].seq - 1)):
            found.append(mark)
        elif found or mark.did is Did.PUT_BACK or mark.reason == LOOK_AGAIN or _stands(state, mark):
            break
    return tuple(found)


def _stands(state: State, mark: Mark) -> bool:
    return mark.did in ACTS and mark.seq not in state.taken
