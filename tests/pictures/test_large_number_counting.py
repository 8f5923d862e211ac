"""A count under the place in hand: the place keeps the larger numerals, as the bench's 80 columns leave the room."""

from __future__ import annotations

import pytest

from session.pictures.large_number import large_number
from session.pictures.numerals import numeral
from session.pictures.picture_rows import plain


@pytest.mark.parametrize("place", ["15", "409"])
@pytest.mark.parametrize(("left", "what"), [("15", "s left"), ("2", "s, then it marks"), ("119", "s left")])
def test_the_place_is_larger_than_the_seconds_that_are_left(place: str, left: str, what: str) -> None:
    rows = plain(large_number(place, ("gullet of 64 points",), 27, 13, most_rows=9, counting=(left, what)))
    assert [len(row) for row in rows] == [27] * 13
    assert all(big.strip() in row for big, row in zip(plain(numeral(place, 7)), rows, strict=False))
    assert all(small.strip() in row for small, row in zip(plain(numeral(left, 5)), rows[8:], strict=True))
    assert rows[7].strip() == "gullet of 64 points"
    assert rows[12].rstrip().endswith(what)
