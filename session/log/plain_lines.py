"""The lines of a mark as this program writes them, read without the whole of TOML; anything else is left to that.

What is read here is what TOML says of the same text, at a quarter of the time: a log of ten thousand marks is read at
each opening, and each mark once more as it is written.
"""

from __future__ import annotations

import re
from datetime import datetime
from typing import Any, Final

from session.machine.untrusted_text import LONGEST_LINE

#: A bare key, and a text without escapes, a whole number, a decimal one, a word of logic or a time with its offset.
_LINE: Final = re.compile(
    r'([a-z_]+) = (?:"([^"\\\x00-\x1f\x7f]*)"'
    r"|(-?(?:0|[1-9][0-9]{0,17}))"
    r"|(-?(?:0|[1-9][0-9]{0,14})\.[0-9]{1,17})"
    r"|(true|false)"
    r"|([0-9]{4}-[0-9]{2}-[0-9]{2}[T ](?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9](?:\.[0-9]{1,6})?"
    r"(?:Z|[+-](?:[01][0-9]|2[0-3]):[0-5][0-9])))"
)

_HEAD: Final = ["", "[[mark]]"]


def plain_values(text: str) -> dict[str, Any] | None:
    """The keys and values of a block with nothing but plain lines; None for any other."""
    head, lines, end = (parts := text.split("\n"))[:2], parts[2:-1], parts[-1]
    if head != _HEAD or end:
        return None
    values: dict[str, Any] = {}
    for line in lines:
        found = _LINE.fullmatch(line) if len(line) <= LONGEST_LINE else None
        if found is None or found[1] in values:
            return None
        key, string, whole, decimal, truth, time = found.groups()
        if string is not None:
            values[key] = string
        elif whole is not None:
            values[key] = int(whole)
        elif decimal is not None:
            values[key] = float(decimal)
        elif truth is not None:
            values[key] = truth == "true"
        else:
            try:
                values[key] = datetime.fromisoformat(time)
            except ValueError:
                return None
    return values
