"""Where a record lies, asked of its path alone: what reads a whole till is not loaded for it."""

from __future__ import annotations

import os
from pathlib import Path

from session.till.till_names import LINES, LOGS


def folder_of_till(record: Path) -> Path | None:
    """The folder of the till that a record lies in, where links lead; None where it lies in none."""
    above = Path(os.path.realpath(record)).parent.parent
    return above.parent if above.name == LOGS else None


def lines_beside(record: Path) -> bool:
    """Whether a line of any saw was ever kept in the till that a record lies in. Never raises."""
    till = folder_of_till(record)
    return till is not None and is_folder(till / LINES) is True


def is_folder(path: Path) -> bool | None:
    """Whether ``path`` is a folder; None when that cannot be told, and whoever looks into it hears why."""
    try:
        return path.is_dir()
    except OSError:
        return None
