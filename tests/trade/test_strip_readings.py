from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.evening import EveningPlan, Lean
from session.trade.graded_line import GradedLine
from session.trade.grades import SHARES
from session.trade.printed_lean import plan_by_widths
from session.trade.strip_plan import plan_by_strip
from session.trade.strip_readings import MOST_QUARTERS, QUARTER, quarters_of, reading_words

PITCH, DEPTH, PLATE = 3.6286, 2.6, 0.9

Flats = list[tuple[int, int | None]]

#: Grades and readings of a line; None for a tooth that was not told.
grades = st.integers(0, len(SHARES) - 1)
quarters = st.integers(-MOST_QUARTERS, MOST_QUARTERS)
lines = st.lists(st.tuples(grades, quarters | st.none()), min_size=2, max_size=40)
told_lines = st.lists(st.tuples(st.integers(1, len(SHARES) - 1), quarters), min_size=2, max_size=40)


def plan_of(flats: Flats, broken: tuple[int, ...] = (), spaces: tuple[float, ...] = ()) -> EveningPlan:
    each = spaces or (PITCH,) * len(flats)
    widths = [SHARES[grade] * space for (grade, _), space in zip(flats, each, strict=True)]
    told = {tooth: reading for tooth, (_, reading) in enumerate(flats, 1) if reading is not None}
    shares = [SHARES[grade] for grade, _ in flats]
    return plan_by_strip(GradedLine(widths, PITCH, DEPTH, PLATE, grades=shares, broken=broken, spaces_mm=spaces), told)


@given(st.integers(1, len(SHARES) - 1), quarters, st.integers(2, 60))
def test_equal_flats_that_lie_alike_are_filed_to_their_middle(grade: int, reading: int, count: int) -> None:
    plan = plan_of([(grade, reading)] * count)
    assert plan.share_front == pytest.approx([0.5] * count)
    assert plan.worst_after_mm == pytest.approx(0.0, abs=1e-9)
    # The last gullet is the front of the last tooth alone, and the first of them lean on nothing.
    assert set(plan.lean[:-1]) <= {Lean.STRAIGHT}


@given(st.lists(st.integers(1, len(SHARES) - 1), min_size=2, max_size=40))
def test_flats_of_any_width_on_their_marks_are_filed_to_their_middle(widths: list[int]) -> None:
    plan = plan_of([(grade, 0) for grade in widths])
    assert plan.share_front == pytest.approx([0.5] * len(widths))


@given(told_lines)
def test_a_line_turned_end_for_end_is_filed_the_other_way_around(flats: Flats) -> None:
    there = plan_of(flats)
    back = plan_of([(grade, -(reading or 0)) for grade, reading in reversed(flats)])
    assert back.front_mm == pytest.approx(there.back_mm[::-1], abs=1e-9)
    assert back.back_mm == pytest.approx(there.front_mm[::-1], abs=1e-9)
    assert back.worst_after_mm == pytest.approx(there.worst_after_mm, abs=1e-9)


@given(told_lines, st.data())
def test_a_flat_further_to_the_toe_gives_no_less_from_its_front(flats: Flats, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(flats) - 1))
    grade, reading = flats[at]
    assert reading is not None
    further = data.draw(st.integers(reading, MOST_QUARTERS))
    before, after = plan_of(flats), plan_of([*flats[:at], (grade, further), *flats[at + 1 :]])
    assert after.front_mm[at] >= before.front_mm[at] - 1e-9
    # The others go after it, or stay.
    assert all(
        b <= a + 1e-9
        for a, b in zip(before.front_mm, [*after.front_mm[:at], 0.0, *after.front_mm[at + 1 :]], strict=True)
    )


@given(lines, st.sets(st.integers(1, 40), max_size=3))
def test_every_flat_is_taken_whole_and_none_gets_worse_than_its_middle(flats: Flats, broken: set[int]) -> None:
    stumps = tuple(tooth for tooth in sorted(broken) if tooth <= len(flats))
    plan = plan_of(flats, stumps)
    for tooth, (grade, _) in enumerate(flats, 1):
        gives = 0.0 if tooth in stumps else SHARES[grade] * PITCH
        assert plan.front_mm[tooth - 1] + plan.back_mm[tooth - 1] == pytest.approx(gives, abs=1e-9)
        assert min(plan.front_mm[tooth - 1], plan.back_mm[tooth - 1]) >= 0.0
    if plan.worst_before_mm is not None and plan.worst_after_mm is not None:
        assert plan.worst_after_mm <= plan.worst_before_mm + 1e-9
    assert (plan.low, plan.broken) == (plan_of([(grade, None) for grade, _ in flats], stumps).low, stumps)


@given(lines)
def test_what_was_not_told_is_filed_by_the_printed_rule(flats: Flats) -> None:
    plan, printed = plan_of(flats), plan_of([(grade, None) for grade, _ in flats])
    for tooth, (grade, reading) in enumerate(flats, 1):
        if reading is None and grade:
            assert plan.share_front[tooth - 1] == pytest.approx(0.5)
            for gullet in {max(1, tooth - 1), tooth} if plan.placed else range(1, len(flats) + 1):
                assert plan.lean[gullet - 1] is printed.lean[gullet - 1]


@given(st.lists(grades, min_size=2, max_size=40), st.integers(1, 40), quarters)
def test_one_flat_told_or_none_is_as_nothing_told(widths: list[int], tooth: int, reading: int) -> None:
    shares = [SHARES[grade] for grade in widths]
    sizes = [share * PITCH for share in shares]
    alone = plan_by_widths(GradedLine(sizes, PITCH, DEPTH, PLATE, grades=shares))
    assert plan_by_strip(GradedLine(sizes, PITCH, DEPTH, PLATE, grades=shares), {}) == alone
    assert plan_by_strip(GradedLine(sizes, PITCH, DEPTH, PLATE, grades=shares), {tooth: reading}) == alone


def test_flats_out_of_place_draw_toward_their_marks() -> None:
    # By hand: three flats a clear grade wide, the middle one half a width toward the toe. A level string fits, at the
    # mean of the three middles, a sixth of a width toward the toe: the middle one gives 1/2 + 1/2 - 1/6 from its front,
    # and its neighbor ahead 1/2 + 1/6 from its back, so that the file leans to the middle one.
    plan = plan_of([(3, 0), (3, 2), (3, 0)])
    assert plan.share_front == pytest.approx([1 / 3, 5 / 6, 1 / 3])
    assert plan.lean[1] is Lean.HEEL


def test_a_flat_a_whole_width_out_gives_all_of_one_end() -> None:
    plan = plan_of([(3, 0), (3, 0), (3, 4), (3, 0), (3, 0)])
    assert plan.share_front[2] == pytest.approx(1.0)
    assert plan.back_mm[2] == 0.0


def test_spaces_of_a_progressive_line_are_those_of_its_strip() -> None:
    spaces = (6.0, 6.0, 5.0, 5.0, 4.0, 4.0)
    plan = plan_of([(3, 0)] * 6, spaces=spaces)
    assert plan.worst_after_mm == pytest.approx(0.0, abs=1e-9)
    assert plan.share_front == pytest.approx([0.5] * 6)


@pytest.mark.parametrize("value", [5, -5, True, 1.0, "1", None])
def test_what_is_no_reading_is_none(value: object) -> None:
    assert quarters_of(value, QUARTER) is None


def test_readings_have_words() -> None:
    assert [quarters_of(value, QUARTER) for value in (-4, 0, 4)] == [-4, 0, 4]
    assert quarters_of(1, "grade") is None
    assert reading_words(0) == "on its mark"
    assert reading_words(-1) == "a quarter toward the heel"
    assert reading_words(3) == "three quarters toward the toe"
    assert reading_words(4) == "a whole width or more toward the toe"
