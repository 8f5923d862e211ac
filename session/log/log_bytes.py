"""What the bytes of a log say: its header, its whole marks, and what is odd about the rest."""

from __future__ import annotations

import re
import zlib
from collections.abc import Mapping
from enum import StrEnum
from typing import Any, Final

from session.log.crc_seals import CRC_LINE, CodecError, cleaned, crc_in, seal
from session.log.header_parts import header_values
from session.log.mark_block import decode, is_torn, whole_block
from session.machine.untrusted_text import LONGEST_LINE, ReadingError, parse
from session.value_class import dataclass
from session.walk.mark import Did, Mark

#: The number of the format that this program writes. It reads every number from 1 up to this one.
FORMAT: Final = 1

#: Largest log that is read or written: some 20,000 marks, more than 3,000 points worked through every stage
#: come to. The worst that was made of as many bytes was read in 4 seconds.
MOST_BYTES: Final = 3_000_000

#: A header is a recipe and a plan of some 2,000 bytes, 4,000 for the longest saw.
MOST_HEADER: Final = 200_000

_SEAL: Final = re.compile(rb'^\[seal\]\n(?=crc = "[0-9a-f]{8}"\n)', re.MULTILINE)
_FIRST_MARK: Final = re.compile(rb"^\[\[mark\]\]", re.MULTILINE)


class LogStanding(StrEnum):
    """How a log stands, by the word that `show --json` has for it."""

    FINISHED = "finished"
    INTERRUPTED = "interrupted"
    GIVEN_UP = "given up"
    READ_ONLY = "read only"


@dataclass(frozen=True, slots=True)
class Oddity:
    """Why a log may only be read, and the byte (from 0) where that begins, when there is one."""

    reason: str
    byte: int | None = None

    def __str__(self) -> str:
        return self.reason if self.byte is None else f"{self.reason} (byte {self.byte})"


@dataclass(frozen=True, slots=True)
class Header:
    """A header as read, the byte after its seal, and what is odd about it."""

    values: dict[str, Any]
    end: int
    odd: Oddity | None = None


@dataclass(frozen=True, slots=True)
class LogFile:
    """A log as read.

    header: its values, the seal among them. marks: the whole marks in sequence, up to the first thing odd.
    end: the byte after the last of them. torn_bytes: length of a torn tail after it, 0 for none.
    odd: why it may only be read, None when it may be gone on with.
    """

    header: dict[str, Any]
    marks: tuple[Mark, ...]
    end: int
    torn_bytes: int = 0
    odd: Oddity | None = None

    @property
    def state(self) -> LogStanding:
        """finished, interrupted, given up or read only."""
        return standing(self.marks[-1] if self.marks else None, self.odd)


def standing(last: Mark | None, odd: Oddity | None) -> LogStanding:
    """How a log stands whose last whole mark is ``last``."""
    if odd is not None:
        return LogStanding.READ_ONLY
    ended = {Did.FINISHED: LogStanding.FINISHED, Did.GAVE_UP: LogStanding.GIVEN_UP}
    return ended.get(last.did, LogStanding.INTERRUPTED) if last is not None else LogStanding.INTERRUPTED


def make_header(values: Mapping[str, Any]) -> bytes:
    """The sealed bytes of a header with ``values``; ``format`` is put first. Raises CodecError."""
    try:
        plain = cleaned({"format": FORMAT, **values})
        if "seal" in plain or "mark" in plain:
            raise CodecError("the header cannot be written: seal and mark are the log's own keys")
        import tomli_w  # who only reads a log waits for no writer

        body = tomli_w.dumps(plain).encode("utf-8") + b"\n[seal]\n"
        again = parse(body.decode("utf-8"))
    except (CodecError, TypeError, ReadingError) as wrong:
        raise CodecError(f"the header cannot be written: {wrong}") from None
    if len(body) > MOST_HEADER - LONGEST_LINE or again.pop("seal") != {} or again != plain:
        raise CodecError("the header cannot be written: it would not be read back with the same values")
    return body + seal(body)


def read_header(data: bytes) -> Header:
    """The header at the start of ``data``. Never raises; what cannot be read is an empty header with its oddity."""
    crc, done = 0, 0
    for found in _SEAL.finditer(data, 0, MOST_HEADER):
        # From seal to seal, so that a file of nothing but seals is still gone through once.
        crc, done = zlib.crc32(data[done : found.end()], crc), found.end()
        line = CRC_LINE.match(data, found.end())
        if line is not None and crc_in(line) == crc:
            return _told(data[: line.end()], line.end(), None)
    return _unsealed(data)


def read_log_bytes(data: bytes) -> LogFile:
    """What ``data``, the bytes of a log, say. Never raises."""
    header = read_header(data)
    marks, end, odd = _blocks(data, header.end)
    odd = header.odd or odd
    tail = data[end:]
    if odd is None and tail and not is_torn(tail):
        odd = oddity(data, end)
    return LogFile(header.values, marks, end, len(tail) if odd is None else 0, odd)


def oddity(data: bytes, at: int) -> Oddity:
    """What to say of ``data`` from byte ``at``, where neither a whole block nor a torn one begins."""
    tail = data[at:]
    if (returned := tail.find(b"\r")) >= 0:
        return Oddity("its line ends were changed to CRLF, by an editor or a copying program", at + returned)
    if CRC_LINE.search(tail) is not None:
        return Oddity("a mark does not agree with its seal: it was changed or damaged", at)
    return Oddity("something else than a mark stands there", at)


def _blocks(data: bytes, start: int) -> tuple[tuple[Mark, ...], int, Oddity | None]:
    marks: list[Mark] = []
    end = start
    while (block := whole_block(data, end)) is not None:
        try:
            mark = decode(block.data)
        except CodecError as wrong:
            return tuple(marks), end, Oddity(f"a mark that this program does not understand: {wrong}", end)
        if mark.seq != len(marks) + 1:
            return tuple(marks), end, Oddity(f"mark {mark.seq} stands where mark {len(marks) + 1} belongs", end)
        marks.append(mark)
        end = block.end
    return tuple(marks), end, None


def _told(data: bytes, end: int, odd: Oddity | None) -> Header:
    try:
        values = header_values(data.decode("utf-8"))
    except UnicodeDecodeError as wrong:
        return Header({}, end, odd or Oddity("the header is not UTF-8 text", wrong.start))
    except (ReadingError, CodecError) as wrong:
        return Header({}, end, odd or Oddity(f"the header cannot be read: {wrong}", 0))
    number: Any = values.get("format")
    if odd is None and (not isinstance(number, int) or isinstance(number, bool) or number < 1):
        odd = Oddity("the header does not say its format", 0)
    elif odd is None and number > FORMAT:
        odd = Oddity(f"format {number} is of a later version; this one knows formats up to {FORMAT}", 0)
    for name in ("session", "recipe", "plan"):
        if odd is None and not isinstance(values.get(name, {}), dict):
            odd = Oddity(f"the header's {name} is not a table", 0)
    return Header(values, end, odd)


def _unsealed(data: bytes) -> Header:
    """A header whose seal is missing or wrong: shown as far as it can be read, and its marks with it."""
    if not data:
        return Header({}, 0, Oddity("the file is empty", 0))
    found = _SEAL.search(data, 0, MOST_HEADER)
    line = CRC_LINE.match(data, found.end()) if found is not None else None
    first = _FIRST_MARK.search(data, 0, MOST_HEADER)
    end = line.end() if line is not None else first.start() if first is not None else min(len(data), MOST_HEADER)
    if (returned := data.find(b"\r", 0, end)) >= 0:
        odd = Oddity("its line ends were changed to CRLF, by an editor or a copying program", returned)
    elif line is not None:
        odd = Oddity("the header does not agree with its seal: it was changed or damaged", 0)
    else:
        odd = Oddity("no sealed header: not a log of this program, or damaged", 0)
    return _told(data[:end], end, odd)
