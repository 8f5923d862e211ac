"""Where each flat lies, as an eye tells it against a printed strip of the line's pitch.

The middle of a flat lies on its mark, or off it toward the heel or the toe, in quarters of the flat's own width; a
whole width is the most, and stands for all that is further. So the middle is known to an eighth of the flat either way,
and its ends besides only as well as the grade tells the width. What plan follows: session.trade.strip_plan.
"""

from __future__ import annotations

from typing import Final

#: The unit of a reading: positive where the flat lies toward the toe of its mark, negative toward the heel.
QUARTER: Final = "quarter widths toward the toe"

#: So many of them are a flat's width.
QUARTERS_OF_WIDTH: Final = 4

#: The furthest reading: a whole width or more.
MOST_QUARTERS: Final = QUARTERS_OF_WIDTH

#: The key for a flat on its mark. Those before it stand for quarters toward the toe, those after it toward the heel:
#: with the handle on the right the toe is on the left, so that the keys lie as the flats are seen.
ON_MARK_KEY: Final = 5

#: How far off its mark, by quarters without their sign.
_FAR: Final = ("on its mark", "a quarter", "half", "three quarters", "a whole width or more")


def quarters_of(value: object, unit: str | None) -> int | None:
    """The reading that ``value`` is, -4 … 4 quarters of the flat's width; None for what is none."""
    if unit != QUARTER or isinstance(value, bool) or not isinstance(value, int) or abs(value) > MOST_QUARTERS:
        return None
    return value


def quarters_by_key(digit: int) -> int | None:
    """The reading that a digit stands for, 1 … 9; None for another."""
    quarters = ON_MARK_KEY - digit
    return quarters if abs(quarters) <= MOST_QUARTERS else None


def key_of(quarters: int) -> int:
    """The digit for a reading."""
    return ON_MARK_KEY - quarters


def reading_words(quarters: int) -> str:
    """A reading in words: "on its mark", "a quarter toward the heel"."""
    far = _FAR[abs(quarters)]
    return far if not quarters else f"{far} toward the {'toe' if quarters > 0 else 'heel'}"
