"""Lengths with their units, kept as the user wrote them.

A saw is measured in inches by one filer and in millimeters by the next, and nobody wants their
"0.035 in" back as "0.889 mm". So a length remembers its text; the arithmetic uses millimeters.
"""

from __future__ import annotations

import math
import re
from typing import Final

from session.trade.rounding import decimals
from session.trade.trade_error import TradeError
from session.value_class import dataclass, field

#: Millimeters in one of each unit. The inch is exactly 25.4 mm (international yard and pound
#: agreement, 1959); a thou is a thousandth of an inch.
MM_PER: Final[dict[str, float]] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "thou": 0.0254}

#: The units of whoever measures by inches.
_BY_INCHES: Final = frozenset({"in", "thou"})

#: How the allowed units are named in an error.
UNITS_IN_WORDS: Final = "mm, cm, m, in or thou"

#: A length as an error shows one where no other is told: that of a saw.
EXAMPLE: Final = "22 in"

#: The same units as people write them out; ASCII letters only, whatever the capitals.
_SPELLED: Final[dict[str, str]] = {
    **dict.fromkeys(('"', "″", "”", "''", "inch", "inches"), "in"),
    **dict.fromkeys(("millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("centimeter", "centimeters", "centimetre", "centimetres"), "cm"),
    **dict.fromkeys(("meter", "meters", "metre", "metres"), "m"),
    **dict.fromkeys(("thous", "thousandth", "thousandths"), "thou"),
}

#: Fractions that have a sign of their own.
_VULGAR: Final = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}

#: The signs of an inch one by one: a set of letters so far apart takes long to compile. Compiled with the first length.
_WRITTEN: Final = (
    r"\s*([+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+))"
    r"(?:(?:\s+|-)([0-9]+)\s*/\s*([0-9]+)|\s*/\s*([0-9]+))?\s*([A-Za-z]*|\"|″|”|'')\.?\s*"
)

#: A comma that may part thousands or be a decimal sign: three digits after it, and before it a number that is not 0.
_THOUSANDS: Final = r"[+]?[1-9][0-9]{0,2},[0-9]{3}"


def by_inches(unit: str) -> bool:
    """Whether whoever writes ``unit`` (a key of ``MM_PER``) measures by inches, and is told of everything so."""
    return unit in _BY_INCHES


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length in millimeters, with the text it was written as and the unit of that text."""

    mm: float
    text: str = field(compare=False)
    unit: str = field(compare=False)

    @classmethod
    def of(cls, mm: float, unit: str = "mm") -> Length:
        """A computed length of ``mm`` millimeters, written in ``unit`` (a key of ``MM_PER``)."""
        return cls(mm, in_unit(mm, unit), unit)

    def __str__(self) -> str:
        return self.text


def parse_length(text: str, example: str = EXAMPLE) -> Length:
    """Read a length such as "22 in", "0.035 in", "560 mm", "6 thou", "3 1/2 in" or "26 inches".

    example: one like that which is asked for, for an error.

    A comma is taken as a decimal sign, but refused where it may part thousands, as in "1,000 thou". Raises TradeError
    for that and for anything else: a bare number, an unknown unit, a negative or infinite amount.
    """
    if not isinstance(text, str):
        raise TradeError(f'a length is a text with its unit, such as "{example}"; allowed units: {UNITS_IN_WORDS}')
    found = re.fullmatch(_WRITTEN, plain_fractions(text)) if len(text) <= 64 else None
    if found is None:
        raise TradeError(
            f'{_short(text)} is not a length; write a number and a unit, such as "{example}"; '
            f"allowed units: {UNITS_IN_WORDS}"
        )
    whole, over, under, under_only, unit_text = found.groups()
    unit = _SPELLED.get(unit_text.lower(), unit_text.lower())
    if not unit:
        raise TradeError(f"{_short(text)} has no unit; allowed units: {UNITS_IN_WORDS}")
    if unit not in MM_PER:
        raise TradeError(f"unknown unit {_short(unit_text)}; allowed units: {UNITS_IN_WORDS}")
    if re.fullmatch(_THOUSANDS, whole):
        plain, point = whole.replace(",", ""), whole.replace(",", ".")
        raise TradeError(f"{_short(text)} can be read two ways; allowed: {plain} {unit}, or {point} {unit}")
    amount = float(whole.replace(",", "."))
    if under_only is not None:
        over, under, amount = whole, under_only, 0.0
    if over is not None:
        try:
            amount += float(over) / float(under)
        except (ValueError, ZeroDivisionError):
            raise TradeError(f"{_short(text)} is not a fraction that can be read; allowed: such as 7/8") from None
    mm = amount * MM_PER[unit]
    if not math.isfinite(mm) or mm < 0 or whole.startswith("-"):
        raise TradeError(f"{_short(text)} is negative or not finite; a length is zero or more")
    return Length(mm, text.strip(), unit)


def plain_fractions(text: str) -> str:
    """``text`` with fractions that have a sign of their own written out."""
    for sign, written in _VULGAR.items():
        text = text.replace(sign, f" {written}")
    return text


def in_unit(mm: float, unit: str) -> str:
    """``mm`` millimeters written in ``unit``, as fine as that unit is read at the bench."""
    places = {"mm": 2, "cm": 2, "m": 3, "in": 3, "thou": 1}[unit]
    amount = decimals(mm / MM_PER[unit], places)
    if unit != "in" or mm >= MM_PER["in"]:
        amount = amount.rstrip("0").rstrip(".") if "." in amount else amount
    return f"{amount} {unit}"


def _short(text: str) -> str:
    shown = text if len(text) <= 24 else text[:23] + "…"
    return f'"{shown}"'
