"""Lines that scans measured: one small file each, ``<till>/lines/<saw>/<time>.toml``, never rewritten."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

import tomli_w

from session.files.scanned_file import FORMAT, KeptScan, read_scan
from session.machine.disk import REAL, Disk, why
from session.machine.lock import LogLock
from session.machine.new_file import make_folder, move_file
from session.machine.refusal import DISK, Refusal
from session.machine.untrusted_text import shown
from session.till.dated_files import dated_files, write_dated
from session.till.known_saws import KnownSaw
from session.till.till_folder import Till
from session.till.till_names import LINES
from session.value_class import dataclass
from session.version import VERSION

#: The folder beside a saw's lines with those that were laid aside: kept, and read by nothing.
ASIDE: Final = "laid-aside"


@dataclass(frozen=True, slots=True)
class ScanFile:
    """A file of the folder of lines: what was measured, or why there is nothing."""

    path: Path
    scan: KeptScan | None
    wrong: str = ""


def write_scan(till: Till, saw: KnownSaw, scan: KeptScan, *, disk: Disk = REAL) -> Path:
    """Write ``scan`` into a new file of ``till`` and give its path; no file is ever overwritten.

    Raises Refusal when the disk will not take it; then no file was made.
    """
    head = {"format": FORMAT, "program": f"toothline {VERSION}", **scan.to_dict()}
    return write_dated(till.path / LINES / saw.slug, scan.at, tomli_w.dumps(head).encode("utf-8"), "the line", disk)


def scans(till: Till, saw: KnownSaw) -> Iterator[ScanFile]:
    """The lines measured of a saw, under its former names too, by file name. One that cannot be read says why."""
    for slug in saw.slugs:
        for path, wrong in dated_files(till.path / LINES, slug):
            if wrong:
                yield ScanFile(path, None, wrong)
                continue
            try:
                yield ScanFile(path, read_scan(path))
            except Refusal as refused:
                yield ScanFile(path, None, refused.lines[0])


def newest_file(till: Till, saw: KnownSaw) -> ScanFile | None:
    """The file of the line of a saw that was measured last, of those that can be read. Never raises."""
    found = [file for file in scans(till, saw) if file.scan is not None]
    return max(found, key=lambda file: file.scan.at.timestamp() if file.scan else 0.0, default=None)


def lay_aside(file: ScanFile, *, disk: Disk = REAL) -> Path:
    """Move the file into the folder of those laid aside; its new path. Nothing is overwritten. Raises Refusal."""
    target = file.path.parent / ASIDE / file.path.name
    try:
        make_folder(target.parent, disk)
        lock = LogLock.take(target, disk)
        try:
            if move_file(file.path, target, disk):
                return target
        finally:
            lock.release()
    except OSError as problem:
        raise Refusal(f"{shown(file.path)}: it was not laid aside: {why(problem)}", DISK) from None
    raise Refusal(f"{shown(target)}: another file has that name; give one of the two another one")


def measured(till: Till, saw: KnownSaw) -> list[KeptScan]:
    """The lines measured of a saw that can be read, the oldest first. Never raises."""
    found = [file.scan for file in scans(till, saw) if file.scan is not None]
    return sorted(found, key=lambda scan: scan.at)


def newest_scan(till: Till, saw: KnownSaw) -> KeptScan | None:
    """The line of a saw that was measured last; only as many files are read as it takes. Never raises."""
    return _newest(_files(till, saw))


def unread(till: Till, saw: KnownSaw) -> tuple[str, ...]:
    """What is wrong with the files of lines that were passed over for the newest one: a sentence each. Never raises."""
    told: list[str] = []
    _newest(_files(till, saw), told)
    return tuple(told)


class NewestScan:
    """Gives the same again and again, and reads files only where there are others than before. Never raises."""

    def __init__(self, till: Till, saw: KnownSaw) -> None:
        self._till: Final = till
        self._saw: Final = saw
        self._files: tuple[Path, ...] = ()
        self._found: KeptScan | None = None

    def __call__(self) -> KeptScan | None:
        """The line measured last, by what lies in the till now."""
        files = _files(self._till, self._saw)
        if files != self._files:
            self._files, self._found = files, _newest(files)
        return self._found


def _files(till: Till, saw: KnownSaw) -> tuple[Path, ...]:
    return tuple(path for slug in saw.slugs for path, wrong in dated_files(till.path / LINES, slug) if not wrong)


def _newest(files: Sequence[Path], wrong: list[str] | None = None) -> KeptScan | None:
    # A name begins with the time in its own zone: the last few are looked at by what they say.
    read = []
    for path in sorted(files, key=lambda path: path.name, reverse=True):
        try:
            read.append(read_scan(path))
        except Refusal as refused:
            if wrong is not None:
                wrong.append(refused.lines[0])
        if len(read) == 3:
            break
    return max(read, key=lambda scan: scan.at, default=None)
