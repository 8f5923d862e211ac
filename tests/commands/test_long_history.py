"""A long history: its newest rows before the rest is read, and each record read no more often than needed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from made_history import DAY0, SAW, SLUG, a_cut, filed, proved, write_log
from session.cli import main
from session.commands.output import history_words
from session.log.log_reader import LogEnds, read_ends
from session.till import till_folder
from session.till.kept_cuts import write_cut

#: Rows that are printed at once in these tests, of ten records.
MOST = 3


@pytest.fixture
def till(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(history_words, "MOST_ROWS", MOST)
    for day in range(10):
        write_log(tmp_path, DAY0 + timedelta(days=day), [*filed(4), *proved(150.0)])
    return tmp_path


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> Callable[[Callable[[Path], None]], None]:
    """Has each log whose ends are read told first."""

    def watch(seen: Callable[[Path], None]) -> None:
        def watched(path: Path) -> LogEnds:
            seen(path)
            return read_ends(path)

        monkeypatch.setattr(till_folder, "read_ends", watched)

    return watch


def days(out: str) -> list[str]:
    return [line.split()[0] for line in out.splitlines() if line.strip().startswith("2026-")]


def test_the_newest_rows_stand_before_an_older_record_is_read(
    till: Path, read: Callable[..., None], capsys: pytest.CaptureFixture[str]
) -> None:
    read_so_far: list[str] = []
    printed_by_then: list[str] = []

    def seen(path: Path) -> None:
        read_so_far.append(path.name[:10])
        if len(read_so_far) == MOST + 1:
            printed_by_then.append(capsys.readouterr().out)

    read(seen)
    assert main(["--till", str(till), "history", SLUG]) == 0
    assert read_so_far[:MOST] == ["2026-03-14", "2026-03-15", "2026-03-16"]
    [rows] = printed_by_then
    assert days(rows) == ["2026-03-14", "2026-03-15", "2026-03-16"]
    assert rows.startswith(f"{SLUG}: the newest 3 records; --all lists every one\n")
    rest = capsys.readouterr().out
    assert days(rest) == []
    assert "  In all 10 sharpenings finished, 0 cuts between.\n" in rest
    assert "Gullets filed: 40;" in rest


def test_all_of_them_stand_below_one_another_when_asked_for(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--till", str(till), "history", SLUG, "--all"]) == 0
    out = capsys.readouterr().out
    assert days(out) == [f"2026-03-{day:02}" for day in range(7, 17)]
    assert "10 sharpenings finished, 0 cuts between\n" in out


def test_what_follows_the_rows_is_the_same_either_way(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sums = []
    for form in ([], ["--all"]):
        assert main(["--till", str(till), "history", *form]) == 0
        lines = capsys.readouterr().out.splitlines()
        sums.append(lines[lines.index("") + 1 :])
    short, whole = sums
    assert short == ["  In all 10 sharpenings finished, 0 cuts between.", *whole]


def test_a_cut_of_before_the_rows_is_not_among_them(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for day in (1, 8):
        write_cut(till_folder.Till(till), SAW, a_cut(DAY0 + timedelta(days=day, hours=3)))
    assert main(["--till", str(till), "history", SLUG]) == 0
    assert days(capsys.readouterr().out) == ["2026-03-15", "2026-03-15", "2026-03-16"]


@pytest.mark.parametrize("form", [["--all"], ["--json"], ["--csv"]], ids=lambda form: form[0])
def test_the_files_of_the_drawer_are_told_without_a_second_reading(
    form: list[str], till: Path, read: Callable[..., None], capsys: pytest.CaptureFixture[str]
) -> None:
    (till / "files.toml").write_text('[[file]]\nname = "6 in slim"\nface = "8 mm"\n', encoding="utf-8")
    times = Counter[str]()
    read(lambda path: times.update([path.name]))
    assert main(["--till", str(till), "history", *form]) == 0
    assert set(times.values()) == {1}
    assert len(times) == 10
    assert ("6 in slim" in capsys.readouterr().out) == (form != ["--csv"])
