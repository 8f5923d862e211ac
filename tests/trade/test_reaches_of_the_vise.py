from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from session.trade.reaches import reach_of, reaches, reaches_along
from session.trade.trade_error import TradeError

POINTS = st.integers(2, 3000)


@given(POINTS, st.floats(0.8, 12), st.floats(12, 700))
def test_reaches_cover_the_line_evenly_and_fit_the_jaw(points: int, pitch: float, jaw: float) -> None:
    found = reaches(points, pitch, jaw)
    assert [k for first, last in found for k in range(first, last + 1)] == list(range(1, points + 1))
    sizes = [last - first + 1 for first, last in found]
    assert max(sizes) - min(sizes) <= 1
    assert max(sizes) <= jaw / pitch + 1e-6
    # As few as can be: shared out among one fewer, the longest would not fit the jaw.
    assert len(found) == 1 or -(-points // (len(found) - 1)) * pitch > jaw - 1e-6


@given(POINTS, st.floats(0.8, 12), st.floats(12, 700))
def test_each_tooth_is_in_the_reach_that_holds_it(points: int, pitch: float, jaw: float) -> None:
    found = reaches(points, pitch, jaw)
    for number, (first, last) in enumerate(found, start=1):
        assert reach_of(first, found) == reach_of(last, found) == number


@given(st.integers(1, 200), st.floats(0.8, 12))
def test_a_jaw_of_whole_pitches_loses_no_tooth_to_rounding(held: int, pitch: float) -> None:
    assert reaches(2 * held, pitch, held * pitch) == ((1, held), (held + 1, 2 * held))


SPACES = st.lists(st.floats(0.8, 12), min_size=2, max_size=120)


@given(SPACES, st.floats(12, 700))
def test_reaches_of_a_progressive_line_fit_the_jaw_and_are_as_few_as_can_be(spaces: list[float], jaw: float) -> None:
    found = reaches_along(spaces, jaw)
    assert [k for first, last in found for k in range(first, last + 1)] == list(range(1, len(spaces) + 1))
    lengths = [sum(spaces[first - 1 : last]) for first, last in found]
    assert max(lengths) <= jaw + 1e-6
    # Packed as full as each jaw allows, the line needs no fewer.
    packed, room = 1, jaw + 1e-9
    for space in spaces:
        if space > room:
            packed, room = packed + 1, jaw + 1e-9
        room -= space
    assert len(found) == packed


@examples(8)  # of which a long line in a short jaw takes a second
@given(POINTS, st.floats(0.8, 12), st.floats(12, 700))
def test_teeth_that_are_alike_are_shared_out_alike_by_length_too(points: int, pitch: float, jaw: float) -> None:
    by_length, by_teeth = reaches_along([pitch] * points, jaw), reaches(points, pitch, jaw)
    assert len(by_length) == len(by_teeth)
    sizes = [last - first + 1 for first, last in by_length]
    assert max(sizes) - min(sizes) <= 1


def test_a_line_that_begins_fine_and_ends_coarse_has_more_teeth_in_its_first_reach() -> None:
    # 60 teeth of 2 mm and 20 of 6 mm: two reaches of 120 mm, in a jaw of 130.
    assert reaches_along([2.0] * 60 + [6.0] * 20, 130.0) == ((1, 60), (61, 80))
    with pytest.raises(TradeError, match="at least one pitch, 6 mm"):
        reaches_along([2.0, 6.0], 5.0)


def test_a_hand_saw_in_a_fourteen_inch_vise() -> None:
    assert reaches(183, 25.4 / 7, 14 * 25.4) == ((1, 92), (93, 183))


def test_a_jaw_that_holds_the_whole_saw_is_one_reach() -> None:
    assert reaches(50, 3.0, 1e300) == ((1, 50),)


@pytest.mark.parametrize("jaw", [0.0, 2.9, -1.0, float("nan"), float("inf")])
def test_a_jaw_that_holds_no_tooth_is_refused(jaw: float) -> None:
    with pytest.raises(TradeError, match="at least one pitch, 3 mm"):
        reaches(50, 3.0, jaw)


def test_impossible_lines_and_teeth_are_refused() -> None:
    with pytest.raises(TradeError, match="1 points"):
        reaches(1, 3.0, 300)
    with pytest.raises(TradeError, match="pitch"):
        reaches(50, 0.0, 300)
    with pytest.raises(TradeError, match="tooth 51 is in no reach; allowed: 1 to 50"):
        reach_of(51, reaches(50, 3.0, 60))
    with pytest.raises(TradeError, match="tooth 0"):
        reach_of(0, reaches(50, 3.0, 60))
    with pytest.raises(TradeError):
        reach_of(1, ())


def test_a_jaw_of_exactly_three_pitches_holds_three_teeth() -> None:
    assert 0.3 / 0.1 < 3  # in binary fractions
    assert reaches(9, 0.1, 0.3) == ((1, 3), (4, 6), (7, 9))


def test_a_jaw_short_of_three_pitches_holds_two_teeth_and_one_over_them_no_fourth() -> None:
    assert reaches(9, 4.0, 11.99) == ((1, 2), (3, 4), (5, 6), (7, 8), (9, 9))
    assert reaches(9, 4.0, 15.99) == ((1, 3), (4, 6), (7, 9))


def test_a_jaw_as_long_as_all_teeth_is_one_reach_and_a_shorter_one_is_not() -> None:
    assert reaches(9, 4.0, 36.0) == ((1, 9),)
    assert reaches(9, 4.0, 35.9) == ((1, 5), (6, 9))
