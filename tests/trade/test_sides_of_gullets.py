from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.saw import End, FilePoints, Leans
from session.trade.sides import gullets_of_side, side_of_gullet, side_on_which_leans_away, teeth_leaning_away
from session.trade.trade_error import TradeError

POINTS = st.integers(2, 400)
LEANS = st.sampled_from(Leans)
ENDS = st.sampled_from(End)
TIPS = st.sampled_from(FilePoints)


@given(POINTS, LEANS, ENDS, st.sampled_from((1, 2)), TIPS)
def test_every_gullet_is_filed_once(points: int, leans: Leans, start: End, sides: int, tips: FilePoints) -> None:
    both = [k for side in (1, 2) for k in gullets_of_side(side, points, leans, start, sides, tips)]
    assert sorted(both) == list(range(1, points + 1))


@given(POINTS, LEANS, ENDS)
def test_every_tooth_is_set_once_and_neighbors_from_opposite_sides(points: int, leans: Leans, start: End) -> None:
    one, two = (teeth_leaning_away(side, points, leans, start) for side in (1, 2))
    assert sorted(one + two) == list(range(1, points + 1))
    assert all(abs(a - b) == 2 for side in (one, two) for a, b in pairwise(side))


@given(POINTS, LEANS, st.sampled_from((1, 2)))
def test_a_file_to_the_toe_takes_the_teeth_that_lean_away(points: int, leans: Leans, side: int) -> None:
    assert gullets_of_side(side, points, leans) == teeth_leaning_away(side, points, leans)


@given(POINTS, LEANS, st.sampled_from((1, 2)))
def test_a_file_to_the_handle_takes_the_others(points: int, leans: Leans, side: int) -> None:
    to_handle = gullets_of_side(side, points, leans, file_points=FilePoints.HANDLE)
    assert to_handle == teeth_leaning_away(3 - side, points, leans)


@given(POINTS, LEANS, st.sampled_from((1, 2)), st.sampled_from((1, 2)))
def test_starting_at_the_toe_turns_the_order_round(points: int, leans: Leans, side: int, sides: int) -> None:
    from_heel = gullets_of_side(side, points, leans, End.HEEL, sides)
    assert gullets_of_side(side, points, leans, End.TOE, sides) == from_heel[::-1]


def test_tooth_one_decides() -> None:
    assert side_on_which_leans_away(1, Leans.AWAY) == 1
    assert side_on_which_leans_away(1, Leans.TOWARD) == 2
    assert side_on_which_leans_away(1, Leans.UNSET) == 1
    assert [side_of_gullet(k, Leans.TOWARD) for k in (1, 2, 3)] == [2, 1, 2]
    assert [side_of_gullet(k, Leans.TOWARD, sides=1) for k in (1, 2, 3)] == [1, 1, 1]


@pytest.mark.parametrize(
    ("side", "points", "sides", "words"),
    [
        (0, 8, 2, "side 0"),
        (3, 8, 2, "side 3"),
        (1, 1, 2, "points 1"),
        (1, 8, 3, "sides 3"),
        (1, 8, True, "sides True"),
        (1, 8.0, 2, "points 8.0"),
    ],
)
def test_what_does_not_exist_is_refused(side: int, points: int, sides: int, words: str) -> None:
    with pytest.raises(TradeError, match=rf"{words}; allowed: "):
        gullets_of_side(side, points, Leans.AWAY, End.HEEL, sides)


def test_a_tooth_before_the_first_is_refused() -> None:
    with pytest.raises(TradeError, match="tooth 0; allowed: a whole number from 1"):
        side_of_gullet(0, Leans.AWAY)
