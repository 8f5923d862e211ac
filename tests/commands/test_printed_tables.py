"""Printed tables: no line wider than the room, no letter lost, and each cell under its head."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.commands.output import printed_tables
from session.commands.output.cell_count import cell_count
from session.commands.output.printed_tables import print_heading, print_table, table_lines

TEXT = st.text("abcdé°–- 鋸", max_size=30).map(lambda text: " ".join(text.split()))


def test_every_letter_takes_the_cells_that_the_library_of_the_screen_counts() -> None:
    from rich.cells import cell_len

    letters = [chr(code) for code in range(0x20, 0x3100)]
    assert [letter for letter in letters if cell_count(letter) != cell_len(letter)] == []
    assert [letter for letter in letters if cell_count(f"a–{letter}é") != cell_len(f"a–{letter}é")] == []


def shown(heads: list[str], rows: list[list[str]], width: int) -> list[str]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", str(width))
        return list(table_lines(heads, rows, [False] * len(heads), [False] * len(heads)))


def cells_of(line: str) -> int:
    """Cells of a line in the letters of `TEXT`: the sign for a saw alone takes two."""
    return len(line) + line.count("鋸")


@given(st.data(), st.integers(1, 6), st.integers(40, 120))
def test_no_line_is_wider_than_the_room_and_no_letter_is_lost(data: st.DataObject, columns: int, width: int) -> None:
    rows = data.draw(st.lists(st.lists(TEXT, min_size=columns, max_size=columns), min_size=1, max_size=6))
    lines = shown([""] * columns, rows, width)
    assert all(cells_of(line) <= width and line == line.rstrip() for line in lines)
    told = sorted("".join(lines).replace(" ", ""))
    assert told == sorted("".join(cell for row in rows for cell in row).replace(" ", ""))


@given(st.lists(TEXT, min_size=1, max_size=8), st.integers(40, 120))
def test_one_column_reads_on_from_row_to_row(cells: list[str], width: int) -> None:
    lines = shown(["words"], [[cell] for cell in cells], width)
    assert " ".join(lines[2:]).split() == " ".join(cells).split()


def test_cells_stand_under_their_heads_and_figures_end_below_one_another(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    print_table("Work", ["do", "strokes", "why"], [["file", "8", "dull"], ["set", "120", "lost"]], right=["strokes"])
    assert capsys.readouterr().out.splitlines() == [
        "Work",
        "  do    strokes  why",
        "  ───────────────────",
        "  file        8  dull",
        "  set       120  lost",
        "",
    ]


def test_the_widest_gives_way_first_and_words_stay_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    rows = [["file", "the points are round and the flats are wide all along the line", "KING art. 63"]]
    assert list(table_lines(["", "", ""], rows, [False] * 3, [False] * 3)) == [
        "  file  the points are      KING art. 63",
        "        round and the",
        "        flats are wide all",
        "        along the line",
    ]


def test_a_date_keeps_to_one_row_where_other_words_are_parted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    rows = [["2026-03-07", *["straightened"] * 4]]
    lines = list(table_lines([""] * 5, rows, [False] * 5, [True, *[False] * 4]))
    assert lines == [
        "  2026-03-07  strai  strai  strai  strai",
        "              ghten  ghten  ghten  ghten",
        "              ed     ed     ed     ed",
    ]


def test_where_the_rule_cannot_be_shown_it_is_hyphens(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(printed_tables, "can_show", str.isascii)
    assert list(table_lines(["do"], [["set"]], [False], [False])) == ["  do", "  ---", "  set"]


@pytest.mark.parametrize(
    ("terminal", "term", "told"),
    [
        (True, "xterm-256color", "\x1b[1mLine\x1b[0m\n"),
        (True, "dumb", "Line\n"),
        (True, None, "Line\n"),
        (False, "xterm-256color", "Line\n"),
    ],
    ids=["terminal", "dumb", "unknown", "pipe"],
)
def test_a_heading_is_bold_only_where_a_terminal_shows_it(
    terminal: bool, term: str | None, told: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("TERM", raising=False)
    if term is not None:
        monkeypatch.setenv("TERM", term)
    monkeypatch.setattr("sys.stdout.isatty", lambda: terminal)
    print_heading("Line")
    assert capsys.readouterr().out == told
