"""Rounding as it is taught: to the nearest, and half way up. Every number that is shown or advised goes through here.

Python rounds a tie to the even neighbor, and prints the binary fraction that is nearest to what was written, so that
0.125 becomes 0.12 and 2.675 becomes 2.67. A person with a pencil gets 0.13 and 2.68. So here whole numbers are rounded:
the figures as they are written, without their point.
"""

from __future__ import annotations

import math
from typing import Final

#: Figures that a computed number is believed to: what an inch and a millimeter leave behind them lies beyond.
BELIEVED: Final = 12


def half_up(value: float, places: int = 0) -> float:
    """``value`` to so many decimal places, 0 or more; half way between two it goes away from zero.

    Raises ValueError for a value that is not finite.
    """
    near = float(_written(_nearest(value, places), places))
    return math.copysign(near, value) if value else 0.0


def whole_number(value: float) -> int:
    """The nearest whole number; half way between two it goes away from zero. Raises ValueError if not finite."""
    near = _nearest(value, 0)
    return -near if value < 0 else near


def decimals(value: float, places: int) -> str:
    """``value`` with just so many decimal places, rounded half up; no sign on a zero. "inf" and "nan" stay as such."""
    if not math.isfinite(value):
        return str(value)
    near = _nearest(value, places)
    return f"{'-' if near and value < 0 else ''}{_written(near, places)}"


def significant(value: float, count: int) -> str:
    """``value`` to so many significant figures, rounded half up, without zeros that say nothing: "0.211", "6", "1200".

    What is not finite is written as "inf" and "nan".
    """
    if not math.isfinite(value):
        return str(value)
    figures, places = _believed(value)
    if (more := len(str(figures)) - count) > 0:
        figures, places = _shortened(figures, more), places - more
    text = _written(figures, places)
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"{'-' if figures and value < 0 else ''}{text}"


def percent(share: float) -> str:
    """A share as whole percent, such as "33%", rounded half up. Raises ValueError for one that is not finite."""
    return f"{whole_number(share * 100)}%"


def _nearest(value: float, places: int) -> int:
    """The figures of ``value`` to so many decimal places, without its sign."""
    figures, there = _believed(value)
    if there > places:
        return _shortened(figures, there - places)
    longer: int = figures * 10 ** (places - there)
    return longer


def _believed(value: float) -> tuple[int, int]:
    """The figures that ``value`` stands for, and how many of them are decimal places, less than none for zeros behind
    them: as it would be written without its sign, less what arithmetic left behind it."""
    if not math.isfinite(value):
        raise ValueError(f"{value!r} cannot be rounded; allowed: a finite number")
    written, _, power = repr(abs(float(value))).partition("e")
    whole, _, behind = written.partition(".")
    figures, places = int(whole + behind), len(behind) - int(power or "0")
    if (count := len(str(figures))) > BELIEVED and count - places <= BELIEVED:
        return _shortened(figures, count - BELIEVED), places - (count - BELIEVED)
    return figures, places


def _shortened(figures: int, by: int) -> int:
    """``figures`` without the last ones, 1 or more, rounded half up."""
    shorter: int = (figures + 5 * 10 ** (by - 1)) // 10**by
    return shorter


def _written(figures: int, places: int) -> str:
    """``figures`` with their point before the last so many of them."""
    if places <= 0:
        return str(figures * 10**-places)
    text = str(figures).zfill(places + 1)
    return f"{text[:-places]}.{text[-places:]}"
