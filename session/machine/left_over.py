"""What a program that was killed leaves in a folder: files that never got their name, and locks that nobody holds."""

from __future__ import annotations

import re
import stat
import tomllib
from contextlib import suppress
from pathlib import Path
from typing import Final

from session.machine.disk import Disk
from session.machine.lock import LogLock
from session.machine.refusal import Refusal

#: A file on its way to its name, which may be that of a torn end or of a copy; the lock is that of what stands before.
_HALF_MADE: Final = re.compile(r"\.(?P<of>.+?\.toml|.+?(?=\.before-))(?:\.(?:torn|before)-[0-9T-]+)?\.new")
_LOCK: Final = re.compile(r"(?P<of>.+\.toml)\.lock")

#: How a lock's text begins, where it has any.
_OUR_WORDS: Final = b"pid = "
_LONGEST: Final = 2_000


def left_over(folder: Path) -> list[str]:
    """The names in ``folder`` that may have been left so, half-made files first, those still in use among them."""
    try:
        names = sorted(path.name for path in folder.iterdir())
    except OSError:
        return []
    return [name for name in names if _HALF_MADE.fullmatch(name) or _LOCK.fullmatch(name)]


def clear_left_over(folder: Path, disk: Disk) -> None:
    """Remove from ``folder`` what a program left there that was killed. Never raises: it is in nobody's way.

    Each goes under its lock alone, so that what another program is just making stays. The caller sees to it that no
    backup is brought in meanwhile, whose files have no locks of their own.
    """
    for name in left_over(folder):
        half_made = _HALF_MADE.fullmatch(name)
        found = half_made or _LOCK.fullmatch(name)
        with suppress(OSError, Refusal):
            if found is None or not _ours(folder / name, disk, lock=half_made is None):
                continue
            with LogLock.take(folder / found["of"], disk):
                if half_made is not None:
                    disk.unlink(folder / name)


def clear_beside_locks(folder: Path, disk: Disk) -> None:
    """Remove half-made files from ``folder``, which is anybody's, where the lock beside them is one that we wrote.

    Never raises. The lock goes with its file; each only where nobody holds it.
    """
    try:
        names = sorted(path.name for path in folder.iterdir() if path.name.endswith(".lock"))
    except OSError:
        return
    for name in names:
        of = name.removesuffix(".lock")
        half_made = folder / f".{of}.new"
        with suppress(OSError, Refusal, ValueError):
            if not stat.S_ISREG(disk.stat(half_made).st_mode) or not _ours(folder / name, disk, lock=True):
                continue
            with (folder / name).open("rb") as file:
                if set(tomllib.loads(file.read(_LONGEST).decode("utf-8"))) != {"pid", "host", "since"}:
                    continue
            with LogLock.take(folder / of, disk):
                disk.unlink(half_made)


def _ours(path: Path, disk: Disk, *, lock: bool) -> bool:
    """Whether ``path`` is a plain file; of a lock, whether it has the words that we write, or none yet."""
    found = disk.stat(path)
    if not stat.S_ISREG(found.st_mode):
        return False
    if not lock:
        return True
    with path.open("rb") as file:
        words = file.read(len(_OUR_WORDS))
    # Another name for someone's file stays as it is.
    return found.st_nlink == 1 and _OUR_WORDS.startswith(words)
