"""A header read in parts: the recipe and the plan, which all sharpenings of one saw have in common, are read once."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final

from session.machine.untrusted_text import ReadingError, parse

#: Where the common part begins, and the seal behind it.
_COMMON: Final = "\n[recipe]\n"
_SEALED: Final = re.compile(r'\n\[seal\]\ncrc = "([0-9a-f]{8})"\n\Z')


def header_values(text: str) -> dict[str, Any]:
    """The values of a header, the same as those of its whole text. Not to be changed in their depth.

    Raises ReadingError with the line.
    """
    begins, seal = text.find(_COMMON) + 1, _SEALED.search(text)
    if begins and seal is not None and begins < seal.start():
        try:
            own, common = parse(text[:begins]), _common(text[begins : seal.start() + 1])
        except ReadingError:
            # Cut in the middle of a text, or wrong: where, is told by the whole.
            return parse(text)
        if own.keys().isdisjoint(common) and "seal" not in own and "seal" not in common:
            return {**own, **common, "seal": {"crc": seal[1]}}
    return parse(text)


@lru_cache(maxsize=16)
def _common(text: str) -> Mapping[str, Any]:
    return parse(text)
