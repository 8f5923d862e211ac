"""Flats told against a printed strip: after each grade one more key, taken back alone, laid aside at any tooth."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from session.trade.evening import EveningPlan
from session.trade.grades import SHARES
from session.trade.saw import End, Saw
from session.trade.strip_readings import QUARTER
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.graded_flats import leaning, usable_flats, usable_readings
from session.walk.mark import Did, Mark
from session.walk.place import Place, Standing
from session.walk.rules import why_not
from session.walk.stages import STRIP_STEP, Kind, Stage
from session.walk.state import State

HandOf = Callable[..., Any]
SawOf = Callable[..., Saw]


def graded_at(tooth: int, number: int = 0) -> Place:
    return Place(Stage.LEVEL, tooth=tooth, number=number)


def told_at(tooth: int, number: int = 0) -> Place:
    return Place(Stage.LEVEL, tooth=tooth, number=number, step=STRIP_STEP)


def with_strip(hand: Any) -> Any:
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=0, strip=True)
    return hand


def tell(hand: Any, tooth: int, grade: int, quarters: int | None) -> None:
    """Grade one tooth, and tell its place where it has a flat; None tells nothing."""
    hand.to_place(graded_at(tooth))
    hand.make(acts.grade, grade)
    if grade and hand.state.place == told_at(tooth):
        hand.make(acts.done) if quarters is None else hand.make(acts.place_flat, quarters)


def plan_of(state: State, saw: Saw) -> EveningPlan:
    plan = leaning(state, saw, usable_flats(state, Stage.FILE), usable_readings(state, Stage.FILE))
    assert plan is not None
    return plan


def test_each_tooth_with_a_flat_is_asked_for_its_width_and_then_its_place(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(4))
    order = []
    for grade, quarters in ((2, -1), (0, None), (3, 4), (1, 0)):
        tooth = hand.state.place.tooth
        tell(hand, tooth, grade, quarters)
        order.append(tooth)
    assert order == [1, 2, 3, 4]
    assert usable_readings(hand.state, Stage.FILE) == {1: -1, 3: 4, 4: 0}
    assert usable_flats(hand.state, Stage.FILE) == {1: SHARES[2], 2: 0.0, 3: SHARES[3], 4: SHARES[1]}
    # A tooth without a flat lies nowhere, and that is nothing to be read out at the end.
    assert told_at(2) not in hand.state.outcomes
    assert hand.state.standing(told_at(2)) is Standing.LEFT_OUT
    assert hand.state.left_by_itself() == ()


def test_the_teeth_come_from_the_toe_where_the_passes_do(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(3, start=End.TOE))
    hand.to_place(graded_at(3))
    hand.make(acts.grade, 2)
    assert hand.state.place == told_at(3)
    hand.make(acts.place_flat, 1)
    assert hand.state.place == graded_at(2)


def test_a_place_is_taken_back_by_itself_and_then_the_grade(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(4))
    tell(hand, 1, 2, 3)
    hand.make(acts.take_back)
    assert (hand.state.place, dict(hand.state.tally.readings_of(1))) == (told_at(1), {})
    hand.make(acts.place_flat, -2)
    assert dict(hand.state.tally.readings_of(1)) == {1: -2}
    hand.make(acts.take_back)
    hand.make(acts.take_back)
    assert hand.state.place == graded_at(1)


def test_what_was_passed_over_was_not_told(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(4))
    tell(hand, 1, 2, None)
    assert hand.state.place == graded_at(2)
    assert dict(hand.state.tally.readings_of(1)) == {}


def test_a_tooth_left_out_as_it_was_to_be_graded_has_no_place(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(4))
    hand.to_place(graded_at(1))
    hand.make(acts.leave_out, "too bright to see")
    assert hand.state.place == graded_at(2)
    hand.make(acts.leave_out, "broken tooth")
    assert hand.state.place == graded_at(3)


def test_the_strip_laid_aside_leaves_grades_alone(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(5))
    tell(hand, 1, 2, 1)
    hand.make(acts.grade, 2)
    hand.make(acts.lay_strip_aside)
    assert hand.state.place == graded_at(3)
    hand.make(acts.grade, 2)
    assert hand.state.place == graded_at(4)
    # It is taken up again by taking that back, at the very tooth.
    hand.make(acts.take_back)
    hand.make(acts.take_back)
    assert hand.state.place == told_at(2)
    assert dict(hand.state.tally.readings_of(1)) == {1: 1}


def test_laid_aside_at_the_first_tooth_it_is_as_grading_ever_was(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(4))
    hand.to_place(graded_at(1))
    hand.make(acts.grade, 2)
    hand.make(acts.lay_strip_aside)
    assert not any(place.on_strip for place in hand.state.route.places)


def test_only_a_strip_in_use_is_laid_aside(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(4))
    hand.to_place(graded_at(1))
    assert "no flat is told" in (why_not(hand.state, acts.lay_strip_aside(hand.state, hand.at)) or "")


@pytest.mark.parametrize("quarters", [5, -5, 9])
def test_no_place_is_further_than_a_width(hand_of: HandOf, quarters: int) -> None:
    hand = with_strip(hand_of(4))
    hand.to_place(graded_at(1))
    hand.make(acts.grade, 2)
    assert "4 quarters" in (why_not(hand.state, acts.place_flat(hand.state, hand.at, quarters)) or "")


def test_a_tooth_counts_once_however_much_is_told_of_it(hand_of: HandOf) -> None:
    plain, told = hand_of(4), with_strip(hand_of(4))
    plain.to_place(Place(Stage.LEVEL, step="flats"))
    plain.make(acts.add, Stage.LEVEL, passes=0)
    for tooth in range(1, 5):
        plain.to_place(graded_at(tooth))
        plain.make(acts.grade, 2)
        tell(told, tooth, 2, 0)
    assert told.state.tally.stages[Stage.LEVEL].done == plain.state.tally.stages[Stage.LEVEL].done
    assert (told_at(2).kind, str(told_at(2))) == (Kind.TOOTH, "tooth 2 on the strip")


def test_check_points_come_after_as_many_teeth_as_ever(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(40))
    seen = []
    while hand.state.place != Place(Stage.LEVEL, step="flats") or hand.state.front.ask is not Ask.WORK:
        if hand.state.front.ask is Ask.CHECK:
            seen.append(hand.state.front.place)
        hand.answer()
    assert seen == [told_at(20), told_at(40)]


def test_another_pass_makes_grade_and_place_void_and_both_are_told_anew(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(3))
    for tooth in (1, 2, 3):
        tell(hand, tooth, 2, 2)
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=1)
    hand.to_place(Place(Stage.LEVEL, number=2))
    hand.make(acts.done)
    assert usable_readings(hand.state, Stage.FILE) == {}
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=0, strip=True)
    hand.to_place(graded_at(1, number=2))
    hand.make(acts.grade, 3)
    assert hand.state.place == told_at(1, number=2)
    hand.make(acts.place_flat, -4)
    assert usable_readings(hand.state, Stage.FILE) == {1: -4}


def test_a_line_told_has_the_exact_plan_and_one_graded_the_printed_rule(hand_of: HandOf, saw_of: SawOf) -> None:
    hand, saw = with_strip(hand_of(5)), saw_of(5)
    told = ((3, 0), (3, 0), (3, 4), (3, 0), (3, 0))
    for tooth, (grade, quarters) in enumerate(told, 1):
        tell(hand, tooth, grade, quarters)
    plan = plan_of(hand.state, saw)
    assert plan.placed
    assert plan.share_front[2] == pytest.approx(1.0)
    graded = leaning(hand.state, saw, usable_flats(hand.state, Stage.FILE))
    assert graded is not None
    assert (graded.placed, graded.share_front) == (False, (0.5,) * 5)


GRADED = st.tuples(st.integers(0, 5), st.none() | st.integers(-4, 4))


@examples(40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(GRADED, min_size=6, max_size=6), st.none() | st.integers(1, 6))
def test_a_log_read_again_tells_the_same(
    hand_of: HandOf, told: list[tuple[int, int | None]], aside: int | None
) -> None:
    hand = with_strip(hand_of(6))
    for tooth, (grade, quarters) in enumerate(told, 1):
        hand.to_place(graded_at(tooth))
        hand.make(acts.grade, grade)
        if hand.state.place == told_at(tooth):
            if tooth == aside:
                hand.make(acts.lay_strip_aside)
            else:
                hand.make(acts.done) if quarters is None else hand.make(acts.place_flat, quarters)
    read = [Mark.from_dict(mark.to_dict()) for mark in hand.state.marks]
    again = State.replay(hand.plan, read)
    assert (again.place, again.tally) == (hand.state.place, hand.state.tally)
    before = aside if aside is not None and told[aside - 1][0] else 7
    assert dict(again.tally.readings_of(1)) == {
        tooth: quarters
        for tooth, (grade, quarters) in enumerate(told, 1)
        if grade and quarters is not None and tooth < before
    }


def test_a_reading_of_another_unit_is_kept_and_not_believed(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(4))
    tell(hand, 1, 2, 1)
    marks = [*hand.state.marks]
    odd = Mark.from_dict({**marks[-1].to_dict(), "unit": "thou"})
    far = Mark.from_dict({**marks[-1].to_dict(), "value": 40})
    for other in (odd, far):
        again = State.replay(hand.plan, [*marks[:-1], other])
        assert (again.place, dict(again.tally.readings_of(1))) == (graded_at(2), {})
    assert marks[-1].unit == QUARTER
    assert marks[-1].did is Did.DONE


def test_a_flat_that_nobody_graded_makes_no_lean(hand_of: HandOf, saw_of: SawOf) -> None:
    hand = hand_of(4)
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=0)
    for tooth in (1, 2, 3, 4):
        hand.to_place(graded_at(tooth))
        hand.make(acts.leave_out, "too bright to see") if tooth == 2 else hand.make(acts.grade, 4 if tooth == 1 else 3)
    plan = leaning(hand.state, saw_of(4), usable_flats(hand.state, Stage.FILE))
    assert plan is not None
    assert [str(lean) for lean in plan.lean] == ["straight"] * 4


def test_a_grade_taken_back_and_given_anew_keeps_the_place_of_its_own_grading(hand_of: HandOf) -> None:
    hand = with_strip(hand_of(3))
    for tooth in (1, 2, 3):
        tell(hand, tooth, 2, 1)
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=1)
    hand.to_place(Place(Stage.LEVEL, number=2))
    hand.make(acts.done)
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=0, strip=True)
    hand.to_place(graded_at(1, number=2))
    graded = hand.make(acts.grade, 3)
    hand.make(acts.place_flat, -3)
    hand.make(acts.take_back, of=graded.seq)
    assert hand.state.place == graded_at(1, number=2)
    hand.make(acts.grade, 4)
    assert hand.state.place == graded_at(2, number=2)
    assert usable_readings(hand.state, Stage.FILE) == {1: -3}
