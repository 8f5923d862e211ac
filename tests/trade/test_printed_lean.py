"""Where to lean by widths alone: the printed rule and nothing more."""

from __future__ import annotations

import pytest

from drawn_teeth import square_filed
from session.sentences.flat_shares import share_word, shares_of_gullet
from session.trade.evening import plan_evening
from session.trade.graded_line import GradedLine
from session.trade.printed_lean import plan_by_widths
from session.trade.trade_error import TradeError
from session.trade.uneven_line import line_from_flats


def test_a_gullet_leans_on_the_larger_flat_only_where_two_differ_by_a_grade() -> None:
    # KING 64, DREW, FIT: press toward the larger tooth; else straight.
    plan = plan_by_widths(GradedLine([0.05, 0.05, 0.2, 0.05, 0.0, 0.05], 4.0, 2.5, 0.9, grades=[1, 1, 4, 1, 0, 1]))
    assert [str(lean) for lean in plan.lean] == ["straight", "toe", "heel", "heel", "toe", "straight"]
    assert plan.low == (5,)


def test_half_of_each_flat_goes_with_either_gullet() -> None:
    tooth = square_filed(4.0, 20.0, 0.9)
    plan = plan_by_widths(GradedLine([0.1, 0.2, 0.0, 0.3], 4.0, tooth.came_down(1.0), 0.9, grades=[1, 2, 0, 3]))
    assert plan.front_mm == plan.back_mm == (0.05, 0.1, 0.0, 0.15)
    assert plan.share_front == (0.5, 0.5, None, 0.5)
    # The gullet between flats of 0.1 and 0.2 is 3.85 wide and gets 0.15 wider.
    assert plan.volumes_mm3[0] == pytest.approx(tooth.between(3.85, 4.0))
    assert plan.drop_mm[0] == pytest.approx(tooth.deeper(3.85, 4.0))


def test_nothing_is_said_of_places_that_nobody_measured() -> None:
    plan = plan_by_widths(GradedLine([0.1, 0.2, 0.1], 4.0, 2.5, 0.9, grades=[1, 2, 1]))
    assert not plan.placed
    assert plan.points_mm == (None, None, None)
    assert plan.worst_before_mm is plan.worst_after_mm is plan.extra_leveling_mm is None


def test_a_broken_tooth_gives_nothing_and_is_leaned_off() -> None:
    plan = plan_by_widths(GradedLine([0.1, 0.3, 0.1], 4.0, 2.5, 0.9, grades=[1, 4, 1], broken=[2]))
    assert [str(lean) for lean in plan.lean][:2] == ["heel", "toe"]
    assert plan.front_mm[1] == 0.0
    assert (plan.low, plan.broken) == ((), (2,))


@pytest.mark.parametrize(
    ("widths", "grades"), [([0.1], [1]), ([0.1, 0.2], [1]), ([0.1, 4.0], [1, 5]), ([0.1, -1.0], [1, 1])]
)
def test_lines_that_cannot_be_are_refused(widths: list[float], grades: list[float]) -> None:
    with pytest.raises(TradeError, match="allowed"):
        plan_by_widths(GradedLine(widths, 4.0, 2.5, 0.9, grades=grades))


def test_the_words_name_the_share_that_the_plan_takes() -> None:
    # Flats measured at their places: the second lies toward the toe by nearly all of its width.
    plan = plan_evening(line_from_flats([[0.0, 0.1], [4.04, 4.54], [8.0, 8.1]], 4.0), 2.5, 0.9)
    share = plan.share_front[1]
    assert share is not None
    assert share > 0.88
    assert "half" not in shares_of_gullet(plan, 2)
    assert shares_of_gullet(plan, 2).startswith(f"{share_word(share)} of flat 2")


@pytest.mark.parametrize(
    ("share", "word"),
    [
        (0.0, "none"),
        (0.05, "a hair"),
        (0.25, "a quarter"),
        (0.5, "half"),
        (0.62, "two thirds"),
        (0.8, "three quarters"),
        (0.95, "all but a hair"),
        (1.0, "all"),
    ],
)
def test_a_share_in_words(share: float, word: str) -> None:
    assert share_word(share) == word


def test_beside_a_flat_that_nobody_graded_the_file_is_held_straight() -> None:
    plan = plan_by_widths(GradedLine([0.1, 0.2, 0.4, 0.1], 4.0, 2.5, 0.9, grades=[2, None, 4, 2]))
    assert [str(lean) for lean in plan.lean] == ["straight", "straight", "heel", "straight"]
