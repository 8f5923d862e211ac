"""A backup: one ZIP archive of a till with a list of its files and their checksums, believed only as a whole.

ZIP, because any system opens one by a double click, each file in it has a checksum of its own, and its directory stands
at its end, so that one cut short is known as such. What it must hold is told in FORMATS.md.
"""

from __future__ import annotations

import hashlib
import os
import re
import stat
import struct
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any, BinaryIO, Final

from session.log.log_bytes import MOST_BYTES as MOST_OF_A_LOG
from session.machine.clean_text import clean
from session.machine.disk import why
from session.machine.refusal import Refusal
from session.machine.system_calls import can_be_named, open_to_read
from session.machine.untrusted_text import ReadingError, parse, shown
from session.till.backup_names import LONGEST_NAME, PathsTaken, caseless
from session.till.till_names import FOLDERS
from session.value_class import dataclass

#: The number of the format. What a later version writes is refused, as nobody knows what it means.
FORMAT: Final = 1

#: The list, and the folder of the archive that holds the till.
LIST: Final = "backup.toml"
FOLDER: Final = "till/"

#: What a backup may hold: files, bytes of one, bytes of all, bytes of the list, folders inside one another.
MOST_FILES: Final = 100_000
MOST_OF_ONE: Final = max(20_000_000, MOST_OF_A_LOG)
MOST_OF_ALL: Final = 1_000_000_000
MOST_OF_LIST: Final = 30_000_000
#: Of a list that a person wrote otherwise; more only as the names in the archive make it.
ENOUGH_FOR_A_LIST: Final = 500_000
DEEPEST: Final = 8

#: Of many errors so many are told.
MOST_TOLD: Final = 20

_SHA: Final = re.compile(r"[0-9a-f]{64}")
_ENCRYPTED: Final = 0x1
_KINDS: Final = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)


@dataclass(frozen=True, slots=True)
class Listed:
    """One file of a backup: its path in the till with ``/`` between folders, its bytes and their SHA-256."""

    path: str
    size: int
    sha256: str


class Backup:
    """An archive that was read to its end and found whole. ``files`` are sorted by path."""

    def __init__(self, path: Path, archive: zipfile.ZipFile, files: tuple[Listed, ...], made: datetime | None) -> None:
        self.path: Final = path
        self.files: Final = files
        self.made: Final = made
        self._archive: Final = archive

    def data(self, file: Listed) -> bytes:
        """The bytes of one file. Raises Refusal should they have changed since they were checked."""
        data, wrong = _read(self._archive, FOLDER + file.path, file.size)
        if wrong or digest(data) != file.sha256:
            raise Refusal(f"{shown(self.path)}: {clean(file.path)}: changed while it was being read; nothing was taken")
        return data


def digest(data: bytes) -> str:
    """The SHA-256 of ``data`` in hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def wrong_path(path: str) -> str | None:
    """Why ``path`` may not be the path of a file of a till, in words; None when it may."""
    parts = path.split("/")
    if not path or "\\" in path or "\0" in path or any(part in ("", ".", "..") for part in parts):
        return "it leads out of the till; allowed: names with / between them"
    if any(part.startswith(".") for part in parts):
        return "a hidden name; allowed: names that begin with no dot"
    if len(parts) == 1 and caseless(path) in FOLDERS:
        return "a file of the name that a folder of the till has; allowed: any other"
    if parts[-1].endswith(".lock"):
        return "a lock, which is of the bench that holds it; allowed: what ends otherwise"
    if len(parts) > DEEPEST or any(len(part.encode("utf-8", "replace")) > LONGEST_NAME for part in parts):
        return f"too long or too deep; allowed: {DEEPEST} names of at most {LONGEST_NAME} bytes"
    if not path.isprintable() or not all(map(can_be_named, parts)):
        return "this system has no files of that name"
    return None


@contextmanager
def opened(path: Path) -> Iterator[Backup]:
    """The backup at ``path``, every byte of it checked. Raises Refusal with all that is wrong, each with its place."""
    with _regular(path) as file:
        try:
            archive = zipfile.ZipFile(file)
        except _FAULTS as problem:
            if isinstance(problem, OSError):
                raise Refusal(f"{shown(path)}: cannot be read: {why(problem)}") from None
            raise Refusal(
                f"{shown(path)}: no whole ZIP archive: cut short, damaged or something else; allowed: a file that "
                "toothline till --export made"
            ) from None
        with archive:
            yield _checked(path, archive)


#: What the standard reader raises over an archive that is none, or that it has no means for.
_FAULTS: Final = (
    zipfile.BadZipFile,
    zipfile.LargeZipFile,
    zlib.error,
    struct.error,
    EOFError,
    OSError,
    ValueError,
    RuntimeError,
    IndexError,
)


@contextmanager
def _regular(path: Path) -> Iterator[BinaryIO]:
    try:
        fd = open_to_read(path)
    except FileNotFoundError:
        raise Refusal(f"{shown(path)}: no such file") from None
    except IsADirectoryError:
        raise Refusal(f"{shown(path)}: a folder; a backup is a file") from None
    except (OSError, ValueError) as problem:
        words = why(problem) if isinstance(problem, OSError) else "not a file name"
        raise Refusal(f"{shown(path)}: cannot be read: {words}") from None
    mode = os.fstat(fd).st_mode
    if not stat.S_ISREG(mode):
        os.close(fd)
        raise Refusal(
            f"{shown(path)}: {'a folder' if stat.S_ISDIR(mode) else 'not a regular file'}; a backup is a file"
        )
    with os.fdopen(fd, "rb") as file:
        yield file


def _checked(path: Path, archive: zipfile.ZipFile) -> Backup:
    members = archive.infolist()
    wrong: list[str] = []
    if len(members) > MOST_FILES + 1:
        raise Refusal(f"{shown(path)}: {len(members):,} files; allowed: at most {MOST_FILES:,}")
    names: set[str] = set()
    taken = PathsTaken()
    for member in members:
        # Its own is_dir() fails over a name that is empty, or that a zero byte cut to nothing.
        if member.filename.endswith("/"):
            continue  # left by a desktop's packer
        complaint = _wrong_member(member, names)
        if complaint is None and member.filename != LIST:
            complaint = taken.wrong(member.filename.removeprefix(FOLDER))
        if complaint:
            wrong.append(f"{shown(path)}: {clean(member.filename)[:200]}: {complaint}")
        names.add(member.filename)
    _refuse(wrong)
    files, made = _listed(path, archive, names)
    for file in files:
        data, fault = _read(archive, FOLDER + file.path, file.size)
        if not fault and len(data) < file.size:
            fault = f"cut short, {len(data):,} of {file.size:,} bytes; allowed: as many as its list says"
        if fault or digest(data) != file.sha256:
            told = fault or "not the bytes that were backed up: their checksum is another"
            wrong.append(f"{shown(path)}: {clean(file.path)}: {told}")
    _refuse(wrong)
    return Backup(path, archive, files, made)


def _wrong_member(member: zipfile.ZipInfo, names: set[str]) -> str | None:
    name, kind = member.filename, stat.S_IFMT(member.external_attr >> 16)
    if not name:
        return "a member without a name; allowed: files with one"
    if name in names:
        return "stands there twice"
    if kind not in (0, stat.S_IFREG):
        return "a link or a device; allowed: files"
    if member.flag_bits & _ENCRYPTED:
        return "locked by a password; allowed: files without one"
    if member.compress_type not in _KINDS:
        return "packed in a way that is not read here; allowed: stored or deflated"
    if name == LIST:
        return None if member.file_size <= MOST_OF_LIST else f"{member.file_size:,} bytes; allowed: {MOST_OF_LIST:,}"
    if not name.startswith(FOLDER):
        return f"not of a till; allowed: {LIST} and what is under {FOLDER}"
    if member.file_size > MOST_OF_ONE:
        return f"{member.file_size:,} bytes; allowed: at most {MOST_OF_ONE:,}"
    return wrong_path(name.removeprefix(FOLDER))


def _listed(path: Path, archive: zipfile.ZipFile, names: set[str]) -> tuple[tuple[Listed, ...], datetime | None]:
    """What the list says is there, which has to be what is there."""
    where = f"{shown(path)}: {LIST}"
    if LIST not in names:
        raise Refusal(f"{where}: is missing; allowed: a file that toothline till --export made")
    # Before it is parsed, which for a long list of nothing takes most of a minute.
    most = min(
        MOST_OF_LIST, max(ENOUGH_FOR_A_LIST, sum(2 * len(name.encode("utf-8", "replace")) + 200 for name in names))
    )
    if (size := archive.getinfo(LIST).file_size) > most:
        raise Refusal(f"{where}: {size:,} bytes for {len(names) - 1:,} files; allowed: at most {most:,}")
    data, fault = _read(archive, LIST, most)
    if fault:
        raise Refusal(f"{where}: {fault}")
    try:
        values = parse(data.decode("utf-8"))
    except (ReadingError, UnicodeDecodeError) as problem:
        raise Refusal(problem.at(where) if isinstance(problem, ReadingError) else f"{where}: not UTF-8 text") from None
    number = values.get("format")
    if type(number) is not int or number != FORMAT:
        other = clean(str(number))[:40]
        raise Refusal(f"{where}: format {other}; allowed: {FORMAT}, so take the version of toothline that wrote it")
    entries = values.get("file", [])
    files = tuple(filter(None, map(_entry, entries))) if isinstance(entries, list) else ()
    if not isinstance(entries, list) or len(files) != len(entries):
        raise Refusal(f"{where}: an entry that is none; allowed: [[file]] with path, bytes and sha256")
    if sum(file.size for file in files) > MOST_OF_ALL:
        raise Refusal(f"{where}: more than {MOST_OF_ALL:,} bytes in all; allowed: at most that")
    told = {FOLDER + file.path for file in files}
    wrong = [f"{shown(path)}: {clean(name)}: in the archive and not in its list" for name in names - told - {LIST}]
    wrong += [f"{shown(path)}: {clean(name)}: in the list and not in the archive" for name in told - names]
    if len(told) != len(files):
        wrong.append(f"{where}: a file stands there twice")
    _refuse(sorted(wrong))
    made = values.get("made")
    return tuple(sorted(files, key=lambda file: file.path)), made if isinstance(made, datetime) else None


def _entry(value: Any) -> Listed | None:
    match value:
        case {"path": str(path), "bytes": int(size), "sha256": str(sha)} if size is not True and size is not False:
            return Listed(path, size, sha) if 0 <= size <= MOST_OF_ONE and _SHA.fullmatch(sha) else None
    return None


def _read(archive: zipfile.ZipFile, name: str, most: int) -> tuple[bytes, str]:
    """The bytes of a member, never more than it may have, and what is wrong with it, if anything is."""
    try:
        with archive.open(name) as member:
            data = member.read(most + 1)
            # Only at its very end does the reader compare the member's own checksum.
            if len(data) > most or member.read(1):
                return b"", f"more than {most:,} bytes; allowed: as many as its list says"
    except _FAULTS as problem:
        return b"", f"cannot be read: {why(problem) if isinstance(problem, OSError) else 'damaged'}"
    return data, ""


def _refuse(wrong: list[str]) -> None:
    if wrong:
        more = [f"and {len(wrong) - MOST_TOLD:,} more"] if len(wrong) > MOST_TOLD else []
        raise Refusal([*wrong[:MOST_TOLD], *more])
