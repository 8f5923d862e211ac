"""The lock on a log: held by one program at a time, let go by the kernel when that program ends, however it ends."""

from __future__ import annotations

import errno
import os
import stat
import tomllib
from contextlib import suppress
from pathlib import Path
from typing import Final

import tomli_w

from session.machine.clean_text import clean
from session.machine.disk import Disk
from session.machine.refusal import HELD, Refusal
from session.machine.system_calls import OPEN_FILES_KEEP_THEIR_NAMES
from session.machine.untrusted_text import shown

_TRIES: Final = 100

#: The answers of a disk that has no kernel locks, as some shares in a network have none.
_NO_LOCKS: Final = frozenset({errno.ENOLCK, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EINVAL})


class LockHeld(Refusal):
    """Another program has the log open for writing; ``who`` and ``since`` are what it says of itself.

    A kind of its own: whoever looks for a free name goes on to the next one.
    """

    def __init__(self, log: Path, who: str, since: str) -> None:
        super().__init__(
            f"{shown(log)}: held by {who} since {since}; close it there, or look without writing: toothline show",
            HELD,
        )
        self.log = log
        self.who = who
        self.since = since


class LogLock:
    """The kernel's lock on ``<log>.lock``. What is written in that file informs and decides nothing.

    In a ``with`` it is let go of at its end.
    """

    def __init__(self, path: Path, fd: int, disk: Disk) -> None:
        self._path = path
        self._fd: int | None = fd
        self._disk = disk

    @classmethod
    def take(cls, log: Path, disk: Disk) -> LogLock:
        """Take the lock of ``log``. Raises LockHeld when another has it, OSError when the disk will not.

        Where the disk has no locks there is none to be had (ENOLCK): two who write at once would be worse.
        """
        path = log.with_name(log.name + ".lock")
        for _ in range(_TRIES):
            fd = disk.open(path, os.O_RDWR | os.O_CREAT)
            kept = False
            try:
                if not stat.S_ISREG(disk.fstat(fd).st_mode):
                    raise OSError(errno.EEXIST, "the lock's name is taken by something that is no file")
                try:
                    disk.lock(fd)
                except BlockingIOError:
                    raise LockHeld(log, *_holder(fd, disk)) from None
                except OSError as refused:
                    if refused.errno not in _NO_LOCKS:
                        raise
                    if disk.fstat(fd).st_size == 0:
                        # Made just now, or left by one who could not lock either: whoever holds it stands in it.
                        with suppress(OSError):
                            disk.unlink(path)
                    raise OSError(errno.ENOLCK, "no locks here") from None
                lock = cls(path, fd, disk)
                # The last holder removes the file as it lets go; then this is a lock on a name that is gone.
                if lock.holds():
                    lock._introduce()
                    kept = True
                    return lock
            finally:
                if not kept:
                    with suppress(OSError):
                        disk.close(fd)
        raise OSError(errno.EBUSY, "the lock changes hands too fast")

    def holds(self) -> bool:
        """Whether the lock is still that of the name: its file was not removed or replaced meanwhile."""
        if self._fd is None:
            return False
        try:
            mine, there = self._disk.fstat(self._fd), self._disk.stat(self._path)
        except OSError:
            return False
        return self._disk.same_file(mine, there)

    def __enter__(self) -> LogLock:
        return self

    def __exit__(self, *_: object) -> None:
        self.release()

    def release(self) -> None:
        """Let go, and remove the file while nobody else can hold it. A second time does nothing."""
        if self._fd is None:
            return
        mine = self.holds()
        if mine and not OPEN_FILES_KEEP_THEIR_NAMES:
            with suppress(OSError):
                self._disk.unlink(self._path)
        fd, self._fd = self._fd, None
        with suppress(OSError):
            self._disk.close(fd)
        if mine and OPEN_FILES_KEEP_THEIR_NAMES:
            # Whoever has taken the lock since then has the file open, and so it stays.
            with suppress(OSError):
                self._disk.unlink(self._path)

    def _introduce(self) -> None:
        assert self._fd is not None
        if self._disk.fstat(self._fd).st_nlink != 1:
            return  # another name for someone's file: it is locked, and stays as it is
        # Slow to load, and whoever only reads logs takes no lock.
        import platform

        who = {"pid": os.getpid(), "host": clean(platform.node()), "since": self._disk.now().replace(microsecond=0)}
        with suppress(OSError):
            self._disk.truncate(self._fd, 0)
            self._disk.write(self._fd, tomli_w.dumps(who).encode("utf-8"))


def is_held(log: Path, disk: Disk) -> bool:
    """Whether another has the lock of ``log``, whose file may also be left by one that was killed. Never raises.

    The lock is asked for and let go of at once; nothing is made, written or removed. Where it cannot be asked, its
    file is believed.
    """
    path = log.with_name(log.name + ".lock")
    try:
        fd = disk.open(path, os.O_RDWR)
    except (FileNotFoundError, IsADirectoryError):
        return False
    except OSError:
        return True
    try:
        if not stat.S_ISREG(disk.fstat(fd).st_mode):
            return False
        disk.lock(fd)
    except OSError:
        return True
    finally:
        with suppress(OSError):
            disk.close(fd)
    return False


def _holder(fd: int, disk: Disk) -> tuple[str, str]:
    """Who holds the lock and since when, as far as the file says: its text may come from anywhere."""
    told: dict[str, object] = {}
    with suppress(OSError, ValueError, RecursionError):
        told = tomllib.loads(disk.read(fd, 2_000, 0).decode("utf-8"))
    pid, host, since = (clean(str(told[key]))[:80] if key in told else "" for key in ("pid", "host", "since"))
    who = f"process {pid} on {host}" if pid and host else "another program"
    return who, since or "a moment ago"
