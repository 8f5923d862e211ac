"""Teeth that stand high: the gullets that bring them down, and which way to lean in each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

#: So many high teeth or rows of them are named with their gullets; the rest by their number.
_NAMED: Final = 3


def gullets_beside(numbers: Sequence[int]) -> tuple[int, ...]:
    """The gullets on either side of teeth ``numbers``, each once: of tooth 21 gullets 20 and 21."""
    return tuple(sorted({gullet for tooth in numbers for gullet in (tooth - 1, tooth) if gullet > 0}))


def lean_words(numbers: Sequence[int], *, alone: bool = False) -> str:
    """Which way to lean for high teeth ``numbers``, in order and each once; empty when there is nothing to say.

    Of two high teeth side by side each is leaned on from its outer gullet, and the gullet between them is filed
    straight: its stroke takes from both. alone: only these gullets are filed.
    """
    rows = _rows(numbers)
    told = [_lean(first, last) for first, last in rows[:_NAMED]]
    named = "; ".join(one for one in told if one)
    if not named:
        return ""
    more = f"; and so for {len(rows) - _NAMED} more" if len(rows) > _NAMED else ""
    return f"lean {named}{more}{'' if alone else '; straight in all others'}"


def _lean(first: int, last: int) -> str:
    if first == last:
        return f"toward {first} in gullets {first - 1} and {first}" if first > 1 else "toward 1 in gullet 1"
    outer = [f"toward {first} in gullet {first - 1}"] if first > 1 else []
    return ", ".join([*outer, f"toward {last} in gullet {last}", "straight between them"])


def _rows(numbers: Sequence[int]) -> list[tuple[int, int]]:
    """Rows of neighbors, by their first and last tooth."""
    found: list[tuple[int, int]] = []
    for tooth in numbers:
        if found and found[-1][1] == tooth - 1:
            found[-1] = (found[-1][0], tooth)
        else:
            found.append((tooth, tooth))
    return found
