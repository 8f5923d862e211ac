"""Each of the first 200 system calls under the writer fails in turn: what was shown as done is on disk, once."""

from __future__ import annotations

import errno
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from session.log.journal import Journal, JournalFault
from session.log.log_reader import read_log
from session.machine.lock import LockHeld
from session.machine.refusal import Refusal
from session.walk.mark import Mark
from soak_table import tried

SOAK = pytest.mark.soak("a system call of the writer fails")

Marks = Callable[..., Mark]

#: Marks of one run: enough that its calls are more than 200.
MARKS = 45
TRIES = 3


class Run:
    """A person's sharpening on a bad disk: a fault is followed by reading the log again, as at the bench."""

    def __init__(self, folder: Path, header: dict[str, Any], begun: datetime, mark: Marks, disk: Any) -> None:
        self.folder, self.header, self.begun, self.mark, self.disk = folder, header, begun, mark, disk
        self.shown: list[Mark] = []
        self.faults = 0

    def work(self) -> None:
        journal = self._tried(lambda: Journal.create(self.folder, self.header, started=self.begun, disk=self.disk))
        if journal is None:
            return
        path = journal.path
        for half in (MARKS // 2, MARKS):
            while journal.next_seq <= half:
                made = self.mark(journal.next_seq)
                try:
                    journal.append(made)
                except JournalFault:
                    self.faults += 1
                    if self._tried(journal.reopen, none=True) is None:
                        journal.close()
                        return
                    # What the log holds is what the screen shows from now on.
                    assert list(journal.marks[: len(self.shown)]) == self.shown
                    self.shown = list(journal.marks)
                else:
                    self.shown.append(made)
            journal.close()
            # The program is started again in the middle of the work, after a write was cut short by its end.
            if half < MARKS:
                with path.open("ab") as file:
                    file.write(b"\n[[mark]]\nseq = ")
            journal = self._tried(lambda: Journal.open(path, disk=self.disk))
            if journal is None:
                return
        journal.close()

    def _tried(self, act: Callable[[], Any], *, none: bool = False) -> Any:
        for _ in range(TRIES):
            try:
                return act() or none
            except LockHeld:
                raise
            except Refusal:
                self.faults += 1
        return None


def logs(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.toml")) if folder.is_dir() else []


def run(tmp_path: Path, header: dict[str, Any], begun: datetime, mark: Marks, disk: Any) -> Run:
    folder = tmp_path / f"{disk.how}-{disk.fail_at}-{disk.number}" / "logs" / "boat-shed-rip"
    done = Run(folder, header, begun, mark, disk)
    done.work()
    return done


HOWS = ["refused", "half", "done but failed", "dead"]


@pytest.mark.wide
@pytest.mark.parametrize("how", HOWS)
@pytest.mark.parametrize(
    ("number", "share"),
    [
        # Among them the four ways fail every call of the first two hundred once.
        pytest.param(errno.EIO, len(HOWS), id="EIO"),
        pytest.param(errno.EIO, 1, id="EIO every call", marks=SOAK),
        pytest.param(errno.ENOSPC, 1, id="ENOSPC every call", marks=SOAK),
    ],
)
@pytest.mark.usefixtures("quick_decoding")
def test_the_nth_call_fails(
    how: str,
    number: int,
    share: int,
    tmp_path: Path,
    header: dict[str, Any],
    begun: datetime,
    mark: Marks,
    faulty_disk: Any,
) -> None:
    sound = run(tmp_path, header, begun, mark, faulty_disk(0, how, number))
    assert sound.faults == 0
    assert sound.disk.calls > 200
    assert len(sound.shown) == MARKS
    faults = 0
    for fail_at in range(1 + HOWS.index(how) % share, 201, share):
        tried()
        disk = faulty_disk(fail_at, how, number)
        done = run(tmp_path, header, begun, mark, disk)
        assert disk.calls >= fail_at
        faults += done.faults
        left = [read_log(path) for path in logs(done.folder)]
        assert all(log.odd is None for log in left), f"call {fail_at}"
        holding = [log for log in left if log.marks or not done.shown]
        assert len(holding) <= 1
        if done.shown:
            assert list(holding[0].marks[: len(done.shown)]) == done.shown, f"call {fail_at}"
            # Beyond what was shown there is at most the one mark whose write was told as failed.
            assert len(holding[0].marks) <= len(done.shown) + 1
        if how != "dead":
            assert len(done.shown) == MARKS, f"call {fail_at}"
            # Afterwards the log can be opened by a program on a sound disk, and nothing stands in the way.
            with Journal.open(logs(done.folder)[-1]) as journal:
                assert journal.next_seq == MARKS + 1
    assert faults > 100 // share


@pytest.mark.parametrize("how", ["refused", "dead"])
def test_a_failed_start_leaves_no_log(
    how: str, tmp_path: Path, header: dict[str, Any], begun: datetime, faulty_disk: Any
) -> None:
    failed = 0
    for fail_at in range(1, 60):
        folder = tmp_path / f"{fail_at}" / "saw"
        try:
            journal = Journal.create(folder, header, started=begun, disk=faulty_disk(fail_at, how))
        except JournalFault:
            failed += 1
            assert how == "dead" or logs(folder) == []
            # On a dead disk the log itself may stay, whole and empty, because removing it fails too.
            assert all(read_log(path).odd is None for path in logs(folder))
        else:
            journal.close()
            assert len(logs(folder)) == 1
    assert failed > 5


def test_after_a_fault_nothing_is_taken_until_the_log_is_read_again(
    tmp_path: Path, header: dict[str, Any], begun: datetime, mark: Marks, faulty_disk: Any
) -> None:
    disk = faulty_disk(0, "done but failed", errno.EIO)
    with Journal.create(tmp_path, header, started=begun, disk=disk) as journal:
        journal.append(mark(1))
        # Of the calls of an append the third is the fsync, after the look at the size and the write.
        disk.fail_at = disk.calls + 3
        with pytest.raises(JournalFault, match="the disk reports a fault") as fault:
            journal.append(mark(2))
        assert fault.value.code == 4
        assert "\n" not in str(fault.value)
        assert fault.value.reason == "the mark was not written: the disk reports a fault"
        for _ in range(3):
            with pytest.raises(JournalFault, match="read again first"):
                journal.append(mark(2))
        assert journal.marks == (mark(1),)
        journal.reopen()
        assert journal.marks == (mark(1),)
        journal.append(mark(2))
    assert read_log(journal.path).marks == (mark(1), mark(2))


def test_a_short_write_is_cut_back_at_once(
    tmp_path: Path, header: dict[str, Any], begun: datetime, mark: Marks, faulty_disk: Any
) -> None:
    disk = faulty_disk(0, "half")
    with Journal.create(tmp_path, header, started=begun, disk=disk) as journal:
        journal.append(mark(1))
        before = journal.path.read_bytes()
        disk.fail_at = disk.calls + 2
        with pytest.raises(JournalFault, match="the disk is full"):
            journal.append(mark(2))
        assert journal.path.read_bytes() == before


def test_an_interrupt_in_the_middle_of_a_write(
    tmp_path: Path, header: dict[str, Any], begun: datetime, mark: Marks, faulty_disk: Any
) -> None:
    class Interrupted(faulty_disk):  # type: ignore[misc]
        fail_at: int

        def fsync(self, fd: int) -> None:
            if self.fail_at:
                self.fail_at = 0
                raise KeyboardInterrupt

    disk = Interrupted(0, "refused")
    with Journal.create(tmp_path, header, started=begun, disk=disk) as journal:
        disk.fail_at = 10**9
        with pytest.raises(KeyboardInterrupt):
            journal.append(mark(1))
        with pytest.raises(JournalFault, match="interrupted"):
            journal.append(mark(1))
        journal.reopen()
        with suppress(JournalFault):
            journal.append(mark(1))
    assert read_log(journal.path).marks == (mark(1),)


def test_a_disk_without_second_names_gets_its_log_all_the_same(
    tmp_path: Path, header: dict[str, Any], begun: datetime, mark: Marks, faulty_disk: Any
) -> None:
    class MemoryStick(faulty_disk):  # type: ignore[misc]
        def link(self, source: Path, target: Path) -> None:
            raise PermissionError(errno.EPERM, "no links here")

    paths = set()
    for _ in range(2):
        with Journal.create(tmp_path, header, started=begun, disk=MemoryStick(0, "refused")) as journal:
            journal.append(mark(1))
            paths.add(journal.path)
    assert [read_log(path).marks for path in sorted(paths)] == [(mark(1),), (mark(1),)]
    assert sorted(tmp_path.iterdir()) == sorted(paths)
