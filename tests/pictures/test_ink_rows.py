"""Rows put side by side, padded and centered."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from session.pictures.picture_rows import (
    Role,
    Rows,
    Run,
    beside,
    centered,
    first_that_fits,
    padded,
    plain,
    row_of,
    width,
    words,
)
from session.pictures.sheet import Sheet

RUNS = st.builds(Run, st.text("ab█ ", max_size=6), st.sampled_from(Role))
PICTURES = st.lists(st.lists(RUNS, max_size=4).map(tuple), max_size=5).map(tuple)


@given(PICTURES, st.integers(0, 30), st.integers(0, 8))
def test_padded_is_exactly_the_room_and_keeps_what_fits(rows: Rows, room_width: int, room_height: int) -> None:
    out = plain(padded(rows, room_width, room_height))
    before = (plain(rows) + [""] * room_height)[:room_height]
    assert out == [line[:room_width].ljust(room_width) for line in before]


@given(PICTURES, st.integers(0, 30), st.integers(0, 8))
def test_centered_is_exactly_the_room(rows: Rows, room_width: int, room_height: int) -> None:
    out = plain(centered(rows, room_width, room_height))
    assert len(out) == room_height
    assert all(len(line) == room_width for line in out)


@given(st.text("ab█", max_size=12), st.integers(0, 30))
def test_centered_words_stand_in_the_middle(text: str, room: int) -> None:
    line = plain((words(text, room),))[0]
    assert line.strip() == text[:room]
    left, right = len(line) - len(line.lstrip()), len(line) - len(line.rstrip())
    assert not text[:room] or 0 <= right - left <= 1


@given(PICTURES, PICTURES, st.integers(0, 5))
def test_beside_keeps_both_pictures(a: Rows, b: Rows, gap: int) -> None:
    out = plain(beside(a, b, gap))
    assert len(out) == max(len(a), len(b))
    assert {len(line) for line in out} <= {width(a) + gap + width(b)}
    for line, left in zip(out, plain(a), strict=False):
        assert line.startswith(left)
    for line, right in zip(out, plain(b), strict=False):
        assert line[width(a) + gap :].startswith(right)


def test_neighbors_of_one_role_become_one_run() -> None:
    row = row_of("abc", [Role.STEEL, Role.STEEL, Role.FILE])
    assert row == (Run("ab", Role.STEEL), Run("c", Role.FILE))


def test_the_longest_text_that_fits_is_taken() -> None:
    texts = ("quite long", "short", "s")
    assert [first_that_fits(room, texts) for room in (10, 9, 4, 0)] == ["quite long", "short", "s", ""]


@given(st.integers(-20, 20), st.integers(-3, 8), st.text("ab", max_size=20))
def test_what_is_put_beside_the_sheet_is_cut_off(x: int, y: int, text: str) -> None:
    sheet = Sheet(9, 4)
    sheet.put(x, y, text, Role.LABEL)
    expected = ["".join(text[c - x] if r == y and 0 <= c - x < len(text) else " " for c in range(9)) for r in range(4)]
    assert plain(sheet.rows()) == expected
