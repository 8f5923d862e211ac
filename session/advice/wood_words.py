"""Which condition of wood a person's own words mean: whole words count, so that greenheart is not wet."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from session.trade.set_rules import WOODS

#: Words by which wood is wet, whatever its kind.
_WET: Final = frozenset({"green", "wet", "damp", "moist", "unseasoned", "undried", "fresh", "freshly"})
#: Words by which it is not, though they tell nothing of hard or soft.
_DRY: Final = frozenset({"dry", "dried", "seasoned"})
_SOFT: Final = frozenset({"soft", "softwood", "softwoods"})
_HARD: Final = frozenset({"hard", "hardwood", "hardwoods"})
#: A word after one of these says what the wood is not.
_NOT: Final = frozenset({"not", "never", "no"})


def wood_class(wood: str | None) -> str | None:
    """Which of the three conditions of wood the person's words mean; None when they do not tell."""
    if wood is None:
        return None
    if wood.casefold() in WOODS:
        return wood.casefold()
    words = frozenset(_words(wood))
    if words & _WET:
        return "green or wet"
    if words & _SOFT:
        return "dry softwood"
    return "dry hardwood" if words & _HARD else None


def is_wet(wood: str | None) -> bool | None:
    """Whether the person's words say that the wood was wet; None when they do not tell."""
    found = wood_class(wood)
    if found is None:
        return False if wood is not None and not _DRY.isdisjoint(_words(wood)) else None
    return found == "green or wet"


def _words(wood: str) -> Iterator[str]:
    """The words of ``wood`` but those that are denied."""
    before = ""
    for word in re.findall(r"[^\W\d_]+", wood.casefold()):
        if before not in _NOT:
            yield word
        before = word
