"""How long a set lasts, against teeth that are bent, stoned and filed down here, by nothing of session/trade.

The steel of one tooth: a straight plate up to the bend, above it a straight part that leans out. How far it stands out
where the tooth ends is the set. Filing only lowers that height. The program is given what a person has:
widths read with a caliper to half a thousandth of an inch, and what came off the line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random

import pytest

from made_saws import fresh_set
from session.trade.kerf import set_from_measurement_mm
from session.trade.setting import SetLine, set_due, set_slope, set_state

HALF_THOU = 0.0127


@dataclass
class Bent:
    """One bent tooth: heights in mm over the gullet that it had when it was bent."""

    top: float
    bend: float
    lean: float  # run out per mm of height above the bend
    stoned: float = 0.0

    def stands_out(self) -> float:
        return max(0.0, (self.top - self.bend) * self.lean - self.stoned)


def bent(depth: float, share: float, to: float) -> Bent:
    """A tooth bent at ``share`` of its depth below the point until its corner stands out by ``to``."""
    arm = depth * share
    return Bent(depth, depth - arm, math.tan(math.atan2(to, arm)))


def read(width: float) -> float:
    """A caliper's reading, to half a thousandth of an inch."""
    return round(width / HALF_THOU) * HALF_THOU


def sharpenings_in_truth(tooth: Bent, least: float, down: float, stone: float) -> int:
    """How many more sharpenings leave the least set, by filing them."""
    count, steel = 0, Bent(tooth.top, tooth.bend, tooth.lean, tooth.stoned)
    while count < 500:
        steel.top -= down
        steel.stoned += stone
        if steel.stands_out() < least:
            return count
        count += 1
    return count


@pytest.mark.parametrize("seed", range(40))
def test_no_history_is_told_to_last_longer_than_it_does_by_more_than_one_sharpening(seed: int) -> None:
    rng = Random(seed)
    depth, share = rng.uniform(1.2, 6.0), rng.uniform(0.3, 0.6)
    plate, to = rng.uniform(0.6, 1.2), rng.uniform(0.08, 0.3)
    least, down = to * rng.uniform(0.3, 0.6), rng.uniform(0.03, 0.09)
    tooth = bent(depth, share, to)
    known_on_the_day = rng.random() < 0.5
    line: SetLine | None = None
    if known_on_the_day:
        measured = set_from_measurement_mm(read(plate + 2 * tooth.stands_out()), plate)
        line = fresh_set(measured, depth, share).measured(measured)
    came_down = 0.0
    for number in range(rng.randrange(1, 9)):
        if tooth.stands_out() < 1.2 * least:
            break
        tooth.top -= down
        came_down += down
        line = None if line is None else line.after(down)
        if rng.random() < 0.5 or (number == 0 and line is None):
            measured = set_from_measurement_mm(read(plate + 2 * tooth.stands_out()), plate)
            if line is None:
                line = SetLine(measured, set_slope(measured, depth, share, came_down))
            line = line.measured(measured)
    assert line is not None
    told = set_state(line, least, down).outlives
    truth = sharpenings_in_truth(tooth, least, down, 0.0)
    assert told is not None
    assert told <= truth + 1
    # And not so little that nobody would believe it: a caliper's half thou is all that lies between.
    per_time = tooth.lean * down
    assert told >= truth - 2 - math.ceil(HALF_THOU / per_time)


def test_a_half_worn_set_does_not_get_a_whole_bend_again() -> None:
    tooth = bent(2.6, 0.4, 0.16)
    tooth.top -= 0.5
    measured = tooth.stands_out()
    rest = sharpenings_in_truth(tooth, 0.05, 0.02, 0.0)
    on_the_line = SetLine(measured, set_slope(0.16, 2.6, 0.4))
    assert set_state(on_the_line, 0.05, 0.02).outlives == rest
    # As if bent today: the mistake that told it far too long.
    assert (set_state(fresh_set(measured, 2.6, 0.4), 0.05, 0.02).outlives or 0) > rest + 5


def test_a_later_measure_alone_tells_the_slope_when_the_day_of_setting_is_known() -> None:
    tooth = bent(2.6, 0.4, 0.16)
    tooth.top -= 0.3
    assert set_slope(tooth.stands_out(), 2.6, 0.4, 0.3) == pytest.approx(tooth.lean)


def test_due_when_what_today_leaves_is_short_by_more_than_a_caliper_can_be_wrong() -> None:
    tooth = bent(2.6, 0.4, 0.16)
    line = fresh_set(0.16, 2.6, 0.4)
    tooth.top -= 0.4
    after = line.after(0.4).left_mm
    assert after == pytest.approx(tooth.stands_out())
    assert set_state(line, after + 0.02, 0.4).due
    assert not set_state(line, after + 0.012, 0.4).due
    assert not set_due(after, after + HALF_THOU)
