"""Places as a rule shows them: to the mark that stands on it, a thirty-second of an inch or half a millimeter."""

from __future__ import annotations

import math
from typing import Final

from session.trade.lengths import MM_PER, by_inches
from session.trade.rounding import decimals, whole_number
from session.trade.trade_error import TradeError

#: The finest marks of an ordinary steel rule (common practice, no source): parts of an inch, and millimeters.
INCH_PARTS: Final = 32
MM_STEP: Final = 0.5

#: Decimals that half a millimeter needs in each metric unit.
_PLACES: Final = {"mm": 1, "cm": 2, "m": 4}


def on_rule(mm: float, unit: str) -> str:
    """``mm`` millimeters (finite, 0 or more) at the nearest mark of a rule, half way up, with the unit: "6 9/16 in".

    unit: a key of ``MM_PER``; thou are read off an inch rule. Raises TradeError for a length or a unit that cannot be.
    """
    if not (math.isfinite(mm) and mm >= 0):
        raise TradeError(f"{mm:g} mm on a rule; allowed is a length of 0 and more")
    if by_inches(unit):
        return f"{_inches(whole_number(mm / MM_PER['in'] * INCH_PARTS))} in"
    if unit not in _PLACES:
        raise TradeError(f"{unit} on a rule; allowed units: {', '.join(MM_PER)}")
    amount = decimals(whole_number(mm / MM_STEP) * MM_STEP / MM_PER[unit], _PLACES[unit])
    return f"{amount.rstrip('0').rstrip('.')} {unit}"


def _inches(parts: int) -> str:
    """So many thirty-seconds as a whole number and a fraction in its lowest terms: "6 9/16", "3/32", "0"."""
    whole, over = divmod(parts, INCH_PARTS)
    if not over:
        return str(whole)
    common = math.gcd(over, INCH_PARTS)
    fraction = f"{over // common}/{INCH_PARTS // common}"
    return f"{whole} {fraction}" if whole else fraction
