"""A simulated plate as a flatbed scan at 1200 dpi would measure it: each figure off by what such scans were off by.

The errors are those of the table in `session/scan/LIMITS.md`, of rendered scans: no real one was at hand.
"""

from __future__ import annotations

from random import Random
from statistics import median
from typing import Final

from session.rehearsal.plate import SimulatedPlate
from session.trade.scanned_line import OFF_LINE_MM, ScannedLine, ScannedTooth, ToothState, line_of_teeth

#: How far the height and the place of a tooth and the width of its flat are off at 1200 dpi, root mean square, in mm.
HEIGHT_MM: Final = 0.0063
PLACE_MM: Final = 0.0037
FLAT_MM: Final = 0.0185

#: How far the middle of the line is.
_LINE_MM: Final = 0.0196


def scanned_plate(plate: SimulatedPlate, rng: Random) -> ScannedLine:
    """The line of ``plate`` as it is measured, with errors by ``rng``; a stump is told as broken."""
    tops = [plate.tooth(k).top for k in range(1, plate.points + 1) if not plate.tooth(k).broken]
    line, first = median(tops), sum(plate.flat_ends_mm(1)) / 2.0
    teeth = [_tooth(plate, k, line, first, rng) for k in range(1, plate.points + 1)]
    return line_of_teeth(teeth, -plate.hollow_mm() + rng.gauss(0.0, _LINE_MM), _LINE_MM, 0.002)


def _tooth(plate: SimulatedPlate, k: int, line: float, first: float, rng: Random) -> ScannedTooth:
    begins, ends = plate.flat_ends_mm(k)
    place = (begins + ends) / 2.0 - first + rng.gauss(0.0, PLACE_MM)
    if plate.tooth(k).broken:
        return ScannedTooth(tooth=k, place_mm=place, state=ToothState.BROKEN)
    width = max(0.0, plate.flat_mm(k) + rng.gauss(0.0, FLAT_MM))
    under = line - plate.tooth(k).top + rng.gauss(0.0, HEIGHT_MM)
    state = ToothState.LOW if under > OFF_LINE_MM else ToothState.HIGH if under < -OFF_LINE_MM else ToothState.WHOLE
    return ScannedTooth(
        tooth=k,
        place_mm=place,
        state=state,
        a_mm=place - width / 2.0,
        b_mm=place + width / 2.0,
        height_mm=under,
        se_mm=HEIGHT_MM,
        se_place_mm=PLACE_MM,
        se_flat_mm=FLAT_MM,
    )
