"""Writing a backup: every file of a till as it is now, into one archive that is read again before it counts."""

from __future__ import annotations

import io
import os
import stat
import zipfile
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Final

import tomli_w

from session.log.log_bytes import read_log_bytes
from session.machine.clean_text import clean
from session.machine.disk import REAL, Disk, why
from session.machine.left_over import clear_beside_locks
from session.machine.lock import LogLock, is_held
from session.machine.new_file import place_file
from session.machine.refusal import DISK, Refusal
from session.machine.system_calls import open_to_read
from session.machine.untrusted_text import shown
from session.till.backup_archive import (
    FOLDER,
    FORMAT,
    LIST,
    MOST_FILES,
    MOST_OF_ALL,
    MOST_OF_ONE,
    Listed,
    digest,
    opened,
    wrong_path,
)
from session.till.backup_names import PathsTaken
from session.till.till_folder import Till
from session.value_class import dataclass
from session.version import VERSION

#: ZIP knows no time before this; a file's own time means nothing here.
_NO_TIME: Final = (1980, 1, 1, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class Written:
    """A backup that was made: its files, and what was left out or cut, one sentence each."""

    files: tuple[Listed, ...]
    told: tuple[str, ...]


def write_backup(till: Till, to: Path, now: datetime, *, disk: Disk = REAL) -> Written:
    """Write all of ``till`` into the archive ``to``, and read it again. No file is ever overwritten.

    A log that a bench has open is taken up to its last whole mark. Raises Refusal when there is nothing to back up,
    when the name is taken or in the till, and when the disk will not take it.
    """
    if till.path.resolve() in (to.parent.resolve(), *to.parent.resolve().parents):
        raise Refusal(f"{shown(to)}: in the till itself, and would be lost with it; allowed: a file elsewhere")
    told: list[str] = []
    files: list[Listed] = []
    packed, total = io.BytesIO(), 0
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for path, data in _contents(till.path, told, disk):
            total += len(data)
            if total > MOST_OF_ALL or len(files) == MOST_FILES:
                raise Refusal(
                    f"{shown(till.path)}: too much for one backup; allowed: {MOST_FILES:,} files, 1 GB in all"
                )
            files.append(Listed(path, len(data), digest(data)))
            archive.writestr(zipfile.ZipInfo(FOLDER + path, _NO_TIME), data, zipfile.ZIP_DEFLATED)
        if not files:
            raise Refusal(f"{shown(till.path)}: nothing is in this till to back up")
        archive.writestr(zipfile.ZipInfo(LIST, _NO_TIME), _list_of(files, now), zipfile.ZIP_DEFLATED)
    try:
        # What one that was killed left half made of another name may be as large as this.
        clear_beside_locks(to.parent, disk)
        with LogLock.take(to, disk):
            if not place_file(to, packed.getvalue(), disk):
                raise Refusal(f"{shown(to)}: is already there; allowed: a name that is free")
    except OSError as problem:
        raise Refusal(f"{shown(to)}: the backup was not written: {why(problem)}", DISK) from None
    with opened(to) as backup:
        return Written(backup.files, tuple(told))


def _list_of(files: list[Listed], now: datetime) -> bytes:
    head = {"format": FORMAT, "program": f"toothline {VERSION}", "made": now}
    entries = [{"path": file.path, "bytes": file.size, "sha256": file.sha256} for file in files]
    return tomli_w.dumps({**head, "file": entries}).encode("utf-8")


def _contents(till: Path, told: list[str], disk: Disk) -> Iterator[tuple[str, bytes]]:
    """Path and bytes of each file of the till; what is left out is told. Hidden names and locks are not of the till."""

    def closed(problem: OSError) -> None:
        told.append(f"{shown(Path(problem.filename or till))}: left out: {why(problem)}")

    taken = PathsTaken()
    for folder, folders, names in os.walk(till, onerror=closed):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        links = [path for path in (Path(folder, name) for name in folders) if path.is_symlink()]
        told += [f"{shown(path)}: left out: a link to a folder" for path in links]
        for name in sorted(names):
            path = Path(folder, name)
            if name.startswith(".") or name.endswith(".lock"):
                continue
            inside = path.relative_to(till).as_posix()
            if complaint := wrong_path(inside):
                told.append(f"{shown(path)}: left out: {complaint}")
                continue
            try:
                data = _read(path)
            except OSError as problem:
                told.append(f"{shown(path)}: left out: {why(problem)}")
                continue
            if isinstance(data, str):
                told.append(f"{shown(path)}: left out: {data}")
            elif complaint := taken.wrong(inside):
                told.append(f"{shown(path)}: left out: {complaint}")
            else:
                yield inside, _whole(path, data, told, disk)


def _read(path: Path) -> bytes | str:
    """The bytes of a file, or why it is none to take."""
    if path.is_symlink():
        return "a link"
    fd = open_to_read(path)
    if not stat.S_ISREG(os.fstat(fd).st_mode):
        os.close(fd)
        return "not a regular file"
    with os.fdopen(fd, "rb") as file:
        data = file.read(MOST_OF_ONE + 1) or b""
    return data if len(data) <= MOST_OF_ONE else f"more than {MOST_OF_ONE:,} bytes"


def _whole(path: Path, data: bytes, told: list[str], disk: Disk) -> bytes:
    """``data``, of a log that is open at a bench up to its last whole mark: the next one may just be being written."""
    if not is_held(path, disk):
        return data
    log = read_log_bytes(data)
    if log.odd is not None:
        return data
    told.append(f"{shown(path)}: open at a bench; taken up to mark {len(log.marks)}")
    return data[: log.end]


def contents(files: tuple[Listed, ...]) -> str:
    """How much a backup holds, in words."""
    logs = sum(file.path.startswith("logs/") and file.path.endswith(".toml") for file in files)
    size = sum(file.size for file in files)
    return clean(f"{len(files):,} files, {logs:,} of them logs, {size:,} bytes")
