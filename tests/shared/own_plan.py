"""A plan that stays as it was made: somebody has decided so by hand, and no advice of the look over is taken."""

from __future__ import annotations

from session.log.sitting import Sitting
from session.walk import acts
from session.walk.stages import Stage


def keep_plan(sitting: Sitting) -> Sitting:
    """``sitting`` with one stage decided as it is planned anyway."""
    state = sitting.state
    kept = acts.decide(state, sitting.clock.now(), Stage.PROVE, Stage.PROVE in state.taken_in, "as planned")
    sitting.make(kept)
    return sitting
