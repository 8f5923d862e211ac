"""What a person reads in a refusal: which number of those that it allows comes nearest to the one told."""

from __future__ import annotations

import re
from typing import Final

_ALLOWED: Final = re.compile(r"(?:allowed|one of): (.+)")
_ON_TO: Final = re.compile(r"(\d+), (\d+) … (\d+)")
_NUMBER: Final = re.compile(r"\d+")


def nearest_allowed(told: str, refusal: str) -> int | None:
    """Of the numbers that ``refusal`` allows, the one nearest to ``told``, the lower of two; None where it names none.

    "1, 3, 5 … 55" stands for every other one up to 55.
    """
    found = _ALLOWED.search(refusal)
    if found is None or not told.isdecimal():
        return None
    allowed = {int(number) for number in _NUMBER.findall(found[1])}
    if on := _ON_TO.search(found[1]):
        first, second, last = map(int, on.groups())
        step = second - first
        allowed |= set(range(second, last + (1 if step > 0 else -1), step)) if step else set()
    return min(allowed, key=lambda number: (abs(number - int(told)), number), default=None)
