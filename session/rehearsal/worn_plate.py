"""A plate as it comes to the bench: dull, unevenly spaced, a few teeth low, now and then one broken.

All amounts are judgment, chosen so that a plate looks like a saw that was used for a season.
"""

from __future__ import annotations

from random import Random
from typing import Final

from session.rehearsal.plate import SimulatedPlate, ToothSteel
from session.trade.saw import Leans, Saw

#: How far a point lies out of its place along the line, as a share of the pitch, at most.
OUT_OF_PLACE: Final = 0.02

#: How far teeth differ in height, and how far wear has rounded a point, in mm, at most.
UNEVEN_MM: Final = 0.02
DULL_MM: Final = 0.012

#: How far a low tooth lies under the line, as a share of its depth.
LOW_FROM: Final = 0.08
LOW_TO: Final = 0.14

#: Of so many saws one has a broken tooth, and one a hollow line.
BROKEN_IN: Final = 4
HOLLOW_IN: Final = 8

#: How far the middle of a hollow line hangs down, in mm.
HOLLOW_MM: Final = 0.08


def worn_plate(saw: Saw, rng: Random, points: int | None = None) -> SimulatedPlate:
    """A worn plate of ``saw`` with ``points`` teeth (the recipe's count when None), the same for the same ``rng``."""
    count = saw.points if points is None else points
    plate = SimulatedPlate(saw, [])
    hollow = HOLLOW_MM if rng.randrange(HOLLOW_IN) == 0 else 0.0
    low = _low(rng, count)
    broken = rng.randrange(1, count + 1) if rng.randrange(BROKEN_IN) == 0 else 0
    wanted = saw.set_per_side.mm if saw.set_per_side is not None else 0.0
    # A line that was never set has none to lose.
    left = 0.0 if saw.first_leans is Leans.UNSET else wanted * rng.uniform(0.35, 0.9)
    for k in range(1, count + 1):
        high = rng.uniform(-UNEVEN_MM, 0.0) - hollow * _hang((k - 1) / max(1, count - 1))
        if k in low:
            high -= plate.depth_mm * rng.uniform(LOW_FROM, LOW_TO)
        middle = saw.from_heel_mm(k) + saw.pitch_mm * rng.uniform(-OUT_OF_PLACE, OUT_OF_PLACE)
        width = high / plate.rise
        top = high - rng.uniform(0.2, 1.0) * DULL_MM
        if k == broken:
            top = high - plate.depth_mm / 2.0
        steel = ToothSteel(middle + width / 2.0, middle - width / 2.0, top, left * rng.uniform(0.9, 1.1), top)
        steel.broken = k == broken
        # A low tooth idles, so it is as sharp as when it was last filed.
        if k in low and not steel.broken:
            steel.top = steel.set_top = high
        plate.teeth.append(steel)
    return plate


def _low(rng: Random, count: int) -> frozenset[int]:
    """One to three low teeth, two of them side by side more often than not, as poor filing leaves them."""
    most = min(3, count // 8)
    if most < 1:
        return frozenset()
    low = {rng.randrange(2, count)}
    for number in range(1, rng.randint(1, most)):
        first = min(low)
        beside = number == 1 and rng.random() < 0.6
        low.add(first + 1 if beside else rng.randrange(1, count + 1))
    return frozenset(low)


def _hang(share: float) -> float:
    """The shape of a hollow: 0 at both ends, 1 in the middle."""
    return 4.0 * share * (1.0 - share)
