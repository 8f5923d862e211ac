"""Small amounts and lists of teeth, worded for a line of advice."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from session.trade.lengths import MM_PER, by_inches
from session.trade.leveling import LOW_TOLERATED
from session.trade.rounding import decimals, half_up

#: When a line is leveled enough, by what can be counted: one wording wherever it is said (HASL about p. 74; KING 64).
LEVELED: Final = f"at most {LOW_TOLERATED} teeth show no flat"


def fine(mm: float, unit: str) -> str:
    """A set or a take in thou for an owner who thinks in inches, else in mm: a step finer than it can be felt."""
    if by_inches(unit):
        return f"{decimals(mm / MM_PER['thou'], 1)} thou"
    return f"{decimals(mm, 3)} mm"


def within(least_mm: float, most_mm: float, unit: str) -> str:
    """A range of heights, "1 to 3 thou", no finer than an eye's grades bear it; one figure where it has no width."""
    if most_mm - least_mm < _NO_WIDTH_MM:
        return fine(most_mm, unit)
    if not by_inches(unit):
        return f"{_stepped(least_mm, _STEPS_MM)} to {_stepped(most_mm, _STEPS_MM)} mm"
    least, most = least_mm / MM_PER["thou"], most_mm / MM_PER["thou"]
    return f"{_stepped(least, _STEPS_THOU)} to {_stepped(most, _STEPS_THOU)} thou"


#: Under this a range is told as one figure, in mm.
_NO_WIDTH_MM: Final = 1e-6

#: Under so much, figures of a range go by such steps: thou, and mm.
_STEPS_THOU: Final = ((1.0, 0.1), (3.0, 0.5), (math.inf, 1.0))
_STEPS_MM: Final = ((0.01, 0.001), (0.1, 0.005), (math.inf, 0.01))


def _stepped(amount: float, steps: Sequence[tuple[float, float]]) -> str:
    step = next(step for under, step in steps if amount < under)
    return f"{half_up(half_up(amount / step) * step, 3):g}"


def off_line(per_100_mm: float, unit: str) -> str:
    """How far a cut leaves its line, told in mm over 100 mm: for an owner who thinks in inches over four of them, which
    is as long but for a little."""
    if not by_inches(unit):
        return f"{decimals(per_100_mm, 1)} mm in 100 mm"
    return f"{decimals(per_100_mm / 100.0 * _INCHES, 2)} in over {_INCHES} in"


#: Over so many inches it is told how far a cut leaves its line.
_INCHES: Final = 4


def area(mm2: float, unit: str) -> str:
    """An area of sawn wood in square inches for an owner who thinks in inches, else in mm²."""
    if by_inches(unit):
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
    """ "1 pass", "2 passes", "2 teeth": the count with its noun."""
    plural = "teeth" if one == "tooth" else f"{one}es" if one.endswith("s") else f"{one}s"
    return f"{count} {one if count == 1 else plural}"


def capital(words: str) -> str:
    """``words`` as the beginning of a sentence."""
    return f"{words[:1].upper()}{words[1:]}"


def lowered(words: str) -> str:
    """The same words for the midst of a sentence.

    >>> lowered("Look at the flats")
    'look at the flats'
    """
    return words[:1].lower() + words[1:]


#: The first of so many are counted in words.
_NTH: Final = {2: "second", 3: "third", 4: "fourth", 5: "fifth", 6: "sixth"}


def nth_time(number: int) -> str:
    """ "second time": how often something is done by now, 2 or more."""
    return f"{_NTH.get(number, f'{number}th')} time"


def median_of(records: int) -> str:
    """What an amount from so many records (1 or more) rests on."""
    return "the one record that tells it" if records == 1 else f"the median of {records} records"
