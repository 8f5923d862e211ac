"""A header read in parts: the recipe and the plan, which all sharpenings of one saw have in common, are read once."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any, Final

from session.log.crc_seals import cleaned
from session.log.plain_lines import plain_keys
from session.machine.untrusted_text import ReadingError, parse

#: Where the common part begins, and the seal behind it.
_COMMON: Final = "\n[recipe]\n"
_SEALED: Final = re.compile(r'\n\[seal\]\ncrc = "([0-9a-f]{8})"\n\Z')

#: Where, before the common part, the table of its own begins.
_SESSION: Final = "\n\n[session]\n"


def header_values(text: str) -> dict[str, Any]:
    """The values of a header, cleaned, the same as those of its whole text.

    Raises ReadingError with the line, and CodecError for what no log holds.
    """
    begins, seal = text.find(_COMMON) + 1, _SEALED.search(text)
    if begins and seal is not None and begins < seal.start():
        try:
            own, common = _own(text[:begins]), _common(text[begins : seal.start() + 1])
        except ReadingError:
            # Cut in the middle of a text, or wrong: where, is told by the whole.
            return _cleaned(text)
        if own.keys().isdisjoint(common) and "seal" not in own and "seal" not in common:
            return {**own, **_copied(common), "seal": {"crc": seal[1]}}
    return _cleaned(text)


def _own(text: str) -> dict[str, Any]:
    """What stands before the common part: a few plain lines, and a table of them."""
    first, _, session = text.partition(_SESSION)
    keys, table = plain_keys(first.split("\n")), plain_keys(session.rstrip("\n").split("\n"))
    if keys is None or not table or "session" in keys:
        return _cleaned(text)
    values: dict[str, Any] = cleaned({**keys, "session": table})
    return values


@lru_cache(maxsize=16)
def _common(text: str) -> dict[str, Any]:
    return _cleaned(text)


def _copied(value: Any) -> Any:
    """``value`` in lists and tables of its own, so that nothing that is kept can be changed."""
    if isinstance(value, dict):
        return {key: _copied(inner) for key, inner in value.items()}
    return [_copied(inner) for inner in value] if isinstance(value, list) else value


def _cleaned(text: str) -> dict[str, Any]:
    values: dict[str, Any] = cleaned(parse(text))
    return values
