"""Lengths as they are typed at a step: a number without a unit has the one that was told beside it, else the saw's."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from session.trade.lengths import EXAMPLE, Length
from session.trade.told_amounts import said_length
from session.trade.trade_error import TradeError

#: A number with nothing behind it, a fraction among them.
_BARE: Final = re.compile(r"[0-9.,/\s½¼¾⅛⅜⅝⅞-]*[0-9½¼¾⅛⅜⅝⅞][.,]?\s*")

#: A comma parts two numbers where a blank follows it; where a point is the decimal sign, it does so in any case.
_PARTED: Final = re.compile(r"\s*;\s*|\s*,\s+")
_PARTED_BY_ANY: Final = re.compile(r"\s*[;,]\s*")


def parted(text: str) -> list[str]:
    """The parts of a list of numbers such as "0.041, 0.042 in", "0,041 in; 0,042 in" or "0.041,0.042"."""
    told = text.strip(" ,;")
    return (_PARTED_BY_ANY if re.search(r"[0-9]\.[0-9]", told) else _PARTED).split(told)


def typed_lengths(parts: Sequence[str], unit: str, example: str = EXAMPLE) -> tuple[Length, ...]:
    """Each of ``parts`` as a length, with its unit: one without takes the one unit of the others, else ``unit``, that
    of the saw.

    Raises TradeError with ``example`` for one that is no length, also where the others have several units.

    >>> [length.text for length in typed_lengths(["0.041 in", "0.042"], "mm")], typed_lengths(["41"], "thou")[0].text
    (['0.041 in', '0.042 in'], '41 thou')
    """
    told = [None if _BARE.fullmatch(part) else said_length(part, example) for part in parts]
    units = dict.fromkeys(length.unit for length in told if length is not None)
    for part, length in zip(parts, told, strict=True):
        if length is None and len(units) > 1:
            raise TradeError(f'"{part}" may be {" or ".join(units)}; allowed: a unit on each, where there are several')
    of_bare = next(iter(units), unit)
    return tuple(
        said_length(f"{part} {of_bare}", example) if length is None else length
        for part, length in zip(parts, told, strict=True)
    )
