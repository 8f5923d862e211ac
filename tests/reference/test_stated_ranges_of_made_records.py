"""The ranges of bite and of minutes, against made records whose truth is known: 200 each at 5, 8 and 14 points.

Nothing here is made by the rules that the ranges are made from. The hands are of several kinds, each told beside its
function: a bias of their own, a drift from place to place or from day to day, an interruption now and then, an eye that
misses a grade; the eye tells a flat only to a grade, and strokes and seconds are counted whole. Seeds are 0 to 199 and
were not chosen. ``python tests/reference/test_stated_ranges_of_made_records.py`` prints the table.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise
from random import Random
from statistics import median

import pytest

from session.trade.grades import SHARES, nearest
from session.trade.seven_in_ten import another_day
from session.trade.strokes import (
    LIGHT_MM,
    Bite,
    bite_of_days,
    gullet_volume_mm3,
    learn_bite,
    spread_by_rounding,
    time_left,
)

RECORDS = 200

#: Pitch, plate and depth over pitch of saws of so many points, and the seconds that a gullet of them takes.
SAWS = {5: (25.4 / 4, 1.067, 0.577), 8: (25.4 / 7, 0.889, 0.715), 14: (25.4 / 13, 0.559, 0.577)}
SECONDS = {5: 9.0, 8: 7.0, 14: 4.5}

#: From the place of how many, a share that the bite of that gullet is of the hand's usual one, and strokes miscounted.
Hand = Callable[[int, int], tuple[float, int]]


def own_luck(rng: Random) -> Hand:
    """Every gullet has its own luck, much or little of it by the person."""
    mine = rng.uniform(0.1, 0.3)
    return lambda at, of: (math.exp(rng.gauss(0.0, mine)), 0)


def drifts(rng: Random) -> Hand:
    """Tires along the line, and what went well goes well again in the next gullet."""
    state = [0.0]

    def hand(at: int, of: int) -> tuple[float, int]:
        state[0] = 0.92 * state[0] + rng.uniform(-0.09, 0.09)
        return (1.12 - 0.25 * at / of) * (1.0 + state[0]), 0

    return hand


def is_interrupted(rng: Random) -> Hand:
    """Steady, but now and then the count is lost and a stroke or three too many are told."""
    return lambda at, of: (rng.uniform(0.8, 1.2), rng.choice((1, 2, 3)) if rng.random() < 0.05 else 0)


def skewed(rng: Random) -> Hand:
    """Seldom much less than usual, sometimes much more."""
    return lambda at, of: (rng.triangular(0.75, 1.5, 0.9), 0)


HANDS = (own_luck, drifts, is_interrupted, skewed)


def filed(points: int, rng: Random, hand: Hand, count: int, off_mm: float, bite_mm3: float) -> list[tuple[float, int]]:
    """The steel that the grade of each gullet tells, and the strokes that were counted."""
    pitch, _, rise = SAWS[points]
    found = []
    for at in range(count):
        wide = min(0.9 * pitch, max(0.007 * pitch, off_mm / rise * rng.uniform(0.65, 1.4)))
        share, miscounted = hand(at, count)
        strokes = max(1, math.floor(steel(points, wide) / (bite_mm3 * share) + 0.5)) + miscounted
        grade = nearest(wide / pitch)
        if rng.random() < 0.1:
            grade = min(len(SHARES) - 1, max(1, grade + rng.choice((-1, 1))))
        found.append((steel(points, SHARES[grade] * pitch), strokes))
    return found


def steel(points: int, wide: float) -> float:
    pitch, plate, rise = SAWS[points]
    return gullet_volume_mm3(wide, pitch - wide, rise, plate)


def begun(points: int, rng: Random) -> tuple[float, float]:
    """What a leveling took off, and the bite of a hand that gives a gullet of it one to four strokes and a half."""
    off = LIGHT_MM * math.exp(rng.gauss(0.0, 0.4))
    return off, steel(points, min(0.4 * SAWS[points][0], off / SAWS[points][2])) / rng.uniform(1.4, 4.5)


def learned(gullets: Sequence[tuple[float, int]]) -> Bite:
    strokes = [count for _, count in gullets]
    return spread_by_rounding(learn_bite([volume for volume, _ in gullets], strokes), strokes)


def in_range(bite: Bite, gullets: Sequence[tuple[float, int]]) -> float:
    """The share of ``gullets`` whose bite lies in the range."""
    close = 1e-9
    inside = [bite.low_mm3 * (1 - close) <= volume / count <= bite.high_mm3 * (1 + close) for volume, count in gullets]
    return sum(inside) / len(inside)


def bite_of_a_walk(points: int, seed: int) -> float:
    """Of the next five gullets of a walk that filed forty-five, the share in the range that these taught."""
    rng = Random(f"walk {points} {seed}")
    gullets = filed(points, rng, HANDS[seed % len(HANDS)](rng), 50, *begun(points, rng))
    return in_range(learned(gullets[:45]), gullets[45:])


def bite_of_records(points: int, seed: int) -> float:
    """Of the gullets of a day, the share in the range that one to five days before it taught.

    Days differ by a hand's bias, by a drift from day to day, by a file that wears until a fresh one comes, or hardly.
    """
    rng = Random(f"days {points} {seed}")
    off, bite = begun(points, rng)
    days, level = [], 1.0
    for day in range(rng.randrange(1, 6) + 1):
        match seed % 4:
            case 0:
                level = math.exp(rng.gauss(0.0, 0.18))
            case 1:
                level = 1.0 + 0.7 * (level - 1.0) + rng.uniform(-0.22, 0.22)
            case 2:
                level = 0.92 ** (day % 4) * rng.uniform(0.92, 1.08)
            case _:
                level = rng.uniform(0.93, 1.07)
        hand = HANDS[seed // 4 % len(HANDS)](rng)
        days.append(filed(points, rng, hand, 50, off * math.exp(rng.gauss(0.0, 0.2)), bite * level))
    return in_range(bite_of_days([learned(day) for day in days[:-1]]), days[-1])


def seconds(points: int, seed: int, count: int) -> list[float]:
    """Whole seconds of each of so many gullets, of a person of one of five kinds."""
    rng = Random(f"seconds {points} {seed}")
    usual = SECONDS[points] * math.exp(rng.gauss(0.0, 0.4))
    at, drift, today, found = 0.0, 0.0, 1.0, [0]
    for _ in range(count):
        match seed % 5:
            case 0:  # every place has its own luck
                pace = usual * math.exp(rng.gauss(0.0, 0.4))
            case 1:  # slow stretches and quick ones
                drift = 0.9 * drift + rng.uniform(-0.1, 0.1)
                pace = usual * (1.0 + drift) * rng.uniform(0.75, 1.25)
            case 2:  # steady, but for a long look now and then; of a longer silence the program asks
                pace = usual * rng.uniform(0.75, 1.25) + (rng.uniform(15.0, 60.0) if rng.random() < 0.04 else 0.0)
            case 3:  # goes on on other days
                today = rng.uniform(0.85, 1.2) if rng.random() < 0.03 else today
                pace = usual * today * rng.uniform(0.7, 1.4)
            case _:  # seldom much quicker, sometimes much slower
                pace = usual * rng.triangular(0.6, 1.8, 0.9)
        at += max(1.0, pace)
        found.append(math.floor(at))
    return [float(after - before) for before, after in pairwise(found)]


#: Places seen and places left when the minutes are told.
MOMENTS = ((10, 30), (20, 100), (40, 60), (40, 10))


def minutes_left(points: int, seed: int, seen: int, left: int) -> float:
    paces = seconds(points, seed, seen + left)
    told = time_left(paces[:seen], left)
    assert told is not None
    return float(told.low_s <= sum(paces[seen:]) <= told.high_s)


def minutes_of_another_day(points: int, seed: int) -> float:
    """Whether the work of a day takes as many minutes a place as one to five days before it say."""
    rng = Random(f"pace {points} {seed}")
    usual, level = SECONDS[points] * math.exp(rng.gauss(0.0, 0.4)), 1.0
    days: list[float] = []
    for _ in range(rng.randrange(1, 6) + 1):
        match seed % 4:
            case 0:
                level = math.exp(rng.gauss(0.0, 0.18))
            case 1:
                level = 1.0 + 0.7 * (level - 1.0) + rng.uniform(-0.22, 0.22)
            case 2:  # somebody was at the door, and no pause was marked
                level = rng.uniform(0.9, 1.1) * (1.5 if rng.random() < 0.1 else 1.0)
            case _:  # practice
                level = (level - 0.7) * 0.8 + 0.7 if days else rng.uniform(1.0, 1.4)
                level *= rng.uniform(0.92, 1.08)
        # Records tell minutes to a tenth.
        places = {5: 110, 8: 155, 14: 120}[points]
        days.append(math.floor(usual * level * places / 60 * 10 + 0.5) / 10 / places)
    middle, wide = median(days[:-1]), math.exp(another_day(days[:-1]))
    return float(middle / wide <= days[-1] <= middle * wide)


def share(of: Callable[[int, int], float], points: int) -> float:
    return sum(of(points, seed) for seed in range(RECORDS)) / RECORDS


@pytest.mark.parametrize("points", SAWS)
def test_the_bites_range_holds_the_next_gullet_about_seven_times_in_ten(points: int) -> None:
    assert 0.6 <= share(bite_of_a_walk, points) <= 0.8


@pytest.mark.parametrize("points", SAWS)
def test_the_range_of_the_records_holds_another_days_gullets_about_seven_times_in_ten(points: int) -> None:
    assert 0.6 <= share(bite_of_records, points) <= 0.8


@pytest.mark.parametrize("points", SAWS)
@pytest.mark.parametrize(("seen", "left"), MOMENTS)
def test_the_minutes_left_hold_about_seven_times_in_ten(points: int, seen: int, left: int) -> None:
    assert 0.6 <= share(lambda p, seed: minutes_left(p, seed, seen, left), points) <= 0.8


@pytest.mark.parametrize("points", SAWS)
def test_the_minutes_of_a_whole_sharpening_hold_about_seven_times_in_ten(points: int) -> None:
    assert 0.6 <= share(minutes_of_another_day, points) <= 0.8


def test_a_long_look_now_and_then_is_not_forgotten_in_the_sum() -> None:
    paces = [8.0] * 18 + [80.0] * 2
    told = time_left(paces, 100)
    assert told is not None
    assert told.likely_s == pytest.approx(100 * (18 * 8 + 160) / 20)


def test_a_bite_that_was_the_same_in_every_gullet_is_still_known_only_to_a_part_of_a_stroke() -> None:
    bite = learned([(0.4, 2)] * 40)
    assert bite.low_mm3 < bite.mm3 < bite.high_mm3


if __name__ == "__main__":
    for points in SAWS:
        row = [f"{points:2} points: walk {share(bite_of_a_walk, points):.2f}"]
        row.append(f"records {share(bite_of_records, points):.2f}")
        row.append(f"another day {share(minutes_of_another_day, points):.2f}")
        for seen, left in MOMENTS:
            of = share(lambda p, seed, seen=seen, left=left: minutes_left(p, seed, seen, left), points)  # type: ignore[misc]
            row.append(f"minutes {seen}+{left} {of:.2f}")
        print(", ".join(row))
