"""Trial cuts made between sharpenings: one small file each, ``<till>/cuts/<saw>/<time>.toml``, never rewritten."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import tomli_w

from session.files.cut_file import FORMAT, RecordedCut, read_cut
from session.machine.disk import REAL, Disk, why
from session.machine.lock import LockHeld, LogLock
from session.machine.new_file import free_names, make_folder, place_file
from session.machine.refusal import DISK, Refusal
from session.machine.untrusted_text import shown
from session.till.copy_names import first_folder
from session.till.known_saws import KnownSaw
from session.till.till_folder import Till
from session.version import VERSION


@dataclass(frozen=True, slots=True)
class KeptCut:
    """A file of the folder of cuts: the cut in it, or why there is none."""

    path: Path
    cut: RecordedCut | None
    wrong: str = ""


def write_cut(till: Till, saw: KnownSaw, cut: RecordedCut, *, disk: Disk = REAL) -> Path:
    """Write ``cut`` into a new file of ``till`` and give its path; no file is ever overwritten.

    Raises Refusal when the disk will not take it; then no file was made.
    """
    head = {"format": FORMAT, "program": f"toothline {VERSION}", "cut": cut.to_dict()}
    data = tomli_w.dumps(head).encode("utf-8")
    folder = till.path / "cuts" / saw.slug
    try:
        make_folder(folder, disk)
        for path in free_names(folder, cut.at, data):
            try:
                # Two programs that record at once must not make the same temporary file.
                lock = LogLock.take(path, disk)
            except LockHeld:
                continue
            try:
                if place_file(path, data, disk):
                    return path
            finally:
                lock.release()
    except OSError as problem:
        raise Refusal(f"{shown(folder)}: the cut was not written: {why(problem)}", DISK) from None
    raise Refusal(f"{shown(folder)}: the cut was not written: every name is taken", DISK)


def cuts(till: Till, slug: str) -> Iterator[KeptCut]:
    """The cuts of the saw with this slug, by file name. One that cannot be read says why; never raises.

    A second version of the saw's folder, left by a file sync, is looked into as well.
    """
    try:
        names = [entry.name for entry in (till.path / "cuts").iterdir()]
    except OSError:
        names = [slug]
    for name in sorted({slug, *(name for name in names if first_folder(name, names) == slug)}):
        yield from _in(till.path / "cuts" / name)


def _in(folder: Path) -> Iterator[KeptCut]:
    try:
        names = sorted(entry for entry in folder.iterdir() if entry.suffix == ".toml" and entry.name[:1] != ".")
    except (FileNotFoundError, NotADirectoryError):
        return
    except OSError as problem:
        yield KeptCut(folder, None, f"{shown(folder)}: cannot be read: {why(problem)}")
        return
    for path in names:
        try:
            yield KeptCut(path, read_cut(path))
        except Refusal as wrong:
            yield KeptCut(path, None, wrong.lines[0])
