"""Numbers of teeth as a person writes them: "12, 40-44", "none"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from session.trade.pitch import MOST_POINTS
from session.trade.trade_error import TradeError

_PART: Final = re.compile(r"([0-9]{1,6})(?:-([0-9]{1,6}))?")
_DASH: Final = re.compile(r"\s*[-–]\s*")

#: How a list of teeth is written, for an error.
WRITTEN: Final = 'numbers from 1 at the heel and ranges such as "12, 40-44", or "none"'


def read_numbers(text: str, most: int = MOST_POINTS) -> tuple[int, ...]:
    """The teeth that ``text`` names, in order and each once; none for "none". Raises TradeError.

    most: the highest number a tooth may have.
    """
    if text.strip().casefold() == "none":
        return ()
    found: set[int] = set()
    for part in re.split(r"[,;\s]+", _DASH.sub("-", text).strip(" ,;")):
        read = _PART.fullmatch(part)
        if read is None:
            raise TradeError(f'"{part[:20]}" names no tooth; allowed: {WRITTEN}')
        first, last = int(read[1]), int(read[2] or read[1])
        if not 1 <= first <= most or not 1 <= last <= most:
            wrong = first if not 1 <= first <= most else last
            raise TradeError(f"there is no tooth {wrong}; allowed: 1 at the heel to {most}")
        if first > last:
            raise TradeError(f'"{part}" runs backward; allowed: the lower number first')
        found.update(range(first, last + 1))
    return tuple(sorted(found))


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
