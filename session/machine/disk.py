"""The few system calls that the record is written with, in one class so that tests can make any of them fail."""

from __future__ import annotations

import errno
import os
from datetime import datetime
from pathlib import Path
from typing import Final

from session.machine import system_calls

_WORDS: Final = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is used up",
    errno.EROFS: "the disk can only be read",
    errno.EACCES: "you are not allowed to do that there",
    errno.EPERM: "you are not allowed to do that there",
    errno.ENOENT: "it is no longer there",
    errno.EIO: "the disk reports a fault",
    errno.ELOOP: "it is a link to something else",
    errno.EISDIR: "it is a folder, not a file",
    errno.ENOTDIR: "a part of its path is a file, not a folder",
    errno.EEXIST: "something else has that name",
    errno.ENAMETOOLONG: "its name is too long for this disk",
    errno.ENOLCK: "this disk cannot lock files, and two programs might write at once; keep the till on one that can",
    errno.EFBIG: "files of this size are not allowed there",
}

#: What Windows says of a file that a scanner, a file sync or another bench has in its hands: sharing, locking.
_IN_OTHER_HANDS: Final = frozenset({32, 33})


def why(error: OSError) -> str:
    """The reason of a failed call in words that a person at the bench can act on."""
    if getattr(error, "winerror", None) in _IN_OTHER_HANDS:
        return "another program has it open"
    return _WORDS.get(error.errno or 0) or error.strerror or str(error) or "for an unknown reason"


class Disk:
    """System calls under the names they have there. Every one raises OSError when it fails."""

    def open(self, path: Path, flags: int) -> int:
        """A descriptor of the file at ``path`` itself, not of what a link there points to."""
        return system_calls.open_itself(path, flags)

    def close(self, fd: int) -> None:
        os.close(fd)

    def read(self, fd: int, most: int, offset: int) -> bytes:
        """Up to ``most`` bytes from ``offset``; fewer only at the end of the file."""
        parts: list[bytes] = []
        while most > 0 and (part := system_calls.read_at(fd, most, offset)):
            parts.append(part)
            offset, most = offset + len(part), most - len(part)
        return b"".join(parts)

    def write(self, fd: int, data: bytes) -> int:
        """One write; gives how many bytes were taken, which may be fewer than all."""
        return os.write(fd, data)

    def fsync(self, fd: int) -> None:
        """Return once the file is on the medium."""
        system_calls.sync(fd)

    def fsync_dir(self, path: Path) -> None:
        """Make the names in folder ``path`` last, where a system can."""
        system_calls.sync_folder(path)

    def link(self, source: Path, target: Path) -> None:
        """Give ``source`` the second name ``target``; FileExistsError when that name is taken."""
        system_calls.link(source, target)

    def rename(self, source: Path, target: Path) -> None:
        """Give ``source`` the name ``target``. Whether a file of that name is overwritten differs: look before."""
        system_calls.rename(source, target)

    def replace(self, source: Path, target: Path) -> None:
        """Give ``source`` the name ``target``, which is taken from another file: one or the other, never none."""
        system_calls.replace(source, target)

    def unlink(self, path: Path) -> None:
        system_calls.unlink(path)

    def truncate(self, fd: int, size: int) -> None:
        os.ftruncate(fd, size)

    def lock(self, fd: int) -> None:
        """The kernel's lock on an open file; BlockingIOError when another has it."""
        system_calls.lock(fd)

    def mkdir(self, path: Path) -> None:
        path.mkdir()

    def rmdir(self, path: Path) -> None:
        path.rmdir()

    def stat(self, path: Path) -> os.stat_result:
        """What stands under the name now, a link not followed."""
        return path.lstat()

    def fstat(self, fd: int) -> os.stat_result:
        return os.fstat(fd)

    def forget(self, fd: int) -> None:
        """Let go of the system's copy in memory where that can be asked for, so that the next read is of the medium."""
        system_calls.forget(fd)

    def same_file(self, one: os.stat_result, other: os.stat_result) -> bool:
        """Whether both are of one file, the first of them open."""
        return system_calls.same_file(one, other)

    def now(self) -> datetime:
        """The time of day with its offset, for names and for the lock's information; it decides nothing."""
        return datetime.now().astimezone()


#: The machine's own disk.
REAL: Final = Disk()
