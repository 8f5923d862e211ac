"""The program called in this process as a shell calls it in one of its own: its folder, surroundings and streams.

A process costs half a second of the processor for what is imported; what is asked of the program is mostly not about
that. What is, how it begins and how Python ends it, is asked of processes in `tests/commands/test_cli_from_outside.py`.
"""

from __future__ import annotations

import gc
import io
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryFile
from typing import TextIO
from unittest.mock import patch

import pytest

from session.__main__ import run

#: What Python leaves with when what was printed could not be let go of at the end.
UNFLUSHED = 120


def call_here(
    folder: Path,
    *arguments: str | Path,
    environment: Mapping[str, str],
    encoding: str = "utf-8",
    stdout: int | None = subprocess.PIPE,
) -> subprocess.CompletedProcess[bytes]:
    """Run the program with ``arguments`` in ``folder``, with ``environment`` and no input; what it said and its status.

    encoding: the terminal's. stdout: a descriptor for it to go to instead; None when the shell has closed it.
    """
    with TemporaryFile() as out, TemporaryFile() as error, Path(os.devnull).open() as nothing:
        heard = _stream(out.fileno() if stdout == subprocess.PIPE else stdout, encoding, "strict")
        complained = _stream(error.fileno(), encoding, "backslashreplace")
        before = Path.cwd()
        os.chdir(folder)
        try:
            with (
                patch.dict(os.environ, environment, clear=True),
                patch.object(sys, "argv", ["toothline", *map(str, arguments)]),
                patch.object(sys, "stdin", nothing),
                patch.object(sys, "stdout", heard),
                patch.object(sys, "stderr", complained),
            ):
                code = _status()
                opened = [sys.stdout, sys.stderr]
        finally:
            os.chdir(before)
        for stream in opened:
            code = _let_go(stream, code)
        return subprocess.CompletedProcess(arguments, code, _read(out), _read(error))


def _stream(descriptor: int | None, encoding: str, errors: str) -> TextIO | None:
    """What Python makes of a descriptor of its own, with the encoding's errors as it has them."""
    if descriptor is None:
        return None
    return io.TextIOWrapper(io.FileIO(os.dup(descriptor), "w"), encoding=encoding, errors=errors, write_through=False)


def _status() -> int:
    with pytest.raises(SystemExit) as end:
        run()
    gc.unfreeze()  # this process goes on
    assert isinstance(end.value.code, int)
    return end.value.code


def _let_go(stream: TextIO, code: int) -> int:
    """Close ``stream`` as Python does at its end; the status is then another when that fails."""
    try:
        stream.close()
    except (OSError, ValueError):
        return UNFLUSHED
    return code


def _read(file: io.BufferedRandom) -> bytes:
    file.seek(0)
    return file.read()
