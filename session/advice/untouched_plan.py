"""Whether somebody decided on the plan by hand, and whether it waits for a yes before it is gone on with."""

from __future__ import annotations

from session.advice.look_over import Counsel
from session.advice.stops import Advised
from session.advice.work import FREE
from session.walk.mark import Did
from session.walk.state import State


def own_plan(state: State) -> bool:
    """Whether a stage was taken in or out, or something added, and that stands."""
    decides = (Did.DECIDED, Did.ADDED)
    return any(mark.did in decides and mark.seq not in state.taken for mark in state.marks)


def waits_for_yes(state: State, advised: Advised, against: tuple[Counsel, ...]) -> bool:
    """Whether no steel is to be taken, the plan takes some, and nobody has decided that it shall.

    against: the advice that the plan as it stands does not follow.
    """
    spared = advised.stop or FREE.issuperset(advised.whats)
    return spared and not own_plan(state) and any(not one.take_in for one in against)
