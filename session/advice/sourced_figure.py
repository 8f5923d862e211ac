"""A figure: a number that knows its unit, the formula it comes from and who stands behind that."""

from __future__ import annotations

from typing import Final

from session.trade.lengths import MM_PER, by_inches
from session.trade.rounding import decimals
from session.value_class import dataclass

#: Sources of a figure that are no work: what the owner wrote, what the owner's records say, what was asked for.
OWN_RECIPE: Final = "your recipe"
OWN_RECORDS: Final = "your records"
ASKED: Final = "asked for"

#: And of one that follows by arithmetic, is remembered, or judged.
DERIVED: Final = "derived"
MEMORY: Final = "from memory"
JUDGMENT: Final = "judgment"


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of a saw.

    key: its name in JSON. words: its name for a person. value: None when it cannot be told, else a finite number
    or a yes or no. unit: "mm", "deg", or a noun for a count. formula: how it follows, in words or signs. source:
    short names of session.texts.sources, "derived", "from memory", "judgment", OWN_RECIPE, OWN_RECORDS or ASKED.
    """

    key: str
    words: str
    value: float | int | bool | None
    unit: str
    formula: str
    source: str

    @property
    def doubt(self) -> str:
        """The part of the source that the value is not to be shown without; empty when there is none."""
        return ", ".join(part for part in ("from memory", "judgment") if part in self.source.split("; "))

    def shown(self, unit: str) -> str:
        """The value with its unit; a length in ``unit``, that of the saw's owner."""
        if self.value is None:
            return "not given" if self.source == OWN_RECIPE else "not known"
        if isinstance(self.value, bool):
            return "yes" if self.value else "no"
        if self.unit == "mm":
            return amount(self.value, unit)
        if self.unit == "deg":
            return f"{_plain(self.value, 1)}°"
        return f"{_plain(self.value, 2)} {self.unit}".rstrip()


def amount(mm: float, unit: str) -> str:
    """A length in inches for an owner who writes inches or thou, else in mm; finer where it is small."""
    if by_inches(unit):
        inches = mm / MM_PER["in"]
        text = decimals(inches, 4 if abs(inches) < 0.1 else 3)
        # Old rules and calipers show thousandths, so a last zero of ten-thousandths says nothing.
        return f"{text[:-1] if len(text.partition('.')[2]) == 4 and text.endswith('0') else text} in"
    return f"{decimals(mm, 3 if abs(mm) < 1 else 2)} mm"


def _plain(value: float, places: int) -> str:
    text = decimals(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text
