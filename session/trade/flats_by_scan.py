"""Flats as a scan measured them, in shares of the pitch: how wide each is, and how far it lies off an even line.

An even line is the one that the saw's own spaces make, drawn out as the flats are by least squares, and laid so that
half of the flats lie on either side of their places. So neither the scanner's scale nor where the line begins matters:
only the spaces from point to point are evened.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import accumulate
from typing import Final

from session.trade.middle_values import median
from session.trade.rounding import half_up
from session.trade.scan_readings import MOST_OFF
from session.trade.scanned_line import ScannedLine, told_flat
from session.value_class import dataclass

#: Decimals of a share: far finer than any scan tells a flat.
_DECIMALS: Final = 5


@dataclass(frozen=True, slots=True)
class FlatByScan:
    """One flat. share: its width, 0 where the tooth has none; off: how far its middle lies off its place on an even
    line, positive toward the toe; both as shares of the space in front of the tooth."""

    share: float
    off: float


def flats_by_scan(line: ScannedLine, spaces_mm: Sequence[float]) -> Mapping[int, FlatByScan]:
    """The flats that ``line`` tells, by tooth, as `session.trade.scanned_line.told_flat` has them: a low one has none,
    whatever its wear has left, and of a broken or unseen one nothing is told.

    spaces_mm: the space in front of each tooth as the saw has it, above 0, one for each tooth of ``line``. Nothing
    where fewer than two teeth have a flat: no place can be told then.
    """
    belongs = tuple(accumulate(spaces_mm[:-1], initial=0.0))
    widths: dict[int, float] = {}
    middles: dict[int, float] = {}
    for tooth in line.teeth:
        ends = told_flat(tooth)
        if ends is None:
            continue
        widths[tooth.tooth] = 0.0
        if ends:
            a, b = ends
            middles[tooth.tooth], widths[tooth.tooth] = (a + b) / 2.0, b - a
    if len(middles) < 2:
        return {}
    from statistics import linear_regression

    # By all flats together, as those at the ends may lie off their places like any other.
    drawn_out = linear_regression([belongs[tooth - 1] for tooth in middles], list(middles.values())).slope
    begin = median(middle - drawn_out * belongs[tooth - 1] for tooth, middle in middles.items())
    found: dict[int, FlatByScan] = {}
    for number, width in widths.items():
        space = spaces_mm[number - 1]
        off = (middles[number] - begin - drawn_out * belongs[number - 1]) / space if number in middles else 0.0
        flat = FlatByScan(half_up(width / space, _DECIMALS), half_up(off, _DECIMALS) + 0.0)
        if flat.share < 1.0 and abs(flat.off) < MOST_OFF:
            found[number] = flat
    return found
