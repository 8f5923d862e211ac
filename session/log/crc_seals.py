"""Values made plain and single-line, and the CRC-32 seals that headers and blocks end with."""

from __future__ import annotations

import re
import zlib
from collections.abc import Mapping
from datetime import datetime
from typing import Any, Final

from session.machine.clean_text import clean

#: The line that seals a header or a block: CRC-32 (as in ISO 3309, zlib) of the bytes before it.
CRC_LINE: Final = re.compile(rb'^crc = "([0-9a-f]{8})"\n', re.MULTILINE)

#: TOML promises no more than 64 bits; Python reads a longer hexadecimal number but refuses to print it.
_MOST: Final = 2**63

#: A dict is told at once, any other mapping only slowly.
_NESTED: Final = (dict, list, tuple, Mapping)

#: The kinds of value, besides texts and whole numbers, that most keys have: nothing of them is to be cleaned.
_AS_THEY_ARE: Final = frozenset({bool, float, datetime})


class CodecError(ValueError):
    """Values that a log cannot hold, or bytes that hold none; the message says which and why."""


def seal(data: bytes) -> bytes:
    """The crc line that belongs after ``data``."""
    return b'crc = "%08x"\n' % zlib.crc32(data)


def crc_in(line: re.Match[bytes]) -> int:
    """The number that ``line``, a match of `CRC_LINE`, states."""
    return int(line[1], 16)


def cleaned(value: Any, depth: int = 12) -> Any:
    """``value`` with every text in it made safe to show. Raises CodecError for what TOML cannot carry."""
    if isinstance(value, str):
        return clean(value)
    if type(value) in _AS_THEY_ARE:
        return value
    if isinstance(value, int):
        if not -_MOST <= value < _MOST:
            raise CodecError("a whole number of more than 64 bits")
        return value
    if value is None:
        raise CodecError("a key without a value")
    if isinstance(value, _NESTED):
        if depth == 0:
            raise CodecError("lists or tables nested too deep; allowed: 12 levels")
        if isinstance(value, Mapping):
            return {clean(str(key)): cleaned(inner, depth - 1) for key, inner in value.items()}
        return [cleaned(inner, depth - 1) for inner in value]
    return value


def key_line(key: str, value: Any) -> str:
    """``key = value`` as one line of TOML without its line end."""
    return f"{_key(key)} = {_inline(value)}"


def _key(key: str) -> str:
    return _written({key: 0}).removesuffix(" = 0\n")


def _inline(value: Any) -> str:
    # The writer breaks lists and tables over several lines, and a block of a log has one line a key.
    if isinstance(value, Mapping):
        return "{" + ", ".join(key_line(key, inner) for key, inner in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_inline(inner) for inner in value) + "]"
    return _written({"k": value}).removeprefix("k = ").removesuffix("\n")


def _written(values: dict[str, Any]) -> str:
    import tomli_w  # who only reads a log waits for no writer

    return tomli_w.dumps(values)
