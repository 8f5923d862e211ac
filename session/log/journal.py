"""The log being written: one mark, one write, one fsync, and only then may a screen show it.

>>> import tempfile
>>> from session.walk.mark import Did, Mark
>>> begun = datetime.fromisoformat("2026-03-01T10:15:00+01:00")
>>> with tempfile.TemporaryDirectory() as home:
...     with Journal.create(Path(home) / "netloft-panel-saw", {"session": {"started": begun}}, started=begun) as log:
...         _ = log.append(Mark(seq=1, at=begun, did=Did.PAUSED))
...     with Journal.open(log.path) as again:
...         again.next_seq
2
"""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Any, Final, Self

from session.log.crc_seals import CodecError
from session.log.log_bytes import MOST_BYTES, Oddity, make_header, read_log_bytes
from session.log.mark_block import encode
from session.machine.disk import REAL, Disk, why
from session.machine.lock import LockHeld, LogLock
from session.machine.new_file import free_names, make_folder, place_file
from session.machine.refusal import DISK, Refusal
from session.machine.untrusted_text import shown
from session.value_class import dataclass
from session.walk.mark import Mark
from session.walk.shared_maps import GrownList


class JournalFault(Refusal):
    """The disk would not take it. ``reason`` says why, without the path.

    A kind of its own: the walk stops at it, tells what to note by hand, and reads the log again.
    """

    def __init__(self, path: Path, reason: str) -> None:
        super().__init__(f"{shown(path)}: {reason}", DISK)
        self.reason = reason


def only_to_look_at(path: Path, odd: Oddity) -> Refusal:
    """The refusal of a log with something odd in it, which is left as it is."""
    return Refusal(f"{shown(path)}: {odd}; it can be looked at, not gone on with: toothline show")


@dataclass(frozen=True, slots=True)
class Torn:
    """A torn end that was cut off: its bytes, and the file they were set aside in."""

    data: bytes
    file: Path


class Journal:
    """One log, open for writing and locked.

    path, header: the log and its header's values. marks: the whole marks on disk, as they will be read again.
    torn: what was set aside when the log was last read, or None.
    """

    def __init__(self, path: Path, lock: LogLock, disk: Disk) -> None:
        self.path: Final = path
        self.header: dict[str, Any] = {}
        self.marks: GrownList[Mark] = GrownList()
        self.torn: Torn | None = None
        self._disk: Final = disk
        self._lock = lock
        self._fd: int | None = None
        self._end = 0
        self._broken: str | None = "it is closed"

    @classmethod
    def create(cls, folder: Path, header: Mapping[str, Any], *, started: datetime, disk: Disk = REAL) -> Journal:
        """A new log in ``folder`` (made if need be), named by ``started``; no file is ever overwritten.

        Raises JournalFault when the disk will not take it, CodecError for values TOML cannot hold; then
        nothing is left behind but perhaps the folder.
        """
        data = make_header(header)
        try:
            make_folder(folder, disk)
            for path in free_names(folder, started, data):
                try:
                    lock = LogLock.take(path, disk)
                except LockHeld:
                    continue
                placed = False
                try:
                    placed = place_file(path, data, disk)
                    if placed:
                        return cls._taken(path, lock, disk)
                except BaseException:
                    if placed:
                        with suppress(OSError):
                            disk.unlink(path)
                    lock.release()
                    raise
                lock.release()
        except OSError as problem:
            raise JournalFault(folder, f"no log can be written there: {why(problem)}") from None
        raise JournalFault(folder, "no log can be written there: every name is taken")

    @classmethod
    def open(cls, path: Path, *, disk: Disk = REAL) -> Journal:
        """The log at ``path``, locked and read; a torn end is set aside and cut off.

        Raises Refusal when there is no log or an odd one, LockHeld, or JournalFault when the disk will not.
        """
        try:
            if not stat.S_ISREG(disk.stat(path).st_mode):
                raise Refusal(f"{shown(path)}: not a regular file; a log is a file")
            lock = LogLock.take(path, disk)
        except FileNotFoundError:
            raise Refusal(f"{shown(path)}: no such log") from None
        except OSError as problem:
            raise JournalFault(path, f"the log cannot be locked for writing: {why(problem)}") from None
        try:
            return cls._taken(path, lock, disk)
        except BaseException:
            lock.release()
            raise

    @classmethod
    def _taken(cls, path: Path, lock: LogLock, disk: Disk) -> Journal:
        journal = cls(path, lock, disk)
        journal._read()
        return journal

    @property
    def next_seq(self) -> int:
        """The seq that the next mark must have."""
        return len(self.marks) + 1

    def append(self, mark: Mark) -> Mark:
        """Write ``mark``, and give it as it will be read again; on return it is on the medium.

        Raises JournalFault when it is not. After a failed write or fsync nothing more is taken until
        `reopen`: what the disk holds then is not known without reading it.
        """
        if self._broken is not None or self._fd is None:
            raise JournalFault(self.path, f"the mark was not written: {self._broken}")
        if mark.seq != self.next_seq:
            raise JournalFault(self.path, f"mark {mark.seq} was not written: mark {self.next_seq} comes next")
        try:
            block, told = encode(mark)
        except CodecError as wrong:
            raise JournalFault(self.path, str(wrong)) from None
        if self._end + len(block) > MOST_BYTES:
            raise JournalFault(self.path, f"the mark was not written: the log has reached {MOST_BYTES:,} bytes")
        begun = False
        try:
            if self._disk.fstat(self._fd).st_size != self._end:
                raise OSError(errno.ESTALE, "another program has changed the log")
            begun = True
            self._write(self._fd, block)
        except BaseException as problem:
            reason = why(problem) if isinstance(problem, OSError) else "the writing was interrupted"
            self._broken = f"{reason}; the log has to be read again first"
            if begun:
                self._undo(self._fd, len(block))
            if isinstance(problem, OSError):
                raise JournalFault(self.path, f"the mark was not written: {reason}") from None
            raise
        self._end += len(block)
        self.marks = self.marks.plus(told)
        return told

    def reopen(self) -> None:
        """Read the log again from disk after a fault, and go on from what it holds.

        Raises what `open` raises; then nothing can be written until another `reopen` succeeds.
        """
        self._let_go("it has to be read again first")
        try:
            if not self._lock.holds():
                self._lock.release()
                self._lock = LogLock.take(self.path, self._disk)
        except OSError as problem:
            raise JournalFault(self.path, f"the log cannot be locked for writing: {why(problem)}") from None
        self._read(anew=True)

    def close(self) -> None:
        """Let go of the log and its lock. A second time does nothing."""
        self._let_go("it is closed")
        self._lock.release()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _write(self, fd: int, block: bytes) -> None:
        if self._disk.write(fd, block) != len(block):
            raise OSError(errno.ENOSPC, "")
        self._disk.fsync(fd)
        # A file that was removed or replaced still takes writes, and they would be in no folder.
        mine, there = self._disk.fstat(fd), self._disk.stat(self.path)
        if not self._disk.same_file(mine, there):
            raise OSError(errno.ESTALE, "another file has taken the log's name")

    def _undo(self, fd: int, length: int) -> None:
        """Cut a failed write back, as far as the disk still obeys. What is longer than it came from another program."""
        with suppress(OSError):
            if self._end < self._disk.fstat(fd).st_size <= self._end + length:
                self._disk.truncate(fd, self._end)
                self._disk.fsync(fd)

    def _read(self, *, anew: bool = False) -> None:
        disk = self._disk
        try:
            self._fd = fd = disk.open(self.path, os.O_RDWR | os.O_APPEND)
            size = disk.fstat(fd).st_size
            if not stat.S_ISREG(disk.fstat(fd).st_mode) or size > MOST_BYTES:
                raise only_to_look_at(self.path, Oddity(f"not a regular file of at most {MOST_BYTES:,} bytes"))
            if anew:
                disk.forget(fd)
            data = disk.read(fd, size, 0)
            log = read_log_bytes(data)
            if log.odd is not None:
                raise only_to_look_at(self.path, log.odd)
            self.torn = self._set_aside(data[log.end :]) if log.torn_bytes else None
            if self.torn is not None:
                disk.truncate(fd, log.end)
            # What a killed program wrote may be in the system's memory only, and is about to be shown as done.
            disk.fsync(fd)
        except BaseException as problem:
            self._let_go("it has to be read again first")
            if isinstance(problem, OSError):
                raise JournalFault(self.path, f"the log cannot be opened for writing: {why(problem)}") from None
            raise
        self.header, self.marks, self._end, self._broken = log.header, GrownList(log.marks), log.end, None

    def _set_aside(self, tail: bytes) -> Torn:
        when = self._disk.now().strftime("%Y-%m-%dT%H-%M-%S")
        for number in range(1, 1000):
            file = self.path.with_name(f"{self.path.name}.torn-{when}" + (f"-{number}" if number > 1 else ""))
            if place_file(file, tail, self._disk):
                return Torn(tail, file)
        raise OSError(errno.EEXIST, "every name for the torn end is taken")

    def _let_go(self, broken: str) -> None:
        self._broken = broken
        if self._fd is not None:
            fd, self._fd = self._fd, None
            with suppress(OSError):
                self._disk.close(fd)
