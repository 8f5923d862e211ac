"""Whether setting comes in once the flats are good, by the passes that were made and not by those planned."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from itertools import takewhile
from typing import Final

from session.advice.look_over import Counsel
from session.advice.measured_set import measured_set
from session.advice.saw_records import NO_HISTORY, SawRecords
from session.advice.set_work import set_work
from session.advice.sharpness import Degree
from session.advice.work import What, filing_mm, passes_mm
from session.texts.wording import lowered, times
from session.trade.observation import Seen
from session.trade.saw import Saw
from session.walk.mark import Did
from session.walk.seen_marks import seen_in
from session.walk.stages import Kind, Stage
from session.walk.state import State

#: What the stage of today's plan is as work on the saw, as far as it has to do with the set.
_AS_WORK: Final[Mapping[Stage, What]] = {Stage.FILE: What.FILE, Stage.DRESS: What.DRESS}


def set_after_passes(
    saw: Saw, seen: Seen, passes: int, others: Collection[What], records: SawRecords = NO_HISTORY
) -> tuple[str, str] | None:
    """Why teeth are set before they are filed, and who says so, once ``passes`` (1 or more) of leveling were made; None
    where the set that is left is enough, or not known.

    others: the work that follows.
    """
    off = passes_mm(passes)
    if What.FILE in others:
        off += filing_mm(saw, off, records.bite)
    has = measured_set(saw, seen, records)
    found = set_work(saw, seen, has, Degree.LEVEL_AND_FILE, off, others).get(What.SET)
    if found is None:
        return None
    reason, source = found
    return f"After {times(passes, 'pass')}: {lowered(reason)}", source


def set_comes_in(state: State, saw: Saw, records: SawRecords = NO_HISTORY) -> Counsel | None:
    """Setting, where the passes made at the flats in hand leave too little set; None where they do not.

    It comes in once for the same passes: what the person then decides or takes back holds. A plan that files first, or
    whose teeth were set already, is left as it is.
    """
    place, order = state.place, state.plan.order
    if place is None or place.stage is not Stage.LEVEL or place.kind is not Kind.STEP or place.round > 2:
        return None
    if Stage.SET in state.taken_in or Stage.SET not in order or state.tally.begun(Stage.SET):
        return None
    made = [level for number, level in state.tally.rounds.items() if number <= place.round]
    passes = sum(level.passes for level in made)
    if not passes or (Stage.FILE in order and order.index(Stage.SET) > order.index(Stage.FILE)):
        return None
    since = max(level.passed_at for level in made)
    later = takewhile(lambda mark: mark.seq > since, reversed(state.marks))
    if any(mark.did is Did.DECIDED and mark.stage is Stage.SET for mark in later):
        return None
    others = frozenset(what for stage, what in _AS_WORK.items() if stage in state.taken_in)
    told = set_after_passes(saw, seen_in(state.measured), passes, others, records)
    return None if told is None else Counsel(Stage.SET, True, *told)
