"""Lines that scans measured: one small file each, ``<till>/lines/<saw>/<time>.toml``, never rewritten."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

import tomli_w

from session.files.scanned_file import FORMAT, KeptScan, read_scan
from session.machine.disk import REAL, Disk
from session.machine.refusal import Refusal
from session.till.dated_files import dated_files, write_dated
from session.till.known_saws import KnownSaw
from session.till.moved_file import moved_into
from session.till.till_folder import Till
from session.till.till_names import LINES
from session.value_class import dataclass
from session.version import VERSION

#: The folder beside a saw's lines with those that were laid aside: kept, and read by nothing.
ASIDE: Final = "laid-aside"


#: The last few files are looked at by what they say, as a name begins with the time in its own zone.
_LOOKED_AT: Final = 3


@dataclass(frozen=True, slots=True)
class ScanFile:
    """A file of the folder of lines, and what was measured."""

    path: Path
    scan: KeptScan


@dataclass(frozen=True, slots=True)
class NewestLine:
    """The line of a saw that was measured last. file: None where there is none that can be read. unread: what is wrong
    with those that were passed over for it, a sentence each. older: the few before it, the newest first."""

    file: ScanFile | None = None
    unread: tuple[str, ...] = ()
    older: tuple[KeptScan, ...] = ()

    @property
    def scan(self) -> KeptScan | None:
        """What was measured."""
        return None if self.file is None else self.file.scan


def write_scan(till: Till, saw: KnownSaw, scan: KeptScan, *, disk: Disk = REAL) -> Path:
    """Write ``scan`` into a new file of ``till`` and give its path; no file is ever overwritten.

    Raises Refusal when the disk will not take it; then no file was made.
    """
    head = {"format": FORMAT, "program": f"toothline {VERSION}", **scan.to_dict()}
    return write_dated(till.path / LINES / saw.slug, scan.at, tomli_w.dumps(head).encode("utf-8"), "the line", disk)


def lay_aside(file: ScanFile, *, disk: Disk = REAL) -> Path:
    """Move the file into the folder of those laid aside; its new path. Nothing is overwritten. Raises Refusal."""
    return moved_into(file.path.parent / ASIDE, file.path, "laid aside", disk)


def measured(till: Till, saw: KnownSaw) -> list[KeptScan]:
    """The lines measured of a saw that can be read, under its former names too, the oldest first. Never raises."""
    found: list[KeptScan] = []
    for path in _files(till, saw):
        with suppress(Refusal):
            found.append(read_scan(path))
    return sorted(found, key=lambda scan: scan.at)


def newest_line(till: Till, saw: KnownSaw) -> NewestLine:
    """The line of a saw that was measured last; only as many files are read as it takes. Never raises."""
    return _newest(_files(till, saw))


def newest_scan(till: Till, saw: KnownSaw) -> KeptScan | None:
    """What was measured then; None where there is no such line. Never raises."""
    return newest_line(till, saw).scan


class NewestScan:
    """Gives the same again and again, and reads files only where there are others than before. Never raises."""

    def __init__(self, till: Till, saw: KnownSaw) -> None:
        self._till: Final = till
        self._saw: Final = saw
        self._files: tuple[Path, ...] = ()
        self._found = NewestLine()

    def __call__(self) -> NewestLine:
        """The line measured last, by what lies in the till now."""
        files = _files(self._till, self._saw)
        if files != self._files:
            self._files, self._found = files, _newest(files)
        return self._found


def _files(till: Till, saw: KnownSaw) -> tuple[Path, ...]:
    return tuple(path for slug in saw.slugs for path, wrong in dated_files(till.path / LINES, slug) if not wrong)


def _newest(files: Sequence[Path]) -> NewestLine:
    read: list[ScanFile] = []
    unread: list[str] = []
    for path in sorted(files, key=lambda path: path.name, reverse=True):
        try:
            read.append(ScanFile(path, read_scan(path)))
        except Refusal as refused:
            unread.append(refused.lines[0])
        if len(read) == _LOOKED_AT:
            break
    read.sort(key=lambda file: file.scan.at, reverse=True)
    older = tuple(file.scan for file in read[1:])
    return NewestLine(read[0] if read else None, tuple(unread), older)
