"""The Birmingham wire gauge, by which old makers numbered the thickness of a saw's plate.

Not the American or the imperial standard gauge: number 20 is 0.035 in here, 0.032 in there.
"""

from __future__ import annotations

from typing import Final

from session.trade.trade_error import TradeError

#: Thickness in inches of each number of the Birmingham (Stubs iron wire) gauge. The numbers 18…24 are
#: printed beside saws by SPON (18 rounded to 0.05) and as gauge numbers by HOLTZ p. 699.
_INCHES: Final[dict[int, float]] = dict(
    enumerate(
        (
            *(0.300, 0.284, 0.259, 0.238, 0.220, 0.203, 0.180, 0.165, 0.148, 0.134, 0.120, 0.109),
            *(0.095, 0.083, 0.072, 0.065, 0.058, 0.049, 0.042, 0.035, 0.032, 0.028, 0.025, 0.022),
            *(0.020, 0.018, 0.016, 0.014, 0.013, 0.012, 0.010, 0.009, 0.008, 0.007, 0.005, 0.004),
        ),
        start=1,
    )
)

THICKEST: Final = min(_INCHES)
THINNEST: Final = max(_INCHES)


def thickness_mm(gauge: int) -> float:
    """Thickness in mm of Birmingham gauge ``gauge``, 1 … 36. Raises TradeError for anything else."""
    if isinstance(gauge, bool) or not isinstance(gauge, int) or gauge not in _INCHES:
        raise TradeError(
            f"gauge {gauge!r} is not in the Birmingham gauge; allowed: a whole number "
            f"from {THICKEST} (0.300 in) to {THINNEST} (0.004 in)"
        )
    return _INCHES[gauge] * 25.4
