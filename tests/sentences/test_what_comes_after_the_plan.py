"""At the plan it is said what comes next as going on has it: the advice, until somebody decided by hand."""

from __future__ import annotations

from datetime import UTC, datetime

from moments_met import CROSSCUT, states
from session.sentences.moment import Moment
from session.walk import acts
from session.walk.stages import PLAN_STEP, Stage

AT = datetime(2025, 4, 5, 10, 0, tzinfo=UTC)


def test_it_is_the_first_stage_of_the_advice_or_of_ones_own_plan() -> None:
    state = next(one for one in states(CROSSCUT) if one.place is not None and one.place.step == PLAN_STEP)
    at = Moment(state, CROSSCUT)
    against = {one.stage for one in at.against}
    assert Stage.LEVEL in state.taken_in, "the plan as it stands begins with leveling"
    assert Stage.LEVEL in against
    assert Stage.FILE not in against
    assert at.said.next == "file"
    own = state.after(acts.decide(state, AT, Stage.PROVE, True, "mine"))
    assert Moment(own, CROSSCUT).said.next == "level"
