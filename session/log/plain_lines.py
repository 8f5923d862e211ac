"""Lines of a log as this program writes them, read without the whole of TOML; anything else is left to that.

What is read here is what TOML says of the same text, at a quarter of the time: a log of ten thousand marks is read at
each opening, each mark once more as it is written, and of every log of a till its last mark, with the summary in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any, Final, TypeAlias

from session.machine.untrusted_text import LONGEST_LINE

_STRING: Final = r'"([^"\\\x00-\x1f\x7f]*)"'
_TIME: Final = (
    r"([0-9]{4}-[0-9]{2}-[0-9]{2}[T ](?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9](?:\.[0-9]{1,6})?"
    r"(?:Z|[+-](?:[01][0-9]|2[0-3]):[0-5][0-9]))"
)
_DECIMAL: Final = r"(-?(?:0|[1-9][0-9]{0,14})\.[0-9]{1,17})"
_WHOLE: Final = r"(-?(?:0|[1-9][0-9]{0,17}))"
_TRUTH: Final = r"(true|false)"

#: A bare key, and a text without escapes, a time with its offset, a decimal number, a whole one, a word of logic, or a
#: table or a list on the same line.
_LINE: Final = re.compile(rf"([a-z_]+) = (?:{_STRING}|{_TIME}|{_DECIMAL}|{_WHOLE}|{_TRUTH}|([{{\[].*))")

#: What a table or a list on a line is made of: a key, a sign, or one of the values above. Compiled with the first such
#: line, as few marks have any.
_PART: Final = (
    rf' ?(?:([A-Za-z0-9_-]++|"[^"\\\x00-\x1f\x7f]+") = |([][{{}},])|{_STRING}|{_TIME}|{_DECIMAL}|{_WHOLE}|{_TRUTH})'
)

#: Tables within tables that are read here; a summary has three.
_DEEPEST: Final = 8

_HEAD: Final = ["", "[[mark]]"]

#: The groups of a match of `_PART`, and what stands behind the last: a key that is none.
_Part: TypeAlias = tuple[str | None, ...]
_END: Final[_Part] = ("",) + (None,) * 6


class _OtherError(Exception):
    """Something else than this program writes, to be read by all of TOML."""


def plain_values(text: str) -> dict[str, Any] | None:
    """The keys and values of a block with nothing but plain lines; None for any other."""
    head, lines, end = (parts := text.split("\n"))[:2], parts[2:-1], parts[-1]
    return plain_keys(lines) if head == _HEAD and not end else None


def plain_keys(lines: Sequence[str]) -> dict[str, Any] | None:
    """The keys and values of plain lines; None when any of them is not."""
    values: dict[str, Any] = {}
    try:
        for line in lines:
            found = _LINE.fullmatch(line) if len(line) <= LONGEST_LINE else None
            if found is None or found[1] in values:
                return None
            values[found[1]] = _value(*found.groups()[1:6]) if found[7] is None else _nested(found[7])
    except (_OtherError, ValueError):
        return None
    return values


def _value(string: str | None, time: str | None, decimal: str | None, whole: str | None, truth: str | None) -> Any:
    """The one that is there. Raises ValueError for a time that no calendar has."""
    if string is not None:
        return string
    if whole is not None:
        return int(whole)
    if time is not None:
        return datetime.fromisoformat(time)
    return float(decimal) if decimal is not None else truth == "true"


def _nested(text: str) -> Any:
    """The table or list that ``text`` is. Raises _OtherError."""
    parts = _parts(text)
    value = _inner(next(parts), parts, _DEEPEST)
    if next(parts, None) is not None:
        raise _OtherError
    return value


def _parts(text: str) -> Iterator[_Part]:
    """The parts of ``text``, one right after the other. Raises _OtherError where none begins."""
    part, at = re.compile(_PART), 0
    while at < len(text):
        found = part.match(text, at)
        if found is None:
            raise _OtherError
        yield found.groups()
        at = found.end()


def _inner(part: _Part, parts: Iterator[_Part], depth: int) -> Any:
    """The value that ``part`` begins, with as many ``parts`` after it as it takes."""
    key, sign, *plain = part
    if key is not None or depth == 0:
        raise _OtherError
    if sign is None:
        return _value(*plain)
    if sign == "{":
        return _table(parts, depth)
    if sign == "[":
        return _list(parts, depth)
    raise _OtherError


def _list(parts: Iterator[_Part], depth: int) -> list[Any]:
    values: list[Any] = []
    part = next(parts, _END)
    if part[1] == "]":
        return values
    while True:
        values.append(_inner(part, parts, depth - 1))
        if not _goes_on(parts, "]"):
            return values
        part = next(parts, _END)


def _table(parts: Iterator[_Part], depth: int) -> dict[str, Any]:
    values: dict[str, Any] = {}
    key, sign, *_ = next(parts, _END)
    if sign == "}":
        return values
    while True:
        name = (key or "").strip('"')
        if not name or name in values:
            raise _OtherError
        values[name] = _inner(next(parts, _END), parts, depth - 1)
        if not _goes_on(parts, "}"):
            return values
        key, *_ = next(parts, _END)


def _goes_on(parts: Iterator[_Part], end: str) -> bool:
    """Whether a comma comes next; else ``end`` does."""
    sign = next(parts, _END)[1]
    if sign not in (",", end):
        raise _OtherError
    return sign == ","
