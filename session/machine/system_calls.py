"""What Windows does unlike the other systems, behind one set of names; nothing else asks which system this is.

Never run on Windows: written by its documents, and tried on Linux against a stand-in that does what they say
(`tests/shared/as_on_windows.py`). Each name says what it promises on both.
"""
# ruff: noqa: PTH104, PTH105, PTH108 – the system's calls by the names they have there

from __future__ import annotations

import errno
import os
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Final, TypeVar

Result = TypeVar("Result")

if sys.platform == "win32":
    import msvcrt

    #: Bytes as they are, and not handed down to another program.
    _GUARDED: Final = os.O_BINARY | os.O_NOINHERIT

    #: An open file keeps its name: it has to be closed first, and whoever has it open keeps it from being removed.
    OPEN_FILES_KEEP_THEIR_NAMES: Final = True

    #: The answers of a disk that has no second names for a file: a memory stick says "incorrect function".
    NO_LINKS: Final = (errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK, errno.EINVAL)

    #: Whether a terminal says in TERM what it can do.
    TERM_IS_TOLD: Final = False

    #: Whether text into a pipe or file goes out as UTF-8 with plain line ends by itself.
    PIPES_ARE_PLAIN: Final = False

    #: Characters of a whole path, as long as longer ones have not been switched on for the whole machine.
    LONGEST_PATH: Final = 259

    #: The lock is on this byte alone, far behind all that is written: a locked byte cannot be read by others, and who
    #: holds the lock stands in the file.
    _LOCKED_BYTE: Final = 0x7FFF_0000

    #: Sharing and lock violation: for a moment, while a scanner or a file sync looks at a file. What has just been
    #: looked at is denied to whoever renames or removes it as well; to open it may be denied for good.
    _LOOKED_AT: Final = frozenset({32, 33})
    _DENIED: Final = 5
    _RESTS_S: Final = (0.01, 0.02, 0.05, 0.1, 0.2, 0.4)

    def _patiently(call: Callable[[], Result], denied: int = _DENIED) -> Result:
        """``call()``, tried again for less than a second while another program only looks at the file."""
        for rest in _RESTS_S:
            try:
                return call()
            except PermissionError as refused:
                if refused.winerror not in _LOOKED_AT | {denied}:
                    raise
                time.sleep(rest)
        return call()

    def open_itself(path: Path, flags: int) -> int:
        """A descriptor of the file at ``path`` itself; OSError (ELOOP) for a link."""
        if path.is_symlink():
            raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), str(path))
        return _opened(path, flags)

    def open_to_read(path: Path) -> int:
        """A descriptor of what is at ``path``, or of what a link there points to; never waits for a pipe."""
        return _opened(path, os.O_RDONLY)

    def _opened(path: Path, flags: int) -> int:
        try:
            return _patiently(lambda: os.open(path, flags | _GUARDED, 0o666), denied=0)
        except PermissionError:
            if path.is_dir():  # the system does not say so
                raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path)) from None
            raise

    def link(source: Path, target: Path) -> None:
        """Give ``source`` the second name ``target``; FileExistsError when that name is taken."""
        _patiently(lambda: os.link(source, target))

    def rename(source: Path, target: Path) -> None:
        """Give ``source`` the name ``target``. Whether a file of that name is overwritten differs: look before."""
        _patiently(lambda: os.rename(source, target))

    def unlink(path: Path) -> None:
        """Take the name ``path`` away."""
        _patiently(lambda: os.unlink(path))

    def read_at(fd: int, most: int, offset: int) -> bytes:
        """Up to ``most`` bytes from ``offset``. The place where the next write goes stays as it was."""
        before = os.lseek(fd, 0, os.SEEK_CUR)
        try:
            os.lseek(fd, offset, os.SEEK_SET)
            return os.read(fd, most)
        finally:
            os.lseek(fd, before, os.SEEK_SET)

    def steady_s() -> float:
        """Seconds on a count that never runs backward, nor stops while the machine sleeps."""
        return time.monotonic()

    def sync(fd: int) -> None:
        """Return once the file is on the medium."""
        os.fsync(fd)

    def sync_folder(path: Path) -> None:
        """Nothing: a folder cannot be synced there. Its names are in the file system's own journal."""

    _NOT_IN_NAMES: Final = frozenset('<>:"/\\|?*') | {chr(sign) for sign in range(32)}
    _DEVICES: Final = frozenset(
        {"con", "prn", "aux", "nul", "conin$", "conout$"}
        | {f"{port}{n}" for port in ("com", "lpt") for n in "0123456789¹²³"}
    )

    def can_be_named(name: str) -> bool:
        """Whether a file or folder can have ``name``, a name without folders before it."""
        device = name.partition(".")[0].rstrip().casefold() in _DEVICES
        return not (device or name.endswith((".", " ")) or _NOT_IN_NAMES & set(name))

    def path_length(path: Path) -> int:
        """How much of `LONGEST_PATH` the whole of ``path`` takes."""
        return len(str(path.absolute()).encode("utf-16-le", "surrogatepass")) // 2

    def replace(source: Path, target: Path) -> None:
        """Give ``source`` the name ``target``, which is taken from another file: one or the other, never none."""
        _patiently(lambda: os.replace(source, target))

    def lock(fd: int) -> None:
        """The kernel's lock on an open file; BlockingIOError when another has it."""
        os.lseek(fd, _LOCKED_BYTE, os.SEEK_SET)
        try:
            msvcrt.locking(fd, msvcrt.LK_NBLCK, 1)
        except OSError as refused:
            if refused.errno not in (errno.EACCES, errno.EDEADLOCK):
                raise
            raise BlockingIOError(errno.EAGAIN, "locked by another") from None
        finally:
            os.lseek(fd, 0, os.SEEK_SET)

    def same_file(one: os.stat_result, other: os.stat_result) -> bool:
        """Whether both are of one file, the first of them open. Not every disk there can tell; then it is."""
        return 0 in (one.st_ino, other.st_ino) or one.st_ino == other.st_ino

    def forget(fd: int) -> None:
        """Nothing: the system cannot be asked to forget what it has in memory."""

    def hung_up(fd: int, wait_ms: int) -> bool:
        """Waits ``wait_ms``: a terminal that goes away is told by a signal."""
        time.sleep(wait_ms / 1000)
        return False

    def takes(fd: int) -> bool:
        """Whether the terminal behind ``fd`` would take another byte: nobody can tell."""
        return True

else:
    #: Never through a link, never waiting on a pipe, never handed down to another program.
    _GUARDED: Final = os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC
    OPEN_FILES_KEEP_THEIR_NAMES: Final = False
    NO_LINKS: Final = (errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK)
    TERM_IS_TOLD: Final = True
    PIPES_ARE_PLAIN: Final = True
    LONGEST_PATH: Final = 4_095

    def open_itself(path: Path, flags: int) -> int:
        """A descriptor of the file at ``path`` itself; OSError (ELOOP) for a link."""
        return os.open(path, flags | _GUARDED, 0o666)

    def open_to_read(path: Path) -> int:
        """A descriptor of what is at ``path``, or of what a link there points to; never waits for a pipe."""
        return os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_CLOEXEC)

    def link(source: Path, target: Path) -> None:
        """Give ``source`` the second name ``target``; FileExistsError when that name is taken."""
        os.link(source, target)

    def rename(source: Path, target: Path) -> None:
        """Give ``source`` the name ``target``. Whether a file of that name is overwritten differs: look before."""
        os.rename(source, target)

    def unlink(path: Path) -> None:
        """Take the name ``path`` away."""
        os.unlink(path)

    def read_at(fd: int, most: int, offset: int) -> bytes:
        """Up to ``most`` bytes from ``offset``. The place where the next write goes stays as it was."""
        return os.pread(fd, most, offset)

    def _count_through_sleep() -> Callable[[], float]:
        """Of Linux and macOS: Python's own steady count stops while the machine sleeps, so a night were no silence."""
        names = {"linux": "CLOCK_BOOTTIME", "darwin": "CLOCK_MONOTONIC"}
        number = getattr(time, names.get(sys.platform, ""), None)
        if number is None:
            return time.monotonic
        try:
            time.clock_gettime(number)
        except OSError:  # a kernel that does not know it
            return time.monotonic
        return partial(time.clock_gettime, number)

    _steady_s: Final = _count_through_sleep()

    def steady_s() -> float:
        """Seconds on a count that never runs backward, nor stops while the machine sleeps."""
        return _steady_s()

    def sync(fd: int) -> None:
        """Return once the file is on the medium. Plain fsync stops at the drive's own memory on macOS."""
        import fcntl  # here and below for who writes, or minds a terminal: who only prints waits for none of it

        full = getattr(fcntl, "F_FULLFSYNC", None)
        if full is not None:
            try:
                fcntl.fcntl(fd, full)
            except OSError as refused:
                if refused.errno not in (errno.ENOTSUP, errno.EINVAL, errno.ENOTTY):
                    raise
            else:
                return
        os.fsync(fd)

    def sync_folder(path: Path) -> None:
        """Make the names in folder ``path`` last. Some network disks cannot; they answer EINVAL."""
        fd = os.open(path, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
        try:
            os.fsync(fd)
        except OSError as refused:
            if refused.errno != errno.EINVAL:
                raise
        finally:
            os.close(fd)

    def can_be_named(name: str) -> bool:
        """Whether a file or folder can have ``name``, a name without folders before it."""
        return not {"/", "\0"} & set(name)

    def path_length(path: Path) -> int:
        """How much of `LONGEST_PATH` the whole of ``path`` takes."""
        return len(os.fsencode(path.absolute()))

    def replace(source: Path, target: Path) -> None:
        """Give ``source`` the name ``target``, which is taken from another file: one or the other, never none."""
        os.replace(source, target)

    def lock(fd: int) -> None:
        """The kernel's lock on an open file; BlockingIOError when another has it."""
        import fcntl

        fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def same_file(one: os.stat_result, other: os.stat_result) -> bool:
        """Whether both are of one file, the first of them open."""
        return (one.st_dev, one.st_ino) == (other.st_dev, other.st_ino)

    def forget(fd: int) -> None:
        """Let go of the system's copy in memory where that can be asked for, so that the next read is of the medium.

        After a failed fsync Linux takes the pages for clean, though they may never have been written.
        """
        if hasattr(os, "posix_fadvise"):
            os.posix_fadvise(fd, 0, 0, os.POSIX_FADV_DONTNEED)

    def hung_up(fd: int, wait_ms: int) -> bool:
        """Whether the terminal behind ``fd`` has gone away; waits up to ``wait_ms`` for that."""
        import select

        poll = select.poll()
        poll.register(fd, 0)  # nothing but what cannot be left out: hangup, error, no such descriptor
        return bool(poll.poll(wait_ms))

    def takes(fd: int) -> bool:
        """Whether the terminal behind ``fd`` would take another byte; of a slow disk this tells nothing."""
        import select

        return bool(select.select([], [fd], [], 0)[1])
