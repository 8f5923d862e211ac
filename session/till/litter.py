"""A till cleared of what a killed program left: half-made files, locks without a holder, a backup never decided on."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

from session.machine.disk import REAL, Disk
from session.machine.left_over import clear_left_over, left_over
from session.machine.refusal import Refusal
from session.till.till_names import CUTS, DRAFTS, IMPORTING, LINES, LOGS, RETIRED

#: What is laid ready of a backup, and what stands half made beside it.
_LAID_READY: Final = re.compile(r"\d+|\.\d+\.new|\.moves\.toml\.new")


def clear_litter(till: Path, disk: Disk = REAL) -> None:
    """Clear ``till``, and only of what is this program's own and held by no other. Never raises."""
    ready = till / IMPORTING
    with suppress(OSError, ValueError, Refusal):
        folders = [folder for folder in _folders(till) if left_over(folder)]
        if not folders and not ready.is_dir() and not ready.with_name(f"{IMPORTING}.lock").exists():
            return
        # A till that is in order does not wait for what knows of backups.
        from session.till.backup_moves import clear, importing

        # A backup that is being brought in makes files everywhere.
        with importing(till, disk):
            if ready.is_dir() and all(_LAID_READY.fullmatch(path.name) for path in ready.iterdir()):
                clear(till, disk)
            for folder in folders:
                clear_left_over(folder, disk)


def _folders(till: Path) -> Iterator[Path]:
    """Where a program writes."""
    yield from (till, till / DRAFTS, till / RETIRED)
    for above in (till / kind for kind in (LOGS, CUTS, LINES)):
        with suppress(OSError):
            yield from sorted(path for path in above.iterdir() if path.is_dir())
