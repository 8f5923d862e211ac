"""The ranges that the program states, against made records: 200 each at 5, 8 and 14 points, of hands that differ.

A hand has its own bite, and each gullet its own luck; the eye tells a flat only to a grade; strokes are counted whole.
"""

from __future__ import annotations

import math
from random import Random

import pytest

from session.trade.grades import SHARES, nearest
from session.trade.strokes import LIGHT_MM, gullet_volume_mm3, learn_bite, time_left

RECORDS = 200

#: Pitch, plate and depth over pitch of saws of so many points.
SAWS = {5: (25.4 / 4, 1.067, 0.577), 8: (25.4 / 7, 0.889, 0.715), 14: (25.4 / 13, 0.559, 0.577)}


class Hand:
    """One sharpening by one hand."""

    def __init__(self, points: int, seed: int) -> None:
        self.rng = Random(seed)
        self.pitch, self.plate, self.rise = SAWS[points]
        self.off = LIGHT_MM * math.exp(self.rng.gauss(0.0, 0.3))
        self.bite = self.pitch * self.plate * self.off / self.rng.uniform(2.0, 4.0)

    def gullet(self) -> tuple[float, int]:
        """The steel that its grade tells, and the strokes that it took."""
        wide = max(0.004, self.off / self.rise * math.exp(self.rng.gauss(0.0, 0.25)))
        strokes = round(self._steel(wide) / (self.bite * math.exp(self.rng.gauss(0.0, 0.2))))
        return self._steel(SHARES[nearest(wide / self.pitch)] * self.pitch), max(1, strokes)

    def _steel(self, wide: float) -> float:
        return gullet_volume_mm3(wide, self.pitch - wide, self.rise, self.plate)


@pytest.mark.parametrize("points", SAWS)
def test_the_bites_range_holds_the_next_gullet_about_seven_times_in_ten(points: int) -> None:
    held = 0
    for seed in range(RECORDS):
        hand = Hand(points, seed)
        filed = [hand.gullet() for _ in range(45)]
        bite = learn_bite([steel for steel, _ in filed], [strokes for _, strokes in filed])
        assert bite.gullets == 40
        steel, strokes = hand.gullet()
        held += bite.low_mm3 <= steel / strokes <= bite.high_mm3
    assert 0.6 <= held / RECORDS <= 0.8


@pytest.mark.parametrize(("seen", "left"), [(10, 30), (40, 60), (40, 10)])
def test_the_minutes_left_hold_about_seven_times_in_ten(seen: int, left: int) -> None:
    held = 0
    for seed in range(RECORDS):
        rng = Random(seed)
        paces = [8.0 * math.exp(rng.gauss(0.0, 0.4)) for _ in range(seen + left)]
        told = time_left(paces[:seen], left)
        assert told is not None
        held += told.low_s <= sum(paces[seen:]) <= told.high_s
    assert 0.6 <= held / RECORDS <= 0.8


def test_a_long_look_now_and_then_is_not_forgotten_in_the_sum() -> None:
    paces = [8.0] * 18 + [80.0] * 2
    told = time_left(paces, 100)
    assert told is not None
    assert told.likely_s == pytest.approx(100 * (18 * 8 + 160) / 20)
