"""Disks that fill up, folders that may not be written in, and things that vanish while a log is open."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from session.files.recipe import load_recipe
from session.log.journal import Journal, JournalFault
from session.log.log_reader import read_log
from session.machine.refusal import Refusal
from session.till.till_folder import Till
from session.walk.mark import Mark

Marks = Callable[..., Mark]


def mounted(path: Path, options: str) -> None:
    path.mkdir()
    tried = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", options, "none", str(path)], capture_output=True, text=True, check=False
    )
    if tried.returncode:
        pytest.skip(f"no memory disk can be mounted here: {tried.stderr.strip()}")


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    if shutil.which("mount") is None:
        pytest.skip("there is no mount command here")
    path = tmp_path / "small"
    mounted(path, "size=32k")
    yield path
    subprocess.run(["umount", "-l", str(path)], check=True)


def append_until_full(journal: Journal, mark: Marks, shown: list[Mark]) -> None:
    for seq in range(len(shown) + 1, 2000):
        made = mark(seq, reason="x" * 400)
        journal.append(made)
        shown.append(made)


def test_a_disk_that_fills_up_and_is_cleared(
    small_disk: Path, header: dict[str, Any], begun: datetime, mark: Marks
) -> None:
    ballast = small_disk / "ballast"
    shown: list[Mark] = []
    with Journal.create(small_disk / "logs", header, started=begun) as journal:
        for seq in range(1, 4):
            shown.append(mark(seq, reason="x" * 400))
            journal.append(shown[-1])
        ballast.write_bytes(bytes(os.statvfs(small_disk).f_bavail * 4096 - 4096))
        with pytest.raises(JournalFault, match="the disk is full"):
            append_until_full(journal, mark, shown)
        assert len(shown) > 3
        assert read_log(journal.path).marks == tuple(shown)
        assert read_log(journal.path).torn_bytes == 0
        ballast.unlink()
        journal.reopen()
        journal.append(mark(len(shown) + 1))
    assert len(read_log(journal.path).marks) == len(shown) + 1


def test_a_full_disk_takes_no_new_log(small_disk: Path, header: dict[str, Any], begun: datetime) -> None:
    folder = small_disk / "logs"
    folder.mkdir()
    (small_disk / "ballast").write_bytes(bytes(os.statvfs(small_disk).f_bavail * 4096))
    with pytest.raises(JournalFault, match="the disk is full"):
        Journal.create(folder, header, started=begun)
    assert list(folder.iterdir()) == []


def test_a_disk_that_can_only_be_read(small_disk: Path, header: dict[str, Any], begun: datetime, mark: Marks) -> None:
    with Journal.create(small_disk / "logs", header, started=begun) as journal:
        journal.append(mark(1))
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    with pytest.raises(JournalFault, match="can only be read"):
        Journal.open(journal.path)
    with pytest.raises(JournalFault, match="can only be read"):
        Journal.create(small_disk / "others", header, started=begun)
    with pytest.raises(Refusal, match="can only be read"):
        Till(small_disk).make()
    assert read_log(journal.path).marks == (mark(1),)
    assert Till(small_disk).saws() == []


#: The user without rights, whom every Unix knows.
NOBODY = 65534


@pytest.fixture
def plain_folder(tmp_path: Path) -> Iterator[Path]:
    """A folder of a user whom permissions bind: root, whom they do not, works as nobody for the while."""
    if os.geteuid() != 0:
        yield tmp_path
        return
    # Root's own temporary folders are closed to others.
    folder = Path(tempfile.mkdtemp())
    os.chown(folder, NOBODY, -1)
    os.seteuid(NOBODY)
    try:
        yield folder
    finally:
        os.seteuid(0)
        shutil.rmtree(folder)


def test_a_recipe_that_may_not_be_read(plain_folder: Path) -> None:
    recipe = plain_folder / "saw.toml"
    recipe.write_text("format = 1\n", encoding="utf-8")
    recipe.chmod(0)
    with pytest.raises(Refusal, match=r"saw\.toml: cannot be read"):
        load_recipe(recipe)


def test_a_folder_that_may_not_be_written_in(plain_folder: Path, header: dict[str, Any], begun: datetime) -> None:
    with Journal.create(plain_folder / "logs", header, started=begun) as journal:
        pass
    journal.path.parent.chmod(0o555)
    try:
        with pytest.raises(JournalFault, match="not allowed"):
            Journal.open(journal.path)
        with pytest.raises(JournalFault, match="not allowed"):
            Journal.create(journal.path.parent, header, started=begun)
        assert read_log(journal.path).odd is None
    finally:
        journal.path.parent.chmod(0o755)


@pytest.mark.parametrize("what", ["folder removed", "folder moved", "file removed", "now a folder", "now another file"])
def test_what_vanishes_is_noticed_before_the_mark_is_shown(
    what: str, tmp_path: Path, header: dict[str, Any], begun: datetime, mark: Marks
) -> None:
    folder = tmp_path / "logs"
    with Journal.create(folder, header, started=begun) as journal:
        journal.append(mark(1))
        copy = journal.path.read_bytes()
        if what == "folder removed":
            shutil.rmtree(folder)
        elif what == "folder moved":
            folder.rename(tmp_path / "elsewhere")
        else:
            journal.path.unlink()
            if what == "now a folder":
                journal.path.mkdir()
            elif what == "now another file":
                journal.path.write_bytes(copy)
        with pytest.raises(JournalFault, match=r"no longer there|another file has taken"):
            journal.append(mark(2))
        assert journal.marks == (mark(1),)
        if what == "folder moved":
            (tmp_path / "elsewhere").rename(folder)
        if what in ("folder moved", "now another file"):
            journal.reopen()
            assert journal.marks == (mark(1),)
            journal.append(mark(2))
            assert read_log(journal.path).marks == (mark(1), mark(2))
        else:
            with pytest.raises(ValueError, match=r"no longer there|folder|no such log|regular file"):
                journal.reopen()
            with pytest.raises(JournalFault):
                journal.append(mark(2))


def test_what_another_program_wrote_is_not_cut_off(
    tmp_path: Path, header: dict[str, Any], begun: datetime, mark: Marks
) -> None:
    with Journal.create(tmp_path, header, started=begun) as journal:
        journal.append(mark(1))
        with journal.path.open("ab") as file:
            file.write(b"# noted by hand\n")
        changed = journal.path.read_bytes()
        with pytest.raises(JournalFault, match="another program has changed the log"):
            journal.append(mark(2))
        with pytest.raises(ValueError, match="looked at, not gone on with"):
            journal.reopen()
    assert journal.path.read_bytes() == changed


def test_a_file_where_the_folder_should_be(tmp_path: Path, header: dict[str, Any], begun: datetime) -> None:
    (tmp_path / "logs").write_text("mine")
    for folder in (tmp_path / "logs", tmp_path / "logs" / "saw"):
        with pytest.raises(JournalFault, match="no log can be written there"):
            Journal.create(folder, header, started=begun)
    assert (tmp_path / "logs").read_text() == "mine"
