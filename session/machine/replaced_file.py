"""A small file written anew whole: the one before or the new one stands there, whenever the power goes."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from session.machine.disk import Disk
from session.machine.new_file import fill_file


def replace_file(path: Path, data: bytes, disk: Disk) -> None:
    """Make ``path`` hold ``data``, on the medium when this returns. Raises OSError; then the file is as it was.

    Two who write the same file at once must be kept apart by whoever calls.
    """
    name = path.with_name(f".{path.name}.new")
    fd = disk.open(name, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    try:
        fill_file(fd, data, disk)
        disk.rename(name, path)
    except BaseException:
        with suppress(OSError):
            disk.unlink(name)
        raise
    disk.fsync_dir(path.parent)
