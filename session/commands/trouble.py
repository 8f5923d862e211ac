"""Errors of the command line and their exit codes, in one place."""

from __future__ import annotations

import sys
from typing import Final

BAD_INPUT: Final = 2
HELD: Final = 3
DISK: Final = 4

#: Errors of the rooms below, by module and name, with the exit status each means. By name, because
#: naming the classes would import every room for `--help`.
_CODES: Final[dict[str, int]] = {
    "session.records.recipe.RecipeError": BAD_INPUT,
    "session.records.supplied.SuppliedError": BAD_INPUT,
    "session.records.till.TillError": BAD_INPUT,
    "session.records.known_saws.UnknownSaw": BAD_INPUT,
    "session.records.cuts.CutFileError": BAD_INPUT,
    "session.records.cuts.CutNotWritten": DISK,
    "session.records.flats.FlatsError": BAD_INPUT,
    "session.records.files_owned.FilesOwnedError": BAD_INPUT,
    "session.records.reader.LogError": BAD_INPUT,
    "session.records.journal.ReadOnlyLog": BAD_INPUT,
    "session.records.journal.JournalFault": DISK,
    "session.records.lock.LockHeld": HELD,
}


class Trouble(Exception):
    """Something the user can mend. One sentence a line: what, where, and what is allowed."""

    def __init__(self, message: str, code: int = BAD_INPUT) -> None:
        super().__init__(message)
        self.code = code


def known(error: Exception) -> Trouble | None:
    """``error`` as a Trouble when it is one of ours, else None: then it is a fault of the program."""
    if isinstance(error, Trouble):
        return error
    for kind in type(error).__mro__:
        code = _CODES.get(f"{kind.__module__}.{kind.__name__}")
        if code is not None:
            own = getattr(error, "code", None)
            return Trouble(str(error), own if isinstance(own, int) else code)
    return None


def say(words: str) -> None:
    """Words about a problem, to stderr."""
    print(f"toothline: {words}", file=sys.stderr)
