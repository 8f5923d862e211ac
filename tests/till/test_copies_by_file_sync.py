"""Two tills merged by a file sync: each second version is named, none counts twice, the right one is gone on with."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from called_here import call_here
from session.cli import main
from session.commands.resume import COPIES
from session.files.cut_file import RecordedCut
from session.files.supplied import find_recipe
from session.log.log_bytes import make_header
from session.log.log_reader import read_log
from session.log.mark_block import encode
from session.log.sitting import Sitting
from session.machine.clock import SystemClock
from session.till.copy_names import first_folder, first_name
from session.till.drawer import drawer_of
from session.till.kept_cuts import write_cut
from session.till.known_saws import KnownSaw, known_saws
from session.till.saw_history import SawHistory, history
from session.till.till_folder import Till
from session.till.till_list import entries
from session.trade.lengths import parse_length
from session.walk import acts
from session.walk.mark import Did, Mark
from small_recipe import small_recipe

LOG = "2026-03-07T09-00-00-a1b2c3"
SAW = KnownSaw("crosscut-panel-saw", "Crosscut panel saw")

#: What file syncs and file managers make of a name.
SECOND = (
    "{} (conflict)",
    "{} (1)",
    "{}.sync-conflict-20260307-101500-N2XKQ7A",
    "{} (bench laptop's conflicted copy 2026-03-07)",
    "{}_conflict-20260307-101500",
    "{} - Copy",
    "{} - Copy (2)",
    "{} copy",
    "Copy of {}",
    "{}-conflict",
)


class Shelf:
    """A till with a recipe, and a folder of logs whose bytes are said."""

    def __init__(self, path: Path, header: dict[str, Any], filing: Callable[..., Mark]) -> None:
        self.till = Till(path)
        self.header, self.filing = header, filing
        self.folder = path / "logs" / SAW.slug
        self.folder.mkdir(parents=True)
        shutil.copy(find_recipe("crosscut-panel", []), path / "panel.toml")

    def put(
        self, stem: str, marks: int, *, apart: int = 0, finished: bool = False, torn: bytes = b"", folder: str = ""
    ) -> Path:
        """A log of so many marks, the last ``apart`` of them made elsewhere, then perhaps its end."""
        made = [self.filing(n, strokes=7 if n > marks - apart else 2) for n in range(1, marks + 1)]
        if finished:
            at = self.filing(marks + 1).at
            made.append(Mark(seq=marks + 1, at=at, did=Did.FINISHED, extra={"summary": {"marks": marks + 1}}))
        path = (self.folder.with_name(folder) if folder else self.folder) / f"{stem}.toml"
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(make_header(self.header) + b"".join(encode(mark)[0] for mark in made) + torn)
        return path

    def history(self) -> SawHistory:
        return history([self.till], SAW)


@pytest.fixture
def shelf(tmp_path: Path, log_header: dict[str, Any], filing: Callable[..., Mark]) -> Shelf:
    return Shelf(tmp_path / "till", log_header, filing)


def listed(till: Till) -> dict[Path, str]:
    return dict(till.copies())


@pytest.mark.parametrize("name", SECOND)
@pytest.mark.parametrize("stem", [LOG, f"{LOG}-2", "crosscut-panel-saw", "settings"])
def test_the_first_name_is_found_in_a_second_versions(name: str, stem: str) -> None:
    assert first_name(name.format(stem)) == stem


@pytest.mark.parametrize("stem", [LOG, f"{LOG}-2", "sash 14 in", "saw-2", "boat-shed-rip", "backsaw (old)", "12"])
def test_other_names_are_their_own(stem: str) -> None:
    assert first_name(stem) == stem


@pytest.mark.parametrize(
    "part", ["conflict-", " copy", " (1)", "(conflict", "_.- ", "(copy conflict", "Copy of ", "-2"]
)
def test_a_name_made_to_be_slow_is_looked_at_all_the_same(part: str) -> None:
    for end in ("", "!", ")", "(", " conflict", LOG):
        stem = (part * 255)[:250] + end
        assert first_name(stem) in stem


def test_a_folder_that_a_saw_may_have_is_its_own() -> None:
    folders = ["panel-saw", "panel-saw-copy", "panel-saw (1)", "sash (1)"]
    assert [first_folder(name, folders) for name in folders] == ["panel-saw", "panel-saw-copy", "panel-saw", "sash (1)"]


@pytest.mark.parametrize("name", SECOND)
def test_a_copy_that_stayed_behind_is_named_and_the_longer_one_gone_on_with(shelf: Shelf, name: str) -> None:
    log, copy = shelf.put(LOG, 12), shelf.put(name.format(LOG), 9)
    words = f"an earlier copy of {LOG}.toml, which holds all its 9 marks; that one counts, this one may be taken away"
    assert listed(shelf.till) == {copy: words}
    assert shelf.till.interrupted() == [log]
    told = shelf.history()
    assert [one.path for one in told.sharpenings] == [log]
    assert told.copies == ((copy, words),)
    assert any(entry.wrong == f"{copy}: {words}" and entry.log is None for entry in entries(shelf.till))


@pytest.mark.parametrize("name", SECOND)
def test_the_copy_is_gone_on_with_where_it_goes_further(shelf: Shelf, name: str) -> None:
    log, copy = shelf.put(LOG, 9), shelf.put(name.format(LOG), 12)
    assert shelf.till.interrupted() == [copy]
    assert listed(shelf.till)[log].startswith(f"an earlier copy of {copy.name}, which holds all its 9 marks")
    assert [one.path for one in shelf.history().sharpenings] == [copy]


def test_two_that_part_after_a_common_beginning_count_once_and_none_is_lost(shelf: Shelf) -> None:
    log, copy = shelf.put(LOG, 12), shelf.put(f"{LOG} (conflict)", 11, apart=3)
    before = {path: path.read_bytes() for path in (log, copy)}
    assert shelf.till.interrupted() == [log]
    assert listed(shelf.till) == {
        copy: f"a copy of {LOG}.toml that parts from it after mark 8, with 3 marks of its own; that one goes further "
        "and counts; this one can be looked at: toothline show"
    }
    told = shelf.history()
    assert [(one.path, sum(one.summary.strokes.values())) for one in told.sharpenings] == [(log, 24)]
    assert [path for path, _ in told.copies] == [copy]
    assert {path: path.read_bytes() for path in (log, copy)} == before
    assert len(read_log(copy).marks) == 11


def test_an_unfinished_copy_of_a_finished_sharpening_does_not_wait(shelf: Shelf) -> None:
    log, copy = shelf.put(f"{LOG} (1)", 5, finished=True), shelf.put(LOG, 12, apart=9)
    assert shelf.till.interrupted() == []
    words = listed(shelf.till)[copy]
    assert "parts from it after mark 3, with 9 marks of its own; that one is finished and counts" in words
    assert [one.path for one in shelf.history().finished] == [log]


def test_of_two_that_go_equally_far_the_plainer_name_counts(shelf: Shelf) -> None:
    log, copy = shelf.put(LOG, 12), shelf.put(f"{LOG} (conflict)", 12, apart=1)
    assert shelf.till.interrupted() == [log]
    assert "with 1 mark of its own; that one has the plainer name and counts" in listed(shelf.till)[copy]


def test_what_the_bench_says_of_a_copy_is_read_whole_on_a_narrow_screen() -> None:
    assert len(COPIES) <= 78


def test_a_torn_or_changed_copy_never_counts_before_a_whole_one(shelf: Shelf) -> None:
    log = shelf.put(LOG, 5)
    torn = shelf.put(f"{LOG} (1)", 3, torn=b"\n[[mark]]\nseq = 4\n")
    odd = shelf.put(f"{LOG} (2)", 9, torn=b"# a note\n")
    assert shelf.till.interrupted() == [log]
    assert listed(shelf.till)[torn].startswith(f"an earlier copy of {LOG}.toml, which holds all its 3 marks")
    assert listed(shelf.till)[odd].startswith(f"a copy of {LOG}.toml that may only be read: something else than a mark")
    assert [one.path for one in shelf.history().sharpenings] == [log]


def test_logs_of_one_moment_by_two_benches_are_two_sharpenings(shelf: Shelf) -> None:
    logs = [shelf.put(LOG, 5), shelf.put(f"{LOG}-2", 5), shelf.put(LOG.replace("a1b2c3", "f0f0f0"), 5)]
    assert listed(shelf.till) == {}
    assert set(shelf.till.interrupted()) == set(logs)
    assert len(shelf.history().sharpenings) == 3


def test_a_whole_folder_in_two_versions_is_one_saws(shelf: Shelf) -> None:
    log = shelf.put(LOG, 12, finished=True)
    shelf.put(LOG, 12, finished=True, folder=f"{SAW.slug} (1)")
    other = shelf.put(LOG.replace("a1b2c3", "f0f0f0"), 7, folder=f"{SAW.slug} (1)")
    assert [saw.slug for saw in known_saws([shelf.till])] == [SAW.slug]
    assert shelf.till.interrupted() == [other]
    assert {one.path for one in shelf.history().sharpenings} == {log, other}
    assert len(shelf.history().finished) == 1


def test_the_same_till_looked_at_twice_says_nothing(shelf: Shelf, tmp_path: Path) -> None:
    shelf.put(LOG, 12)
    shutil.copytree(shelf.till.path, tmp_path / "other")
    told = history([shelf.till, Till(tmp_path / "other")], SAW)
    assert (len(told.sharpenings), told.copies, told.unread) == (1, (), ())


def test_a_fork_in_another_till_is_told(shelf: Shelf, tmp_path: Path, log_header: Any, filing: Any) -> None:
    log = shelf.put(LOG, 12)
    other = Shelf(tmp_path / "other", log_header, filing)
    copy = other.put(LOG, 9, apart=2)
    told = history([other.till, shelf.till], SAW)
    assert [one.path for one in told.sharpenings] == [log]
    [(path, words)] = told.copies
    assert path == copy
    assert words.startswith(f"a copy of {log} that parts from it after mark 7, with 2 marks of its own")


@pytest.mark.parametrize("name", SECOND)
@pytest.mark.parametrize("changed", [False, True])
def test_a_second_version_of_a_recipe_is_named_and_the_first_used(shelf: Shelf, name: str, changed: bool) -> None:
    first = shelf.till.path / "panel.toml"
    second = first.with_name(name.format("panel") + ".toml")
    second.write_text(first.read_text(encoding="utf-8") + ("# a note\n" if changed else ""), encoding="utf-8")
    assert shelf.till.saws() == [first]
    assert [saw.recipe for saw in known_saws([shelf.till])] == [first]
    assert find_recipe("Crosscut panel saw", shelf.till.saws()) == first
    said = (
        "a second version of panel.toml; that one counts: take"
        if changed
        else "a copy of panel.toml, letter for letter"
    )
    assert listed(shelf.till)[second].startswith(said)


def test_a_recipe_that_names_another_saw_is_that_saws(shelf: Shelf) -> None:
    first = shelf.till.path / "panel.toml"
    second = first.with_name("panel (1).toml")
    text = first.read_text(encoding="utf-8")
    second.write_text(text.replace("Crosscut panel saw", "Boat-shed panel saw"), encoding="utf-8")
    assert second.read_text(encoding="utf-8") != text
    assert shelf.till.saws() == [second, first]
    assert listed(shelf.till) == {}


def test_second_versions_of_settings_and_of_the_files_owned_are_no_saws(shelf: Shelf) -> None:
    (shelf.till.path / "settings.toml").write_text("sound = true\n", encoding="utf-8")
    for name in ("settings (conflict).toml", "files.sync-conflict-20260307-101500-N2X.toml"):
        (shelf.till.path / name).write_text("x = 1\n", encoding="utf-8")
    assert [path.name for path in shelf.till.saws()] == ["panel.toml"]
    assert {path.name: words.partition(",")[0] for path, words in shelf.till.copies()} == {
        "settings (conflict).toml": "a second version of settings.toml",
        "files.sync-conflict-20260307-101500-N2X.toml": "a second version of files.toml",
    }


def test_a_cut_in_two_files_is_one(shelf: Shelf) -> None:
    length, board = parse_length("300 mm"), parse_length("20 mm")
    cut = RecordedCut(at=shelf.filing(1).at, saw=SAW.name, length=length, thickness=board, strokes=40)
    first = write_cut(shelf.till, SAW, cut)
    again = shutil.copy(first, first.with_name(f"{first.stem} (1).toml"))
    changed = first.with_name(f"{first.stem} (conflict).toml")
    changed.write_text(first.read_text(encoding="utf-8").replace("strokes = 40", "strokes = 41"), encoding="utf-8")
    told = shelf.history()
    assert told.cuts == ((first, cut),)
    assert dict(told.copies) == {
        again: f"the same cut as {first.name}, and counted once",
        changed: f"a second version of {first.name}; that one counts",
    }


def test_a_files_corner_is_worn_once_by_a_log_and_its_copies(shelf: Shelf) -> None:
    (shelf.till.path / "files.toml").write_text(
        'format = 1\n[[file]]\nname = "6 in slim"\nface = "0.27 in"\n', encoding="utf-8"
    )
    log = shelf.put(LOG, 4, finished=True)
    alone = drawer_of(shelf.till)
    for name in SECOND:
        shutil.copy(log, log.with_name(name.format(LOG) + ".toml"))
    assert drawer_of(shelf.till) == alone
    assert len(shelf.history().finished) == 1


def test_history_tells_each_copy(
    shelf: Shelf, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "400")
    shelf.put(LOG, 12)
    copy = shelf.put(f"{LOG} (conflict)", 12, apart=1)
    assert main(["--till", str(shelf.till.path), "history", SAW.slug]) == 0
    out = capsys.readouterr().out
    assert f"Not counted: {copy}: a copy of {LOG}.toml that parts from it after mark 11, with 1 mark of its own" in out


def test_resuming_tells_each_copy_and_goes_on_with_the_one_that_counts(tmp_path: Path) -> None:
    (tmp_path / "sash.toml").write_text(small_recipe(12), encoding="utf-8")

    def toothline(*words: str) -> tuple[str, str]:
        done = call_here(tmp_path, "--till", "till", *words, environment={"HOME": str(tmp_path)})
        assert done.returncode == 0
        return done.stdout.decode(), done.stderr.decode()

    toothline("start", "sash.toml", "--plain")
    [log] = (tmp_path / "till").glob("logs/*/*.toml")
    assert "copy" not in "".join(toothline("resume", "--plain"))
    copy = log.with_name(f"{log.stem} (conflict).toml")
    shutil.copy(log, copy)
    for path, many in ((log, 1), (copy, 2)):
        sitting = Sitting.resume(path, SystemClock())
        try:
            for _ in range(many):
                sitting.make(acts.acknowledge(sitting.state, sitting.clock.now()))
        finally:
            sitting.close()
    behind, before = log.read_bytes(), len(read_log(copy).marks)
    out, said = toothline("resume", "--plain")
    assert f"{log}: a copy of {copy.name} that parts from it after mark" in said
    assert "that one goes further and counts" in said
    assert "A copy of this log has other marks: see toothline history. Look at the saw." in out
    assert len(read_log(copy).marks) == before + 1, "the resuming"
    assert log.read_bytes() == behind
