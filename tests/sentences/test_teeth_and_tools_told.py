"""Before numbers of teeth are asked it is said how many there are; the plan says what to lay out for it."""

from __future__ import annotations

from moments_met import AT, CROSSCUT, moments
from session.advice.tools_needed import laid_out
from session.sentences.moment import Moment
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.measurables import IN_THE_LINE, Measurable
from session.walk.stages import PLAN_STEP, Stage


def _at_step(step: str) -> Moment:
    found = moments(CROSSCUT)
    return next(at for at in found if at.front.ask is Ask.WORK and at.place is not None and at.place.step == step)


def test_where_numbers_are_asked_the_count_stands_beside_and_whose_it_is() -> None:
    for step in ("high teeth", "low teeth"):
        assert _at_step(step).said.lines[0] == "Teeth 1 to 24 from the heel, by the recipe, not counted yet."
    assert _at_step("broken teeth").said.lines[0] == "Expected: numbers from 1 at the heel to 24."
    at = _at_step("high teeth")
    counted = acts.measure(at.state, AT, Measurable.POINTS, 26, unit=IN_THE_LINE, entered="26")
    told = Moment(at.state.after(counted), CROSSCUT, at.level)
    assert told.said.lines[0] == "Teeth 1 to 26 from the heel, as you counted."


def test_the_plan_lays_out_the_tools_of_what_going_on_takes() -> None:
    at = _at_step(PLAN_STEP)
    told = next(line for line in at.said.lines if line.startswith("Lay out: "))
    assert "flat mill file and block" not in told, "a touch up is advised, and levels nothing"
    decided = Moment(at.state.after(acts.decide(at.state, AT, Stage.DRESS, False, "")), CROSSCUT, at.level)
    told = next(line for line in decided.said.lines if line.startswith("Lay out: "))
    wanted = [one.title for one in laid_out(decided.saw, decided.state.taken_in, ())]
    assert told == f"Lay out: {', '.join(wanted)}."
    assert "flat mill file and block" in wanted
    assert "stone" not in wanted
