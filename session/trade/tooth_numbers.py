"""Numbers of teeth as a person writes them: "12, 40-44", "95, 97 and 120", "teeth 40 to 44", "none"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from session.trade.pitch import MOST_POINTS
from session.trade.trade_error import TradeError

_PART: Final = re.compile(r"([0-9]{1,6})(?:-([0-9]{1,6}))?")

#: What may stand between the two ends of a range.
_RANGE: Final = re.compile(r"\s*(?:[-–—]|(?<![a-z])(?:up to|to|through|thru|till|until)(?![a-z]))\s*")

#: What may stand between two teeth, blanks aside.
_BETWEEN: Final = re.compile(r"[,;&+]|(?<![a-z])(?:and|plus)(?![a-z])")

#: Words that say that a number is a tooth's, and nothing more.
_SAID_WITH: Final = re.compile(r"(?<![a-z])(?:teeth|tooth|points?|numbers?|nos?|nrs?|the|from|also)(?![a-z])\.?|#")

_ORDINAL: Final = re.compile(r"([0-9])(?:st|nd|rd|th)(?![a-z])")

_NONE: Final = frozenset({"none", "no", "no teeth", "no tooth", "none of them", "nothing", "not any"})

#: How a list of teeth is written, for an error.
WRITTEN: Final = 'numbers from 1 at the heel and ranges such as "3, 5-9", or "none"'


def read_numbers(text: str, most: int = MOST_POINTS) -> tuple[int, ...]:
    """The teeth that ``text`` names, in order and each once; none for "none". Raises TradeError.

    most: the highest number a tooth may have.
    """
    told = " ".join(text.casefold().split()).strip(" ,;.")
    if told in _NONE:
        return ()
    found: set[int] = set()
    for named in _BETWEEN.split(told):
        if named.strip() or not told:
            found.update(_named(named.strip(), most))
    return tuple(sorted(found))


def _named(told: str, most: int) -> Iterable[int]:
    """The teeth that ``told`` names between two commas."""
    for part in _RANGE.sub("-", _ORDINAL.sub(r"\1", _SAID_WITH.sub(" ", told))).split() or [""]:
        read = _PART.fullmatch(re.sub(r"^-|-$", "?", part))
        if read is None:
            shown = told if len(told) <= 24 else f"{told[:23]}…"
            raise TradeError(f'"{shown}" names no tooth by its number; allowed: {WRITTEN}')
        first, last = int(read[1]), int(read[2] or read[1])
        if not 1 <= first <= most or not 1 <= last <= most:
            wrong = first if not 1 <= first <= most else last
            raise TradeError(f"there is no tooth {wrong}; allowed: 1 at the heel to {most}")
        if first > last:
            raise TradeError(f'"{part}" runs backward; allowed: the lower number first')
        yield from range(first, last + 1)


def numbers_in_words(numbers: Sequence[int]) -> str:
    """The same numbers written shortly, runs of three or more as a range; "none" for none."""
    return ", ".join(_runs(sorted(set(numbers)))) or "none"


def _runs(numbers: Sequence[int]) -> Iterable[str]:
    at = 0
    while at < len(numbers):
        end = at
        while end + 1 < len(numbers) and numbers[end + 1] == numbers[end] + 1:
            end += 1
        if end - at >= 2:
            yield f"{numbers[at]}-{numbers[end]}"
        else:
            yield from (str(number) for number in numbers[at : end + 1])
        at = end + 1
