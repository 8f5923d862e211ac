"""Errors of the command line and their exit codes, in one place."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import sys
from pathlib import Path
from typing import Final

from session.machine.refusal import Refusal

BAD_INPUT: Final = 2
HELD: Final = 3
DISK: Final = 4
INTERRUPTED: Final = 130

#: Errors of the rooms below, by module and name, with the exit status each means. By name, because
#: naming the classes would import every room for `--help`.
_CODES: Final[dict[str, int]] = {
    "session.files.supplied.SuppliedError": BAD_INPUT,
    "session.till.till_folder.TillError": BAD_INPUT,
    "session.till.known_saws.UnknownSaw": BAD_INPUT,
    "session.log.log_reader.LogError": BAD_INPUT,
    "session.log.journal.ReadOnlyLog": BAD_INPUT,
    "session.log.journal.JournalFault": DISK,
    "session.machine.lock.LockHeld": HELD,
    "session.rehearsal.unattended.StoppedError": INTERRUPTED,
}


#: A medium that is full, broken, over its quota or not to be written to, be it only the file that stdout goes to.
_WILL_NOT_TAKE: Final = frozenset({errno.ENOSPC, errno.EIO, errno.EDQUOT, errno.EROFS, errno.EFBIG})


class Trouble(Exception):
    """Something the user can mend. One sentence a line: what, where, and what is allowed."""

    def __init__(self, message: str, code: int = BAD_INPUT) -> None:
        super().__init__(message)
        self.code = code


def known(error: Exception) -> Trouble | None:
    """``error`` as a Trouble when it is one of ours, else None: then it is a fault of the program."""
    if isinstance(error, Trouble):
        return error
    if isinstance(error, Refusal):
        return Trouble(str(error), error.code)
    for kind in type(error).__mro__:
        code = _CODES.get(f"{kind.__module__}.{kind.__name__}")
        if code is not None:
            own = getattr(error, "code", None)
            return Trouble(str(error), own if isinstance(own, int) else code)
    if isinstance(error, OSError) and error.errno in _WILL_NOT_TAKE:
        return Trouble(f"what was to be written would not be taken: {error.strerror}", DISK)
    return None


def say(words: str) -> None:
    """Words about a problem, to stderr; when the window has been closed there is nobody to hear them."""
    with contextlib.suppress(OSError):
        print(f"toothline: {words}", file=sys.stderr)


def ready() -> None:
    """Have all three standard streams, and let those out take every letter. Call it before any file is opened.

    The number of a stream that is closed would go to the next file opened, a log even. A letter that the
    terminal's or pipe's encoding lacks goes out as "?" instead of ending the program.
    """
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, Path(os.devnull).open(mode, encoding="utf-8"))  # noqa: SIM115 – it is meant to stay open
        elif mode == "w" and isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def unheard() -> None:
    """Let go of what a closed window or pipe would not take: Python would fail over it on exit, with status 120."""
    for stream in (sys.stdout, sys.stderr, sys.__stdout__, sys.__stderr__):
        if stream is None:
            continue
        try:
            stream.flush()
        except (OSError, ValueError):
            with contextlib.suppress(OSError, ValueError):
                nowhere = os.open(os.devnull, os.O_WRONLY)
                os.dup2(nowhere, stream.fileno())
                os.close(nowhere)
                stream.flush()
