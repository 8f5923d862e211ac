from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.pictures.picture_rows import PictureError, plain
from session.pictures.strip_places import strip_places, strip_places_rows


def flat_and_mark(row: str) -> tuple[float, int]:
    """Where the middle of the flat and the mark are, in cells; the mark may stand on the flat."""
    drawn = row[:29]
    mark = drawn.index("|", 1)
    cells = [at for at, sign in enumerate(drawn) if sign == "="]
    # Nine cells wide, so that with eight the mark covers one of them, be it the outermost.
    if len(cells) == 8:
        cells.append(mark)
    return (min(cells) + max(cells)) / 2, mark


def test_each_key_moves_the_flat_a_quarter_of_its_width_the_toe_on_the_left() -> None:
    rows = plain(strip_places(66, 9, ascii=True))
    assert [row[0] for row in rows] == list("123456789")
    off = [middle - mark for middle, mark in map(flat_and_mark, rows)]
    # A flat is eight steps wide, so that a quarter is two of them.
    assert off == [-8, -6, -4, -2, 0, 2, 4, 6, 8]
    assert len({mark for _, mark in map(flat_and_mark, rows)}) == 1


@given(st.integers(1, 120), st.integers(1, 40), st.booleans())
def test_it_is_as_large_as_it_said_and_never_more(width: int, height: int, ascii: bool) -> None:
    rows = strip_places_rows(height)
    assert 0 <= rows <= height
    if rows:
        drawn = plain(strip_places(width, rows, ascii=ascii))
        assert [len(row) for row in drawn] == [width] * rows
        assert all(row.isascii() for row in drawn) or not ascii


def test_in_a_narrow_room_figures_stand_for_the_words() -> None:
    rows = plain(strip_places(38, 9))
    assert [row[30:].strip() for row in rows] == ["all", "3/4", "1/2", "1/4", "on", "1/4", "1/2", "3/4", "all"]
    assert all(not row[30:].strip() for row in plain(strip_places(31, 9)))


def test_less_than_five_rows_show_nothing() -> None:
    assert [strip_places_rows(height) for height in (4, 5, 6, 8, 9, 10, 30)] == [0, 5, 6, 6, 9, 10, 10]
    with pytest.raises(PictureError, match="5 and more"):
        strip_places(60, 4)
