"""Trial cuts made between sharpenings: one small file each, ``<till>/cuts/<saw>/<time>.toml``, never rewritten."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import tomli_w

from session.files.cut_file import FORMAT, RecordedCut, read_cut
from session.machine.disk import REAL, Disk
from session.machine.refusal import Refusal
from session.till.dated_files import dated_files, write_dated
from session.till.known_saws import KnownSaw
from session.till.till_folder import Till
from session.till.till_names import CUTS
from session.value_class import dataclass
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
    return write_dated(till.path / CUTS / saw.slug, cut.at, data, "the cut", disk)


def cuts(till: Till, slug: str) -> Iterator[KeptCut]:
    """The cuts of the saw with this slug, by file name. One that cannot be read says why; never raises."""
    for path, wrong in dated_files(till.path / CUTS, slug):
        if wrong:
            yield KeptCut(path, None, wrong)
            continue
        try:
            yield KeptCut(path, read_cut(path))
        except Refusal as refused:
            yield KeptCut(path, None, refused.lines[0])
