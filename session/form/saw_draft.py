"""The draft of a form: kept in the till with every answer, so that leaving, or losing the power, loses none.

<till>/drafts/new.toml           the saw that is being hung up
<till>/drafts/edit-<file>.toml   a saw whose recipe is being changed
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

import tomli_w

from session.form.form_answers import Answers
from session.machine.disk import REAL, Disk, why
from session.machine.lock import LockHeld, LogLock
from session.machine.new_file import make_folder
from session.machine.refusal import DISK, HELD, Refusal
from session.machine.replaced_file import replace_file
from session.machine.untrusted_text import ReadingError, parse, read_text, shown
from session.till.till_names import DRAFTS

FORMAT: Final = 1


class SawDraft:
    """One draft, held by one program at a time."""

    def __init__(self, path: Path, lock: LogLock, answers: Answers | None, disk: Disk) -> None:
        self.path: Final = path
        #: The answers of before; None when nothing was kept.
        self.found: Final = answers
        self._lock: Final = lock
        self._disk: Final = disk

    @classmethod
    def open(cls, till: Path, name: str, disk: Disk = REAL) -> SawDraft:
        """The draft ``name`` of ``till``. Raises Refusal when another program has it, or the disk will not take it."""
        path = till / DRAFTS / f"{name}.toml"
        try:
            make_folder(path.parent, disk)
            lock = LogLock.take(path, disk)
        except LockHeld as held:
            raise Refusal(
                f"this form is open elsewhere: {held.who}, since {held.since}; close it there", HELD
            ) from None
        except OSError as problem:
            raise Refusal(f"{shown(path)}: the form cannot be kept: {why(problem)}", DISK) from None
        try:
            answers = Answers.from_dict(parse(read_text(path)))
        except ReadingError:
            # Never there, or spoiled by another hand: what cannot be read is typed again.
            answers = None
        return cls(path, lock, answers, disk)

    def keep(self, answers: Answers) -> None:
        """Write all ``answers``, on the medium when this returns. Raises Refusal; then those of before are kept."""
        data = tomli_w.dumps({"format": FORMAT, **answers.to_dict()}).encode("utf-8")
        try:
            replace_file(self.path, data, self._disk)
        except OSError as problem:
            raise Refusal(f"{shown(self.path)}: the answer was not kept: {why(problem)}", DISK) from None

    def throw_away(self) -> None:
        """Remove what was kept. Raises Refusal."""
        try:
            self._disk.unlink(self.path)
            self._disk.fsync_dir(self.path.parent)
        except FileNotFoundError:
            pass
        except OSError as problem:
            raise Refusal(f"{shown(self.path)}: the draft cannot be removed: {why(problem)}", DISK) from None

    def close(self) -> None:
        """Let another program have it."""
        self._lock.release()
