"""One mark as it stands in a log: a sealed block of single-line keys.

(empty line)
[[mark]]
seq = 3
…
crc = "xxxxxxxx"
"""

from __future__ import annotations

import re
import zlib
from datetime import timezone
from typing import Any, Final

from session.log.crc_seals import CRC_LINE, CodecError, cleaned, crc_in, key_line, seal
from session.log.plain_lines import plain_values
from session.machine.untrusted_text import ReadingError, parse
from session.value_class import dataclass
from session.walk.mark import KEYS, Mark

HEAD: Final = b"\n[[mark]]\n"

#: A block is a dozen short keys; a larger one was not written by this program.
MOST_BYTES: Final = 64_000

_OURS: Final = frozenset({*KEYS, "crc"})
_TABLE: Final = re.compile(rb"^\[\[mark\]\]", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Block:
    """A whole block: the bytes from ``start`` up to ``end``, where the next one begins. Its seal is right."""

    data: bytes
    start: int
    end: int


def encode(mark: Mark) -> tuple[bytes, Mark]:
    """The block of ``mark``, and the mark as it will be read back: cleaned texts, its time with a fixed offset.

    Raises CodecError for a mark that would not be read back with the same values.
    """
    try:
        for name in mark.extra.keys() & _OURS:
            raise CodecError(f"{name} is a key of the log's own")
        values = cleaned(mark.to_dict())
        offset = values["at"].utcoffset()
        if offset is None:
            raise CodecError("at is without its offset")
        # Times of one zone compare by the wall clock, and a log has only offsets.
        values["at"] = values["at"].replace(tzinfo=timezone(offset))
        body = HEAD + "".join(key_line(key, value) + "\n" for key, value in values.items()).encode("utf-8")
        data = body + seal(body)
        told = decode(data)
        if len(data) > MOST_BYTES or told != Mark.from_dict(values):
            raise CodecError("it would not be read back with the same values")
    except (TypeError, AttributeError, ValueError, OverflowError, RecursionError) as wrong:
        raise CodecError(f"the mark cannot be written: {wrong}") from None
    return data, told


def decode(data: bytes) -> Mark:
    """The mark of a whole block. Raises CodecError when the block is not one that this program can read."""
    try:
        text = data.decode("utf-8")
        values = plain_values(text) or _values(text)
        values.pop("crc", None)
        return Mark.from_dict(cleaned(values))
    except ReadingError as wrong:
        raise CodecError(wrong.wrong) from None
    except ValueError as wrong:
        raise CodecError(str(wrong)) from None


def _values(text: str) -> dict[str, Any]:
    """The same of a block with anything in it that TOML has."""
    found = parse(text)
    marks = found.get("mark")
    if len(found) != 1 or not isinstance(marks, list) or len(marks) != 1:
        raise CodecError("a block that holds more than one mark")
    values: dict[str, Any] = marks[0]
    return values


def whole_block(data: bytes, start: int) -> Block | None:
    """The whole, rightly sealed block that begins at byte ``start``, or None.

    Its end is the first crc line after its start. Looking for the next block's head instead would lose a
    whole mark when that head is torn.
    """
    if not data.startswith(HEAD, start):
        return None
    line = CRC_LINE.search(data, start + len(HEAD), start + MOST_BYTES)
    if line is None:
        return None
    body = data[start : line.start()]
    return Block(body + line[0], start, line.end()) if zlib.crc32(body) == crc_in(line) else None


def is_torn(tail: bytes) -> bool:
    """Whether ``tail``, what follows the last whole block, is a write that was cut short (FORMAT.md, the reading rule).

    It is when it is a prefix of a block's head, or starts with one, or holds NULs, with no second block in
    it and no whole crc line. Anything else was changed by someone, and is not ours to cut off.
    """
    begun = HEAD.startswith(tail) or tail.startswith(HEAD) or b"\0" in tail
    return begun and len(_TABLE.findall(tail)) <= 1 and CRC_LINE.search(tail) is None
