"""Bringing a file into being whole or not at all, without ever overwriting another."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from session.machine.disk import Disk
from session.machine.system_calls import NO_LINKS


def free_names(folder: Path, started: datetime, header: bytes) -> Iterator[Path]:
    """Names for a log begun at ``started``, best first.

    Two benches may begin at the same second and be copied into one till, so a few signs of the header, the
    exact time and the machine are part of the name. The same walk on the same machine gets the same name.
    """
    # Slow to load, and whoever only reads makes no log.
    import hashlib
    import platform

    mixed = hashlib.sha256(header + started.isoformat().encode() + platform.node().encode("utf-8", "replace"))
    name = f"{started:%Y-%m-%dT%H-%M-%S}-{mixed.hexdigest()[:6]}"
    yield folder / f"{name}.toml"
    for number in range(2, 1000):
        yield folder / f"{name}-{number}.toml"


def make_folder(folder: Path, disk: Disk) -> None:
    """Make ``folder`` and those above it that are missing, so that they last. Raises OSError."""
    missing = [folder, *folder.parents]
    missing = missing[: next((at for at, path in enumerate(missing) if path.is_dir()), len(missing))]
    for path in reversed(missing):
        with suppress(FileExistsError):
            disk.mkdir(path)
        disk.fsync_dir(path.parent)
    if not folder.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, "not a folder")


def place_file(path: Path, data: bytes, disk: Disk) -> bool:
    """Make the file ``path`` holding ``data``, on the medium when this returns True.

    Gives False, and changes nothing, when the name is taken. Raises OSError when the disk will not take it;
    then no file of that name was made. The caller holds the lock of the log that ``path`` is or belongs to.
    """
    name = path.with_name(f".{path.name}.new")
    placed = made = False
    try:
        try:
            fd = disk.open(name, os.O_WRONLY | os.O_CREAT | os.O_EXCL)
        except FileExistsError:
            # Left by a program that was killed here: under the lock nobody else is making it.
            disk.unlink(name)
            fd = disk.open(name, os.O_WRONLY | os.O_CREAT | os.O_EXCL)
        made = True
        fill_file(fd, data, disk)
        try:
            placed = _named(name, path, disk)
            if placed:
                disk.fsync_dir(path.parent)
        except BaseException:
            if placed:
                with suppress(OSError):
                    disk.unlink(path)
            raise
    finally:
        if made:
            with suppress(OSError):
                disk.unlink(name)
    return placed


def fill_file(fd: int, data: bytes, disk: Disk) -> None:
    """Write ``data`` into the open file, on the medium when this returns, and close it. Raises OSError."""
    try:
        if disk.write(fd, data) != len(data):
            raise OSError(errno.ENOSPC, "")
        disk.fsync(fd)
    finally:
        disk.close(fd)


def move_file(source: Path, target: Path, disk: Disk) -> bool:
    """Give the file ``source`` the name ``target``, in a folder that is there, and no other. Raises OSError.

    Gives False, and changes nothing, when that name is taken by another file. Stopped half way the file has both
    names, never none; moving it once more ends that. The caller sees to it that nobody else moves it meanwhile.
    """
    if not _named(source, target, disk):
        return False
    disk.fsync_dir(target.parent)
    with suppress(FileNotFoundError):
        disk.unlink(source)
    disk.fsync_dir(source.parent)
    return True


def _named(name: Path, path: Path, disk: Disk) -> bool:
    """Give the file its final name unless that is taken: a plain rename would overwrite."""
    try:
        disk.link(name, path)
    except FileExistsError:
        # Asked twice by a network disk that lost the first answer, it is our own file that is in the way.
        return _same(name, path)
    except OSError as refused:
        if refused.errno not in NO_LINKS:
            if _same(name, path):
                with suppress(OSError):
                    disk.unlink(path)
            raise
        # A disk without second names, such as a memory stick. Nothing of ours makes this name meanwhile:
        # whoever places a log or a torn end beside it holds the log's lock.
        if os.path.lexists(path):
            return False
        disk.rename(name, path)
    return True


def _same(name: Path, path: Path) -> bool:
    try:
        return os.path.samestat(name.lstat(), path.lstat())
    except OSError:
        return False
