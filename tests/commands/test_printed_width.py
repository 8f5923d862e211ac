"""Lines of words are as wide as the terminal, 80 columns where nothing tells; what is data is not wrapped."""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.cli import main
from session.commands.output.printed_width import columns, wrapped
from session.files.supplied import supplied_folder

#: What each command is asked, with the till before it.
ASKED = {
    "plan": ("plan", "crosscut-panel"),
    "why": ("plan", "crosscut-panel", "--why"),
    "tools": ("plan", "crosscut-panel", "--tools"),
    "zones": ("plan", "progressive-rip"),
    "history": ("history",),
    "sources": ("recipes", "--sources"),
}


@pytest.mark.parametrize("asked", ASKED.values(), ids=ASKED)
@pytest.mark.parametrize(("told", "width"), [("", 80), ("64", 64)], ids=["unknown", "64"])
def test_no_line_is_wider_than_the_terminal_or_than_80(
    told: str,
    width: int,
    asked: tuple[str, ...],
    tmp_path: Path,
    write_walk: Callable[..., Path],
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("COLUMNS", told)
    till = _till(write_walk)
    assert main(["--till", str(till), *asked]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines
    assert max(map(len, lines)) <= width


def _till(write_walk: Callable[..., Path]) -> Path:
    return write_walk().parents[2]


def test_a_record_is_told_and_drawn_within_the_width_and_no_word_is_lost(
    write_walk: Callable[..., Path], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    log = write_walk()
    words = {}
    for width in (60, 80, 400):
        monkeypatch.setenv("COLUMNS", str(width))
        monkeypatch.chdir(log.parent)
        assert main(["show", log.name]) == 0
        lines = capsys.readouterr().out.splitlines()
        assert max(map(len, lines)) <= width
        # The line itself is drawn anew in each room, its title before it.
        drawn = next(number for number, line in enumerate(lines) if line.endswith("heel"))
        words[width] = " ".join(lines[: drawn - 1]).split()
    assert words[60] == words[80] == words[400]


def test_what_is_data_is_the_same_in_any_width(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    found = set()
    for width in ("40", "400"):
        monkeypatch.setenv("COLUMNS", width)
        assert main(["plan", "crosscut-panel", "--json"]) == 0
        found.add(capsys.readouterr().out)
    assert len(found) == 1


def test_a_path_that_is_wider_than_the_room_stays_whole(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    file = tmp_path / f"{'panel-' * 12}saw.toml"
    file.write_bytes((supplied_folder("recipes") / "rip.toml").read_bytes())
    assert main(["check", str(file)]) == 0
    first, *others = capsys.readouterr().out.splitlines()
    assert first == f"{file}:"
    assert all(line.startswith("  ") and len(line) <= 40 for line in others)


@pytest.mark.parametrize("told", ["", "0", "wide", "-3"])
def test_without_a_terminal_there_are_80_columns(told: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", told)
    assert columns() == 80


@given(
    words=st.lists(st.text("abcdé-/.", min_size=1, max_size=30), min_size=1, max_size=40),
    width=st.integers(40, 120),
    indent=st.integers(0, 6),
)
def test_rows_hold_all_words_in_their_order_and_no_more_than_the_width(
    words: list[str], width: int, indent: int
) -> None:
    rows = wrapped(" " * indent + " ".join(words), width)
    assert " ".join(rows).split() == words
    assert all(len(row) <= width for row in rows)
    assert all(row.startswith(" " * (indent + 2)) for row in rows[1:])


@given(
    line=st.text(st.sampled_from("abcé-—/.\u00a0   "), max_size=200),
    width=st.integers(40, 60),
    hang=st.integers(0, 12),
)
def test_rows_are_those_of_the_standard_library(line: str, width: int, hang: int) -> None:
    begins = line[: len(line) - len(line.lstrip())]
    rows = textwrap.wrap(
        line.strip(),
        width,
        initial_indent=begins,
        subsequent_indent=begins + " " * hang,
        break_long_words=False,
        break_on_hyphens=False,
    )
    assert wrapped(line, width, hang=hang) == ([line] if len(line) <= width else rows or [line])
