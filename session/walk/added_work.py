"""Work added at the bench: what an addition brings with it, and which additions a good trial cut makes needless."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from session.walk.mark import Mark
from session.walk.measurables import GOOD, Measurable
from session.walk.place import Place
from session.walk.route import route
from session.walk.stages import TRIAL_CUT_STEP, Stage
from session.walk.state import State

#: Why an addition is taken back that was not begun when the saw cut well.
CUT_IS_GOOD: Final = "the cut is good"


def wants_dressing(state: State, after: State) -> bool:
    """Whether ``after`` has filing that ``state`` had not, and the plan dresses its burr."""
    filed = (place for place in after.route.places if place.stage is Stage.FILE)
    return Stage.DRESS in state.taken_in and any(place not in state.route.index for place in filed)


def not_begun(state: State) -> Iterator[int]:
    """The seqs of the additions none of whose places is done or left out, the last one first.

    Additions are worked in their order, so that the first one that has begun ends the list.
    """
    kept, brought = state.added, state.route
    while kept:
        without = route(state.plan, state.taken_in, kept[:-1], state.looks)
        places = [place for place in brought.places if place not in without.index]
        if not places or any(place in state.outcomes for place in places):
            return
        yield kept[-1].seq
        kept, brought = kept[:-1], without


def fault_of_cut(state: State) -> str:
    """The fault that the last trial cut showed, as long as nothing was added since; empty for none.

    A later cut that was passed over, with no word of how it went, leaves that fault as the last that is known.
    """
    cut = state.measured.get(Measurable.TRIAL_CUT)
    if cut is None or cut.value == GOOD:
        return ""
    passed = (mark.seq for place, mark in state.outcomes.items() if place.step == TRIAL_CUT_STEP)
    since = max((cut.seq, *passed))
    return "" if any(one.seq > since for one in state.added) else str(cut.value)


def fault_to_mend(state: State) -> str:
    """The same, and before another cut is told also while something is being done about it, once that work is over."""
    cut = state.measured.get(Measurable.TRIAL_CUT)
    at_cut = state.place is not None and state.place.stage in (Stage.PROVE, Stage.CLOSE)
    return str(cut.value) if at_cut and cut is not None and cut.value != GOOD else fault_of_cut(state)


def told_here(state: State, place: Place, what: str) -> Mark | None:
    """What was told of ``what``, unless it was told of an earlier round: of the trial cut before, say."""
    mark = state.measured.get(what)
    earlier = mark is not None and mark.stage is place.stage and (mark.round or 1) != place.round
    return None if earlier else mark
