"""Whether somebody decided on the plan by hand, what it holds until then, and whether it waits for a yes."""

from __future__ import annotations

from session.advice.look_over import Counsel
from session.advice.stops import Advised
from session.advice.work import FREE
from session.walk.mark import Did
from session.walk.stages import Stage, facts_of
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


def shown_plan(state: State, against: tuple[Counsel, ...]) -> frozenset[Stage]:
    """The stages in the plan as it is shown and gone on with: the advised one until somebody has decided otherwise."""
    if own_plan(state):
        return state.taken_in
    return state.taken_in ^ {one.stage for one in against}


def asked_by_recipe(state: State, against: tuple[Counsel, ...]) -> tuple[Stage, ...]:
    """All optional stages that the recipe's plan began with, in working order; () where the plan shown is that."""
    wanted = tuple(stage for stage in state.plan.order if facts_of(stage).optional and stage in state.plan.taken_in)
    shown = {stage for stage in shown_plan(state, against) if facts_of(stage).optional}
    return () if shown == set(wanted) else wanted
