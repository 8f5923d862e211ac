"""Which corner to use now, when to turn it, and when a file is done."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from named_works import works
from session.advice.corner_advice import corner_counsel, corner_to_use, limit_source
from session.trade.file_choice import FileOwned
from session.trade.file_life import TEETH_PER_CORNER, corner_in_use, teeth_left
from session.trade.lengths import parse_length
from session.trade.trade_error import TradeError


def file(*corners: int) -> FileOwned:
    a, b, c = corners
    return FileOwned("small taper", parse_length("0.27 in"), None, (a, b, c))


def test_the_most_worn_corner_that_files_the_whole_saw() -> None:
    told = corner_counsel(file(620, 155, 0), 155)
    assert (told.corner, told.left, told.turn_after) == (2, 445, None)
    assert told.text == (
        "Corner 2: 155 filed, 445 left to the limit of 600 (from memory). "
        "Turn to the next corner after 2 sharpenings like this one."
    )


def test_the_last_sharpening_of_a_corner_and_of_a_file() -> None:
    assert "Turn to the next corner after this sharpening." in corner_counsel(file(400, 0, 0), 155).text
    assert (
        "It is the last one: the file is done after this sharpening." in corner_counsel(file(600, 600, 400), 155).text
    )


def test_a_saw_that_no_corner_files_whole_is_shared_out() -> None:
    told = corner_counsel(file(550, 560, 600), 80)
    assert (told.corner, told.turn_after) == (2, 40)
    assert "No corner has 80 teeth left" in told.text
    assert "Corner 2 for 40 gullets, then corner 1 for 40." in told.text
    short = corner_counsel(file(600, 560, 600), 80)
    assert "Then the file is done, with 40 gullets to go: take another." in short.text


def test_a_file_that_is_done() -> None:
    told = corner_counsel(file(600, 700, 600), 155)
    assert told.corner is None
    assert told.text == "Done: all three corners have come to the limit of 600 (from memory)."
    assert corner_to_use(file(600, 700, 600)) == told.text


def test_the_limit_says_whose_it_is() -> None:
    assert limit_source(TEETH_PER_CORNER) == "SHEAR; from memory"
    assert limit_source(450) == "SHEAR; your settings"
    assert works("SHEAR")
    assert "the limit of 450 (your settings)" in corner_counsel(file(0, 0, 0), 155, 450).text
    assert corner_to_use(file(10, 0, 0), 450) == "Go on with corner 1: 440 left to the limit of 450 (your settings)."
    with pytest.raises(TradeError, match="limit"):
        corner_counsel(file(0, 0, 0), 155, 0)


COUNTS = st.tuples(*[st.integers(0, 900)] * 3)


@given(COUNTS, st.integers(0, 3000), st.integers(1, 900))
def test_what_is_advised_can_be_done(corners: tuple[int, int, int], teeth: int, limit: int) -> None:
    owned = file(*corners)
    told = corner_counsel(owned, teeth, limit)
    assert (told.corner is None) == all(filed >= limit for filed in corners)
    assert ("from memory" in told.text) == (limit == TEETH_PER_CORNER)
    if told.corner is None:
        return
    assert told.left == teeth_left(owned, told.corner, limit) > 0
    if told.turn_after is None:
        assert told.left >= teeth
    else:
        # No corner could file them all; the one to begin with is the one that a person is at already.
        assert max(teeth_left(owned, corner, limit) for corner in (1, 2, 3)) < teeth
        assert told.corner == corner_in_use(owned, limit)
        assert told.turn_after == told.left
