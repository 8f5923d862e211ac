"""The large numerals: sizes, distinctness, and what is refused."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.pictures.numerals import SIZES, best_rows, numeral, numeral_width
from session.pictures.picture_rows import PictureError, plain

TEXTS = st.text("0123456789/- ", min_size=1, max_size=8)


@given(TEXTS, st.sampled_from(SIZES), st.booleans())
def test_a_numeral_has_its_rows_all_of_one_width(text: str, rows: int, ascii_only: bool) -> None:
    lines = plain(numeral(text, rows, ascii=ascii_only))
    assert len(lines) == rows
    assert {len(line) for line in lines} == {numeral_width(text, rows)}
    assert set("".join(lines)) <= ({"#", " "} if ascii_only else {"█", " "})


@pytest.mark.parametrize("rows", SIZES)
def test_digits_are_of_one_width_and_use_their_full_height(rows: int) -> None:
    for digit in "0123456789":
        lines = plain(numeral(digit, rows))
        assert numeral_width(digit, rows) == numeral_width("0", rows)
        assert lines[0].strip()
        assert lines[-1].strip()
        assert all(line.strip() for line in lines)


@pytest.mark.parametrize("rows", SIZES)
def test_no_two_digits_can_be_taken_for_each_other(rows: int) -> None:
    cells = {digit: "".join(plain(numeral(digit, rows))) for digit in "0123456789"}
    for a, b in combinations(cells, 2):
        differing = sum(x != y for x, y in zip(cells[a], cells[b], strict=True))
        # One stroke of the thinnest kind is two cells; the closest pairs differ by one whole stroke.
        assert differing >= 2, (a, b)


@pytest.mark.parametrize("rows", SIZES)
def test_upright_strokes_are_as_thick_to_the_eye_as_level_ones(rows: int) -> None:
    line = plain(numeral("0", rows))[rows // 2]
    strokes = line.split()
    assert len(strokes) == 2
    assert all(2 <= len(stroke) <= 3 for stroke in strokes)


@given(TEXTS, st.integers(0, 120), st.integers(0, 12))
def test_best_rows_is_the_largest_that_fits(text: str, width: int, height: int) -> None:
    fitting = [rows for rows in (5, 7, 9) if rows <= height and numeral_width(text, rows) <= width]
    assert best_rows(width, height, text) == max(fitting, default=0)


def test_three_digits_of_seven_rows_fit_the_panel_of_an_80_column_screen() -> None:
    assert best_rows(26, 8, "155") == 7
    assert best_rows(28, 8, "3000") == 5


@pytest.mark.parametrize("text", ["a", "4.7", "½", "\n"])
def test_other_characters_are_refused(text: str) -> None:
    with pytest.raises(PictureError, match="allowed are digits"):
        numeral(text, 7)


@pytest.mark.parametrize("rows", [0, 6, 11])
def test_other_heights_are_refused(rows: int) -> None:
    with pytest.raises(PictureError, match="allowed are 5, 7 and 9"):
        numeral("1", rows)
