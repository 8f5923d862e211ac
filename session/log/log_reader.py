"""Reading logs without ever changing them."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

from session.log.crc_seals import CodecError
from session.log.log_bytes import (
    MOST_BYTES,
    MOST_HEADER,
    LogStanding,
    Oddity,
    oddity,
    read_header,
    read_log_bytes,
    standing,
)
from session.log.log_bytes import LogFile as LogFile  # what read_log gives
from session.log.mark_block import HEAD, Block, decode, is_torn, whole_block
from session.machine.disk import REAL, why
from session.machine.refusal import Refusal
from session.machine.system_calls import open_to_read
from session.machine.untrusted_text import LONGEST_LINE, shown
from session.value_class import dataclass
from session.walk.mark import Did, Mark

_FIRST_LOOK: Final = 32_000

#: The longest block that closes a finished log: its summary is one line, and the other keys are short.
_LAST_LOOK: Final = LONGEST_LINE + 2_000
_FINISHED: Final = f'\ndid = "{Did.FINISHED}"\n'.encode()


@dataclass(frozen=True, slots=True)
class LogEnds:
    """The two ends of a log: its header and its last whole mark. What lies between was not looked at."""

    path: Path
    header: dict[str, Any]
    last: Mark | None
    torn_bytes: int = 0
    odd: Oddity | None = None

    @property
    def state(self) -> LogStanding:
        """finished, interrupted, given up or read only, as far as the ends tell."""
        return standing(self.last, self.odd)


def read_log(path: Path) -> LogFile:
    """All of the log at ``path``. Raises Refusal when there is no file to read or more than `MOST_BYTES` of it."""
    with _opened(path) as (fd, size):
        return read_log_bytes(REAL.read(fd, size, 0))


def read_ends(path: Path) -> LogEnds:
    """Header and last mark of the log at ``path``, reading no more of it than that takes. Raises Refusal.

    A change in the middle of the file is not seen; whoever goes on with the log reads all of it.
    """
    with _opened(path) as (fd, size):
        data = REAL.read(fd, min(size, _FIRST_LOOK), 0)
        header = read_header(data)
        if header.odd is not None and len(data) < size:
            data = REAL.read(fd, min(size, MOST_HEADER), 0)
            header = read_header(data)
        if header.odd is not None:
            return LogEnds(path, header.values, None, 0, header.odd)
        look = _FIRST_LOOK
        while True:
            start = max(header.end, size - look)
            tail = REAL.read(fd, size - start, start)
            if tail.count(HEAD) >= 2 or start == header.end:
                return _ends(path, header.values, tail, _last_block(tail), start)
            look *= 8


def is_finished(path: Path) -> bool:
    """Whether a whole finished mark is the last thing in the log at ``path``, by those bytes alone. Raises Refusal.

    Of a till's logs nearly all are finished, and listing those that are not must not wait for their headers. One with
    a torn end, or something odd, is left to `read_ends` to judge.
    """
    with _opened(path) as (fd, size):
        tail = REAL.read(fd, _LAST_LOOK, max(0, size - _LAST_LOOK))
    block = _last_block(tail)
    return block is not None and block.end == len(tail) and _FINISHED in block.data


def is_log(path: Path) -> bool:
    """Whether the file at ``path`` is a log rather than a recipe, judged by its first lines. Never raises."""
    try:
        with _opened(path) as (fd, size):
            lines = REAL.read(fd, min(size, MOST_HEADER), 0).splitlines()
    except Refusal:
        return False
    return any(line.rstrip() in (b"[seal]", b"[session]", b"[[mark]]") for line in lines)


def _last_block(tail: bytes) -> Block | None:
    """The last whole block. A torn end has one head at most, so that it is looked for at the last two."""
    last = tail.rfind(HEAD)
    before = tail.rfind(HEAD, 0, last + len(HEAD) - 1) if last >= 0 else -1
    found = (whole_block(tail, at) for at in (last, before) if at >= 0)
    return next((block for block in found if block is not None), None)


def _ends(path: Path, header: dict[str, Any], tail: bytes, block: Block | None, start: int) -> LogEnds:
    end = block.end if block is not None else 0
    rest = tail[end:]
    odd = oddity(tail, end) if rest and not is_torn(rest) else None
    last = None
    try:
        last = decode(block.data) if block is not None else None
    except CodecError as wrong:
        odd = Oddity(f"a mark that this program does not understand: {wrong}", block.start if block else None)
    if odd is not None:
        odd = Oddity(odd.reason, odd.byte + start if odd.byte is not None else None)
    return LogEnds(path, header, last, len(rest) if odd is None else 0, odd)


@contextmanager
def _opened(path: Path) -> Iterator[tuple[int, int]]:
    """A descriptor for reading and the size. Never waits on a pipe and never opens a device for long."""
    try:
        fd = open_to_read(path)
    except FileNotFoundError:
        raise Refusal(f"{shown(path)}: no such log") from None
    except IsADirectoryError:
        raise Refusal(f"{shown(path)}: a folder; a log is a file") from None
    except OSError as problem:
        raise Refusal(f"{shown(path)}: cannot be read: {problem.strerror or why(problem)}") from None
    except ValueError:
        raise Refusal(f"{shown(path)}: not a file name") from None
    try:
        status = os.fstat(fd)
        if not stat.S_ISREG(status.st_mode):
            what = "a folder" if stat.S_ISDIR(status.st_mode) else "not a regular file"
            raise Refusal(f"{shown(path)}: {what}; a log is a file")
        if status.st_size > MOST_BYTES:
            raise Refusal(
                f"{shown(path)}: {status.st_size:,} bytes; a log has at most {MOST_BYTES:,}, so this is something else"
            )
        yield fd, status.st_size
    except OSError as problem:
        raise Refusal(f"{shown(path)}: cannot be read: {problem.strerror or why(problem)}") from None
    finally:
        os.close(fd)
