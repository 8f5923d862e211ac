"""The set is measured last, after dressing, as it will be used; a wrong one is mended right where it was measured."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from session.trade.lengths import Length
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.rules import why_not
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import FinalSet, Plan

HandOf = Callable[..., Any]
PlanOf = Callable[..., Plan]

FINAL = Place(Stage.DRESS, step="measure")
SET = Length.of(0.15)


def dressing(state: State) -> list[tuple[int, int, str, int]]:
    return [(p.side, p.number, p.step, p.round) for p in state.route.places if p.stage is Stage.DRESS]


def test_after_dressing_the_set_is_measured(hand_of: HandOf) -> None:
    hand = hand_of(8, set_per_side=SET)
    assert [(p[2], p[3]) for p in dressing(hand.state)] == [("", 1), ("", 1), ("measure", 1)]
    hand.to_place(FINAL)
    hand.make(acts.measure, Measurable.OVER_POINTS_END, 1.1, unit="mm", entered="1.1 mm")
    while not hand.state.finished:
        hand.answer()
    assert hand.state.measured[Measurable.OVER_POINTS_END].value == 1.1


def test_it_may_be_passed_over_and_is_no_pass_of_the_stone(hand_of: HandOf) -> None:
    hand = hand_of(8, set_per_side=SET)
    hand.until(lambda state: state.finished)
    assert hand.state.tally.stages[Stage.DRESS].done == 2, "one pass for each side"
    assert Measurable.OVER_POINTS_END not in hand.state.measured


@pytest.mark.parametrize("per_side", [None, 0.0])
def test_where_the_recipe_gives_no_set_only_a_measured_one_is_measured_again(
    hand_of: HandOf, per_side: float | None
) -> None:
    hand = hand_of(8, set_per_side=None if per_side is None else Length.of(per_side))
    assert hand.state.plan.final_set is FinalSet.WHEN_MEASURED
    assert FINAL not in hand.state.route.index
    hand.to_place(Place(Stage.LOOK_OVER, step="over the set"))
    hand.make(acts.measure, Measurable.OVER_POINTS, 1.1, unit="mm", entered="1.1 mm")
    assert FINAL in hand.state.route.index
    hand.make(acts.take_back)
    assert FINAL not in hand.state.route.index


def test_a_log_that_did_not_plan_it_is_not_asked(plan_of: PlanOf) -> None:
    before = plan_of(8, set_per_side=SET).to_dict()
    del before["final_set"]
    assert FINAL not in State.start(Plan.from_dict(before)).route.index


@pytest.mark.parametrize("stage", [Stage.SET, Stage.DRESS])
def test_a_wrong_set_is_mended_right_after_its_measuring(hand_of: HandOf, stage: Stage) -> None:
    hand = hand_of(8, set_per_side=SET)
    hand.to_place(Place(stage, step="measure"))
    hand.make(acts.add, stage, at_once=True, reason="so")
    hand.make(acts.done)
    place = hand.state.place
    assert (place.stage, place.round) == (stage, 2)
    hand.to_place(Place(stage, step="measure", round=2))
    hand.make(acts.add, stage, at_once=True, reason="so")
    hand.to_place(Place(stage, step="measure", round=3))
    # What is added later in the ordinary way comes before the close, as one more round.
    hand.to_place(Place(Stage.CLOSE, step="left out"))
    hand.make(acts.add, stage)
    assert {p.round for p in hand.state.route.places if p.stage is stage} == {1, 2, 3, 4}
    hand.until(lambda state: state.finished)
    assert State.replay(hand.plan, hand.state.marks) == hand.state


def test_nothing_is_added_at_once_but_where_the_set_is_measured(hand_of: HandOf) -> None:
    hand = hand_of(8, set_per_side=SET)
    hand.to_place(Place(Stage.SET, step="measure"))
    reason = why_not(hand.state, acts.add(hand.state, hand.at, Stage.DRESS, at_once=True))
    assert reason == "the set is not measured after dress now, so nothing is added at once"
    hand.to_ask(Ask.WORK, Stage.FILE)
    reason = why_not(hand.state, acts.add(hand.state, hand.at, Stage.SET, at_once=True))
    assert reason == "the set is not measured after set now, so nothing is added at once"
