"""The few system calls that the record is written with, in one class so that tests can make any of them fail."""

from __future__ import annotations

import errno
import fcntl
import os
from datetime import datetime
from pathlib import Path
from typing import Final

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
    errno.ENOLCK: "this disk cannot lock files",
    errno.EFBIG: "files of this size are not allowed there",
}

#: Never through a link, never waiting on a pipe, never handed down to another program.
_GUARDED: Final = os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC


def why(error: OSError) -> str:
    """The reason of a failed call in words that a person at the bench can act on."""
    return _WORDS.get(error.errno or 0) or error.strerror or str(error) or "for an unknown reason"


class Disk:
    """System calls under the names they have there. Every one raises OSError when it fails."""

    def open(self, path: Path, flags: int) -> int:
        """A descriptor of the file at ``path`` itself, not of what a link there points to."""
        return os.open(path, flags | _GUARDED, 0o666)

    def close(self, fd: int) -> None:
        os.close(fd)

    def read(self, fd: int, most: int, offset: int) -> bytes:
        """Up to ``most`` bytes from ``offset``; fewer only at the end of the file."""
        parts: list[bytes] = []
        while most > 0 and (part := os.pread(fd, most, offset)):
            parts.append(part)
            offset, most = offset + len(part), most - len(part)
        return b"".join(parts)

    def write(self, fd: int, data: bytes) -> int:
        """One write; gives how many bytes were taken, which may be fewer than all."""
        return os.write(fd, data)

    def fsync(self, fd: int) -> None:
        """Return once the file is on the medium. Plain fsync stops at the drive's own memory on macOS."""
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

    def fsync_dir(self, path: Path) -> None:
        """Make the names in folder ``path`` last. Some network disks cannot; they answer EINVAL."""
        fd = os.open(path, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
        try:
            os.fsync(fd)
        except OSError as refused:
            if refused.errno != errno.EINVAL:
                raise
        finally:
            os.close(fd)

    def link(self, source: Path, target: Path) -> None:
        """Give ``source`` the second name ``target``; FileExistsError when that name is taken."""
        os.link(source, target)

    def rename(self, source: Path, target: Path) -> None:
        source.rename(target)

    def unlink(self, path: Path) -> None:
        path.unlink()

    def truncate(self, fd: int, size: int) -> None:
        os.ftruncate(fd, size)

    def lock(self, fd: int) -> None:
        """The kernel's lock on an open file; BlockingIOError when another has it."""
        fcntl.flock(fd, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def mkdir(self, path: Path) -> None:
        path.mkdir()

    def stat(self, path: Path) -> os.stat_result:
        """What stands under the name now, a link not followed."""
        return path.lstat()

    def fstat(self, fd: int) -> os.stat_result:
        return os.fstat(fd)

    def forget(self, fd: int) -> None:
        """Let go of the system's copy in memory where that can be asked for, so that the next read is of the medium.

        After a failed fsync Linux takes the pages for clean, though they may never have been written.
        """
        if hasattr(os, "posix_fadvise"):
            os.posix_fadvise(fd, 0, 0, os.POSIX_FADV_DONTNEED)

    def now(self) -> datetime:
        """The time of day with its offset, for names and for the lock's information; it decides nothing."""
        return datetime.now().astimezone()


#: The machine's own disk.
REAL: Final = Disk()
