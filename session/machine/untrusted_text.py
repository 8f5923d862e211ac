"""Reading a small TOML file that a person wrote, without trusting it to be one.

Anything may lie under the name that was given: a folder, a pipe that never ends, a disk image, a text
of another encoding. Each gives one sentence and no traceback, and nothing is opened before it is known
to be a regular file.
"""

from __future__ import annotations

import os
import re
import stat
import tomllib
from pathlib import Path
from typing import Any, Final

from session.machine.clean_text import clean
from session.machine.system_calls import open_to_read

#: No recipe or settings file comes near; a larger one is something else.
MOST_BYTES: Final = 1_000_000

LONGEST_LINE: Final = 4_000
MOST_KEY_PARTS: Final = 30

#: The standard reader takes time and memory by the square of a dotted key's length, so that one megabyte of
#: dots would stop the program. Nothing is taken back while matching, so that this look stays cheap itself.
_LONG_KEY: Final = re.compile(
    rf"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+){{{MOST_KEY_PARTS}}}"""
)

#: Where the standard reader found it wrong.
_PLACE: Final = r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$"
_MARKS: Final = ((b"\xef\xbb\xbf", "UTF-8"), (b"\xff\xfe", "UTF-16"), (b"\xfe\xff", "UTF-16"))


class ReadingError(ValueError):
    """A file or text that cannot be read as TOML: what is wrong, and the line (from 1) when there is one."""

    def __init__(self, wrong: str, line: int | None = None) -> None:
        super().__init__(wrong)
        self.wrong = wrong
        self.line = line

    def at(self, where: str) -> str:
        """The error as one line: ``FILE: …``, or ``FILE:LINE: …`` when the line is known."""
        return clean(f"{where}: {self.wrong}" if self.line is None else f"{where}:{self.line}: {self.wrong}")


def shown(path: Path) -> str:
    """A path as it may be shown on a terminal: without control characters, whatever its bytes are."""
    return clean(os.fsencode(path).decode("utf-8", "replace")) if "\0" not in str(path) else clean(str(path))


def told_of(path: Path, why: str) -> str:
    """``why`` with the path in front, once."""
    return why if why.startswith(shown(path)) else f"{shown(path)}: {why}"


def read_text(path: Path, most: int = MOST_BYTES) -> str:
    """The text of a regular file of at most ``most`` bytes, with line ends as ``\\n``. Raises ReadingError."""
    try:
        _refuse_unless_regular(path.stat(), most)
        # The name may mean something else by now: not waiting on a pipe, and asking again once it is open.
        fd = open_to_read(path)
        try:
            _refuse_unless_regular(os.fstat(fd), most)
            data = _read(fd, most + 1)
        finally:
            os.close(fd)
    except FileNotFoundError:
        raise ReadingError("no such file") from None
    except BlockingIOError:
        # One of the kernel's own files: it counts as regular, and whoever reads it is to wait for more.
        raise ReadingError("not a regular file (one of the kernel's, with nothing to read now)") from None
    except OSError as problem:
        raise ReadingError(f"cannot be read: {problem.strerror or 'unknown reason'}") from None
    except ValueError as problem:
        raise problem if isinstance(problem, ReadingError) else ReadingError("not a file name") from None
    return _decoded(data, most)


def parse(text: str, longest_line: int = LONGEST_LINE) -> dict[str, Any]:
    """The values of a TOML text. Raises ReadingError with the line for anything that is not TOML."""
    if found := re.search(rf"(?m)^[^\n]{{{longest_line + 1}}}", text):
        raise ReadingError(f"a line too long; allowed: at most {longest_line:,} characters", _line(text, found.start()))
    if found := _LONG_KEY.search(text):
        wrong = f"a key of many parts; allowed: fewer than {MOST_KEY_PARTS} with dots between them"
        raise ReadingError(wrong, _line(text, found.start()))
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        wrong, line = str(problem), text.rstrip("\n").count("\n") + 1
        if place := re.search(_PLACE, wrong):
            wrong = wrong[: place.start()]
            if place[1]:
                line, wrong = int(place[1]), f"{wrong} (column {place[2]})"
        raise ReadingError(f"not TOML: {wrong[:1].lower()}{wrong[1:]}", line) from None
    except RecursionError:
        raise ReadingError("lists or tables nested too deep; allowed: a few levels") from None
    except ValueError as problem:
        # Not the reader's own error: a value that Python cannot hold.
        raise ReadingError(f"not TOML: {problem}") from None


def _line(text: str, place: int) -> int:
    return text.count("\n", 0, place) + 1


def _read(fd: int, most: int) -> bytes:
    parts: list[bytes] = []
    while most > 0 and (part := os.read(fd, most)):
        parts.append(part)
        most -= len(part)
    return b"".join(parts)


def _refuse_unless_regular(status: os.stat_result, most: int) -> None:
    if stat.S_ISDIR(status.st_mode):
        raise ReadingError("a folder, not a file")
    if not stat.S_ISREG(status.st_mode):
        raise ReadingError("not a regular file (a pipe, socket or device)")
    if status.st_size > most:
        raise ReadingError(f"{status.st_size:,} bytes; allowed: at most {most:,}")


def _decoded(data: bytes, most: int) -> str:
    if len(data) > most:
        raise ReadingError(f"more than {most:,} bytes; allowed: at most {most:,}")
    if not data.strip():
        raise ReadingError("the file is empty")
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            raise ReadingError(f"starts with the byte order mark of {encoding}; save it as UTF-8 without one", 1)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as problem:
        line = data.count(b"\n", 0, problem.start) + 1
        raise ReadingError(f"not UTF-8 text (byte {problem.start}); save it as UTF-8", line) from None
    return text.replace("\r\n", "\n")
