"""Rounding as it is taught: to the nearest, and half way up. Every number that is shown or advised goes through here.

Python rounds a tie to the even neighbor, and prints the binary fraction that is nearest to what was written, so that
0.125 becomes 0.12 and 2.675 becomes 2.67. A person with a pencil gets 0.13 and 2.68.
"""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Context, Decimal
from typing import Final

#: Figures that a computed number is believed to: what an inch and a millimeter leave behind them lies beyond.
BELIEVED: Final = 12

_BELIEVED: Final = Context(prec=BELIEVED, rounding=ROUND_HALF_UP)
_EXACT: Final = Context(prec=400, rounding=ROUND_HALF_UP)


def half_up(value: float, places: int = 0) -> float:
    """``value`` to so many decimal places, 0 or more; half way between two it goes away from zero.

    Raises ValueError for a value that is not finite.
    """
    return float(_nearest(value, places))


def whole_number(value: float) -> int:
    """The nearest whole number; half way between two it goes away from zero. Raises ValueError if not finite."""
    return int(_nearest(value, 0))


def decimals(value: float, places: int) -> str:
    """``value`` with just so many decimal places, rounded half up; no sign on a zero. "inf" and "nan" stay as such."""
    if not math.isfinite(value):
        return str(value)
    found = _nearest(value, places)
    return f"{abs(found) if found.is_zero() else found:f}"


def significant(value: float, count: int) -> str:
    """``value`` to so many significant figures, rounded half up, without zeros that say nothing: "0.211", "6", "1200".

    What is not finite is written as "inf" and "nan".
    """
    if not math.isfinite(value):
        return str(value)
    found = Context(prec=count, rounding=ROUND_HALF_UP).create_decimal(_believed(value))
    text = f"{found:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if found.is_zero() else text


def percent(share: float) -> str:
    """A share as whole percent, such as "33%", rounded half up. Raises ValueError for one that is not finite."""
    return f"{whole_number(share * 100)}%"


def _nearest(value: float, places: int) -> Decimal:
    return _believed(value).quantize(Decimal(1).scaleb(-places), context=_EXACT)


def _believed(value: float) -> Decimal:
    """The decimal number that ``value`` stands for: as it would be written, less what arithmetic left behind it."""
    if not math.isfinite(value):
        raise ValueError(f"{value!r} cannot be rounded; allowed: a finite number")
    exact = Decimal(repr(float(value)))
    return _BELIEVED.plus(exact) if abs(exact) < 10**BELIEVED else exact
