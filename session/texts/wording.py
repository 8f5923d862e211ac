"""Small amounts and lists of teeth, worded for a line of advice."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from session.trade.lengths import MM_PER
from session.trade.leveling import LOW_TOLERATED
from session.trade.rounding import decimals

#: When a line is leveled enough, by what can be counted: one wording wherever it is said (HASL about p. 74; KING 64).
LEVELED: Final = f"at most {LOW_TOLERATED} teeth show no flat"


def fine(mm: float, unit: str) -> str:
    """A set or a take in thou for an owner who thinks in inches, else in mm: a step finer than it can be felt."""
    if unit in ("in", "thou"):
        return f"{decimals(mm / MM_PER['thou'], 1)} thou"
    return f"{decimals(mm, 3)} mm"


def area(mm2: float, unit: str) -> str:
    """An area of sawn wood in square inches for an owner who thinks in inches, else in mm²."""
    if unit in ("in", "thou"):
        return f"{decimals(mm2 / MM_PER['in'] ** 2, 3)} in²"
    return f"{decimals(mm2, 0)} mm²"


def teeth(numbers: Sequence[int], most: int = 6, *, of: int = 0) -> str:
    """ "tooth 12", "teeth 12, 47 and 3 more": at most ``most`` numbers are named.

    of: how many there are in all, where ``numbers`` are only the first of them.
    """
    named = ", ".join(str(number) for number in numbers[:most])
    more = max(of, len(numbers)) - min(most, len(numbers))
    return f"{'tooth' if len(numbers) == 1 else 'teeth'} {named}{f' and {more} more' if more > 0 else ''}"


def times(count: int, one: str) -> str:
    """ "1 pass", "2 passes": the count with its noun."""
    plural = one if count == 1 else f"{one}es" if one.endswith("s") else f"{one}s"
    return f"{count} {plural}"


#: The first of so many are counted in words.
_NTH: Final = {2: "second", 3: "third", 4: "fourth", 5: "fifth", 6: "sixth"}


def nth_time(number: int) -> str:
    """ "second time": how often something is done by now, 2 or more."""
    return f"{_NTH.get(number, f'{number}th')} time"


def median_of(records: int) -> str:
    """What an amount from so many records (1 or more) rests on."""
    return "the one record that tells it" if records == 1 else f"the median of {records} records"
