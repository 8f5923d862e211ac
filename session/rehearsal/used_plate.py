"""What months of sawing do to a plate that was sharp: points rounded, and nothing else.

The amount is judgment, as in `session.rehearsal.worn_plate`.
"""

from __future__ import annotations

from random import Random

from session.rehearsal.cut_judgment import idle
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.worn_plate import DULL_MM


def use(plate: SimulatedPlate, rng: Random) -> None:
    """Dull ``plate`` as one season's work does; a stump and a tooth that idles keep what they have."""
    worn = [k for k in range(1, plate.points + 1) if not plate.tooth(k).broken and not idle(plate, k)]
    for k in worn:
        plate.tooth(k).top -= rng.uniform(0.2, 1.0) * DULL_MM


def make_alternate(plate: SimulatedPlate, share: float) -> None:
    """Make every other tooth smaller, by ``share`` (0 … 0.5) of a pitch taken from its front: as a hand leaves a line
    that always leans the same way."""
    for k in range(2, plate.points + 1, 2):
        steel = plate.tooth(k)
        if not steel.broken:
            steel.front -= share * plate.saw.pitch_mm
            steel.top = min(steel.top, plate.apex_mm(k))
