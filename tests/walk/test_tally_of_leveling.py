"""Grades that tell of the flats as they are: spent by reshaping, spoiled by a later pass."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from made_saws import small_saw
from session.trade.grades import SHARES
from session.trade.lengths import Length
from session.walk import acts
from session.walk.graded_flats import usable_flats
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.tally import Tally, counted_by_hand
from session.walk.work_plan import Plan, make_plan

HandOf = Callable[..., Any]


def graded(hand: Any, round_: int, grades: tuple[int | None, ...]) -> None:
    """The flats of one round graded tooth by tooth; None leaves the tooth out."""
    hand.to_place(Place(Stage.LEVEL, step="flats", round=round_))
    hand.make(acts.add, Stage.LEVEL, passes=0)
    for tooth, grade in enumerate(grades, 1):
        hand.to_place(Place(Stage.LEVEL, tooth=tooth, round=round_))
        hand.make(acts.leave_out, "broken tooth") if grade is None else hand.make(acts.grade, grade)


@pytest.fixture
def reshaped(hand_of: HandOf) -> Any:
    """A saw of three teeth, its flats graded, then one gullet reshaped."""
    hand = hand_of(3)
    hand.to_place(Place(Stage.LOOK_OVER, step="plan"))
    hand.make(acts.decide, Stage.RESHAPE, True, "dog teeth")
    graded(hand, 1, (4, 0, 2))
    hand.to_place(Place(Stage.RESHAPE, 1, 1))
    return hand


def test_reshaping_spends_the_grades_for_filing_and_not_for_itself(reshaped: Any) -> None:
    before = {1: SHARES[4], 2: SHARES[0], 3: SHARES[2]}
    assert usable_flats(reshaped.state, Stage.FILE) == before
    reshaped.make(acts.done)
    assert usable_flats(reshaped.state, Stage.FILE) == {}
    assert usable_flats(reshaped.state, Stage.RESHAPE) == before
    reshaped.make(acts.take_back)
    assert usable_flats(reshaped.state, Stage.FILE) == before


def test_flats_graded_anew_are_of_use_again(reshaped: Any) -> None:
    graded(reshaped, 2, (None, 1, 2))
    assert usable_flats(reshaped.state, Stage.FILE) == {2: SHARES[1], 3: SHARES[2]}


def test_flats_of_which_none_was_graded_anew_are_not_those_before_reshaping(reshaped: Any) -> None:
    graded(reshaped, 2, (None, None, None))
    assert usable_flats(reshaped.state, Stage.FILE) == {}


def test_a_pass_after_the_grading_widens_the_flats(hand_of: HandOf) -> None:
    hand = hand_of(3)
    graded(hand, 1, (2, 1, 2))
    assert (hand.state.tally.widened, hand.state.tally.rounds[1].spoiled) == (False, False)
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=1)
    hand.to_place(Place(Stage.LEVEL, number=2))
    hand.make(acts.done)
    assert (hand.state.tally.widened, hand.state.tally.rounds[1].spoiled) == (True, True)


def test_without_grades_nothing_is_widened_and_nothing_spent_but_what_is_not_there(hand_of: HandOf) -> None:
    hand = hand_of(3)
    hand.to_place(Place(Stage.SET, 1, 3))
    assert hand.state.tally.rounds[1].passes == hand.state.plan.level_passes
    assert (hand.state.tally.widened, hand.state.flats) == (False, {})


def test_a_tally_step_by_step_is_that_of_all_places(hand_of: HandOf) -> None:
    hand = hand_of(6)
    graded(hand, 1, (2, 1, None, 0, 2, 2))
    hand.until(lambda state: state.finished)
    assert hand.state.tally == Tally.of(hand.state.outcomes)
    assert hand.state.tally.stages[Stage.LEVEL].left_out == 1
    assert hand.state.tally.stages[Stage.SET].done == 5, "a measurement is no tooth, and no stump is bent"


@pytest.mark.parametrize(
    ("strokes", "by_hand"),
    [((), False), ((1, 1, 1), False), ((0, 0), False), ((1, 2, 1), True), ((3,), True), ((1, 0), True)],
)
def test_one_stroke_everywhere_was_counted_by_nobody(strokes: tuple[int, ...], by_hand: bool) -> None:
    assert counted_by_hand(strokes) is by_hand


@pytest.mark.parametrize(("jaw_mm", "held"), [(9.0, 3), (8.99, 2), (3.0, 1), (2.0, 1), (11.999, 3)])
def test_a_vise_holds_whole_teeth_and_loses_none_to_rounding(
    plan_of: Callable[..., Plan], jaw_mm: float, held: int
) -> None:
    plan = plan_of(6, vise_jaw=Length.of(jaw_mm))
    assert plan.held == held
    assert max(last - first + 1 for first, last in plan.reaches) <= held


def test_a_jaw_of_so_many_pitches_holds_so_many() -> None:
    for pitch in (1.1, 2.3, 25.4 / 7):
        for held in range(1, 40):
            saw = small_saw(80, pitch, vise_jaw=Length.of(held * pitch))
            assert make_plan(saw).held == held
