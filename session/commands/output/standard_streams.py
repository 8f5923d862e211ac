"""The standard streams: words about a problem, and what a closed or narrow stream must not do to the program."""

from __future__ import annotations

import contextlib
import io
import os
import sys
from pathlib import Path

from session.machine.system_calls import PIPES_ARE_PLAIN


def say(words: str) -> None:
    """Words about a problem, to stderr; when the window has been closed there is nobody to hear them."""
    with contextlib.suppress(OSError):
        print(f"toothline: {words}", file=sys.stderr)


def ready() -> None:
    """Have all three standard streams, and let those out take every letter. Call it before any file is opened.

    The number of a stream that is closed would go to the next file opened, a log even. A letter that the
    terminal's or pipe's encoding lacks goes out as "?" instead of ending the program. Where pipes and files would get
    the letters of an old code page, they get UTF-8.
    """
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        stream = getattr(sys, name)
        if stream is None:
            setattr(sys, name, Path(os.devnull).open(mode, encoding="utf-8"))  # noqa: SIM115 – it is meant to stay open
        elif isinstance(stream, io.TextIOWrapper):
            if mode == "w":
                stream.reconfigure(errors="replace")
            if not (PIPES_ARE_PLAIN or stream.isatty() or os.environ.get("PYTHONIOENCODING")):
                stream.reconfigure(encoding="utf-8", newline="\n" if mode == "w" else None)


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
