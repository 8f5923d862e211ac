"""A till of two saws and its backup, both made by the program, as fixtures; and what a till holds, file by file."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from session.till.backup_writer import write_backup
from session.till.till_folder import Till

NOW = datetime(2026, 4, 1, 18, 0, tzinfo=UTC)

#: A log that stands in the backup with four marks.
LOG = "logs/netloft-panel-saw/2026-03-07T09-00-00-aaaaaa.toml"

#: The bytes of a log with so many marks.
Bytes = Callable[[int], bytes]

#: Files of a till by their paths in it.
Contents = dict[str, bytes]


def fill(folder: Path, contents: Contents) -> Till:
    """Write files into a folder, as a till."""
    for path, data in contents.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data)
    return Till(folder)


def contents(folder: Path) -> Contents:
    """All files of a till, the hidden ones too."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def sha256(data: bytes) -> str:
    """The checksum that a backup's list has of a file, without the program's own function for it."""
    return hashlib.sha256(data).hexdigest()


@pytest.fixture
def saws(log_bytes: Bytes) -> Contents:
    """A till of two saws with all kinds of files that a backup takes."""
    return {
        "netloft-panel-saw.toml": b'[saw]\nname = "Netloft panel saw"\n',
        "settings.toml": b'guidance = "brief"\n',
        LOG: log_bytes(4),
        "cuts/netloft-panel-saw/2026-03-07T18-00-00-bbbbbb.toml": b"[cut]\n",
        f"{LOG}.torn-2026-03-07T09-10-00": b"\n[[mark]]\nse",
        "logs/boat-shed-rip/2026-03-08T09-00-00-cccccc.toml": log_bytes(2),
    }


@pytest.fixture
def backup(saws: Contents, tmp_path: Path) -> Path:
    """The backup of that till, which lies in ``old``."""
    write_backup(fill(tmp_path / "old", saws), tmp_path / "till.zip", NOW)
    return tmp_path / "till.zip"
