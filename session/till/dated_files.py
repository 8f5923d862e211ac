"""Small files of a saw, ``<till>/<kind>/<saw>/<time>.toml``: each written once and whole, and never rewritten."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from session.machine.disk import REAL, Disk, why
from session.machine.lock import LockHeld, LogLock
from session.machine.new_file import free_names, make_folder, place_file
from session.machine.refusal import DISK, Refusal
from session.machine.untrusted_text import shown
from session.till.copy_names import first_folder


def write_dated(folder: Path, at: datetime, data: bytes, what: str, disk: Disk = REAL) -> Path:
    """Write ``data`` into a new file of ``folder``, named by ``at``, and give its path; none is ever overwritten.

    what: what it is, for the sentence when the disk will not take it, and no file was made: Refusal.
    """
    try:
        make_folder(folder, disk)
        for path in free_names(folder, at, data):
            try:
                # Two programs that record at once must not make the same temporary file.
                lock = LogLock.take(path, disk)
            except LockHeld:
                continue
            with lock:
                if place_file(path, data, disk):
                    return path
    except OSError as problem:
        raise Refusal(f"{shown(folder)}: {what} was not written: {why(problem)}", DISK) from None
    raise Refusal(f"{shown(folder)}: {what} was not written: every name is taken", DISK)


def dated_files(kind: Path, slug: str) -> Iterator[tuple[Path, str]]:
    """The files of the saw with this slug in the folder ``kind``, by name; with a folder that cannot be read, why.

    A second version of the saw's folder, left by a file sync, is looked into as well. Never raises.
    """
    try:
        names = [entry.name for entry in kind.iterdir()]
    except OSError:
        names = [slug]
    for name in sorted({slug, *(name for name in names if first_folder(name, names) == slug)}):
        folder = kind / name
        try:
            found = sorted(entry for entry in folder.iterdir() if entry.suffix == ".toml" and entry.name[:1] != ".")
        except (FileNotFoundError, NotADirectoryError):
            continue
        except OSError as problem:
            yield folder, f"{shown(folder)}: cannot be read: {why(problem)}"
            continue
        yield from ((path, "") for path in found)
