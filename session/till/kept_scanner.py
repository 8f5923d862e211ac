"""The scale of the till's scanner, kept in ``<till>/scanner.toml``."""

from __future__ import annotations

from pathlib import Path

import tomli_w

from session.files.scanner_file import ScannerScale, read_scanner
from session.machine.disk import REAL, Disk, why
from session.machine.lock import LogLock
from session.machine.refusal import DISK, Refusal
from session.machine.replaced_file import replace_file
from session.machine.untrusted_text import shown
from session.till.till_folder import Till
from session.till.till_names import SCANNER
from session.version import VERSION


def kept_scale(till: Till) -> ScannerScale:
    """The scale as it was measured last; one that says nothing before it was. Raises Refusal with each error."""
    return read_scanner(till.path / SCANNER)


def write_scanner(till: Till, scale: ScannerScale, disk: Disk = REAL) -> Path:
    """Put ``scale`` in the file's place, whole. Raises Refusal when the disk will not take it."""
    path = till.path / SCANNER
    till.make(disk)
    data = tomli_w.dumps({"format": 1, "program": f"toothline {VERSION}", **scale.to_dict()}).encode("utf-8")
    try:
        with LogLock.take(path, disk):
            replace_file(path, data, disk)
    except OSError as problem:
        raise Refusal(f"{shown(path)}: the scale was not kept: {why(problem)}", DISK) from None
    return path
