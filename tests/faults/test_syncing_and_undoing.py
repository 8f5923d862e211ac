"""What is done around a failing sync or write: what is asked of the medium, in which order, and what is left alone."""

from __future__ import annotations

import errno
import fcntl
import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from session.log import journal as journal_module
from session.log.journal import Journal, JournalFault
from session.log.log_reader import read_log
from session.machine.disk import Disk
from session.machine.new_file import make_folder
from session.walk.mark import Mark

Marks = Callable[..., Mark]


class ToldDisk(Disk):
    """Writes down the calls that matter here, and fails the syncs of files while it is told to."""

    def __init__(self) -> None:
        self.told: list[str] = []
        self.failing = False

    def read(self, fd: int, most: int, offset: int) -> bytes:
        self.told.append("read")
        return super().read(fd, most, offset)

    def forget(self, fd: int) -> None:
        self.told.append("forget")
        super().forget(fd)

    def fsync(self, fd: int) -> None:
        self.told.append("fsync")
        if self.failing:
            raise OSError(errno.EIO, "made to fail")

    def fsync_dir(self, path: Path) -> None:
        self.told.append(f"sync folder {path.name}")


@pytest.fixture
def log(tmp_path: Path, header: dict[str, Any], begun: datetime, mark: Marks) -> Path:
    with Journal.create(tmp_path / "saw", header, started=begun) as journal:
        journal.append(mark(1))
        return journal.path


def test_what_a_killed_program_wrote_is_synced_before_anyone_believes_it(log: Path, mark: Marks) -> None:
    disk = ToldDisk()
    disk.failing = True
    # It may be in the system's memory only: without a sync that succeeds the mark must not show as done.
    with pytest.raises(JournalFault, match="cannot be opened for writing: the disk reports a fault") as refused:
        Journal.open(log, disk=disk)
    assert refused.value.code == 4
    assert disk.told == ["read", "fsync"]
    disk.failing = False
    with Journal.open(log, disk=disk) as journal:
        assert journal.marks == (mark(1),)


def test_after_a_failed_sync_the_medium_is_asked_and_not_the_memory(log: Path, mark: Marks) -> None:
    disk = ToldDisk()
    with Journal.open(log, disk=disk) as journal:
        disk.failing, disk.told = True, []
        with pytest.raises(JournalFault):
            journal.append(mark(2))
        # One for the mark and one for cutting it back; neither is asked again.
        assert disk.told == ["fsync", "fsync"]
        with pytest.raises(JournalFault):
            journal.append(mark(2))
        assert disk.told == ["fsync", "fsync"]
        disk.failing, disk.told = False, []
        journal.reopen()
        # Linux takes the pages for clean after a failed sync, so what it remembers proves nothing.
        assert disk.told[:2] == ["forget", "read"]
        assert journal.marks == (mark(1),)


@pytest.mark.parametrize("change", ["longer", "shorter"])
def test_a_failed_write_takes_back_nothing_that_another_program_did(change: str, log: Path, mark: Marks) -> None:
    foreign = b"# noted by hand while the mark was being written, and longer than any mark is\n" * 9

    class Shared(Disk):
        def write(self, fd: int, data: bytes) -> int:
            if not data.startswith(b"\n[[mark]]"):
                return super().write(fd, data)  # who holds the lock
            if change == "longer":
                with log.open("ab") as file:
                    file.write(foreign)
            else:
                os.truncate(log, 40)
            raise OSError(errno.EIO, "made to fail")

    before = log.read_bytes()
    with Journal.open(log, disk=Shared()) as journal, pytest.raises(JournalFault):
        journal.append(mark(2))
    assert log.read_bytes() == (before + foreign if change == "longer" else before[:40])


def test_a_log_grows_no_longer_than_it_could_be_read(log: Path, mark: Marks, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(journal_module, "MOST_BYTES", log.stat().st_size + 200)
    with Journal.open(log) as journal:
        journal.append(mark(2))
        before = log.read_bytes()
        with pytest.raises(JournalFault, match="the log has reached"):
            journal.append(mark(3))
    assert log.read_bytes() == before
    assert read_log(log).marks == (mark(1), mark(2))


def test_new_folders_last_each_in_the_one_above(tmp_path: Path) -> None:
    disk = ToldDisk()
    make_folder(tmp_path / "till" / "logs" / "saw", disk)
    assert disk.told == [f"sync folder {name}" for name in (tmp_path.name, "till", "logs")]


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "outside").write_text("mine\n")
    (tmp_path / "link").symlink_to("outside")
    with pytest.raises(OSError, match="symbolic links") as refused:
        Disk().open(tmp_path / "link", os.O_RDWR)
    assert refused.value.errno == errno.ELOOP


@pytest.mark.parametrize(
    ("answer", "synced"),
    [(None, ["full"]), (errno.ENOTSUP, ["full", "plain"]), (errno.EINVAL, ["full", "plain"]), (errno.EIO, ["full"])],
)
def test_where_there_is_a_full_sync_it_is_used(
    answer: int | None, synced: list[str], log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []

    def full(fd: int, what: int) -> int:
        assert what == 51
        told.append("full")
        if answer is not None:
            raise OSError(answer, "made to fail")
        return 0

    # As macOS has it: its plain fsync does not reach the medium.
    monkeypatch.setattr(fcntl, "F_FULLFSYNC", 51, raising=False)
    monkeypatch.setattr(fcntl, "fcntl", full)
    monkeypatch.setattr(os, "fsync", lambda fd: told.append("plain"))
    with log.open("rb") as file:
        if answer == errno.EIO:
            with pytest.raises(OSError, match="made to fail"):
                Disk().fsync(file.fileno())
        else:
            Disk().fsync(file.fileno())
    assert told == synced
