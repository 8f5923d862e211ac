"""Pictures are joined where their teeth tell it, and never where the teeth are too alike or come again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pytest

from session.machine.refusal import Refusal
from session.scan.joined_pictures import joined
from session.scan.laid_line import laid_line
from session.scan.laid_pictures import doubt_of_joints, laid_on
from session.scan.read_tooth import ReadTooth
from soak_table import tried

#: What each figure of a tooth is measured to: mm of place, height and flat, and degrees.
SE = {"se_place": 0.004, "se": 0.006, "se_flat": 0.012, "se_left": 0.15, "se_right": 0.15}


@dataclass(frozen=True)
class Line:
    """Teeth as they are: a row for each of place, height, flat, back and front."""

    figures: np.ndarray

    @staticmethod
    def of(count: int, own: float, dice: np.random.Generator, period: int = 0) -> Line:
        """``count`` teeth that differ ``own`` times as much as filed ones do; with a period, coming again after it."""
        odd = dice.normal(size=(5, count))
        if period:
            odd = np.tile(dice.normal(size=(5, period)), count // period + 1)[:, :count] * 0.95 + 0.05 * odd
        usual = np.array([[0.03], [0.015], [0.05], [0.6], [0.6]])
        even = np.vstack([2.0 * np.arange(count), np.zeros(count), np.full(count, 0.2), *np.full((2, count), 20.0)])
        return Line(even + own * usual * odd)

    def seen(self, begin: int, end: int, dice: np.random.Generator, turn: float = 0.0) -> list[ReadTooth]:
        """A picture of the teeth from ``begin`` up to ``end``, one in twelve under dust, lying ``turn`` radians off."""
        teeth = []
        for u, v, flat, back, front in self.figures[:, begin:end].T:
            dirt = 8.0 if dice.random() < 1 / 12 else 1.0
            at = u - self.figures[0, begin] + SE["se_place"] * dirt * dice.normal()
            wide = flat + SE["se_flat"] * dirt * dice.normal()
            out = v + SE["se"] * dirt * dice.normal()
            floor = -1.2 + 0.005 * dice.normal()
            lean = math.degrees(turn)
            teeth.append(
                ReadTooth(
                    u=math.cos(turn) * at - math.sin(turn) * out,
                    v=math.sin(turn) * at + math.cos(turn) * out,
                    a=at - wide / 2.0,
                    b=at + wide / 2.0,
                    left=back - lean + SE["se_left"] * dirt * dice.normal(),
                    right=front + lean + SE["se_right"] * dirt * dice.normal(),
                    gullet=(at + 0.8, floor + math.sin(turn) * (at + 0.8)),
                    se=SE["se"],
                    se_place=SE["se_place"],
                    se_flat=SE["se_flat"],
                    se_left=SE["se_left"],
                    se_right=SE["se_right"],
                    fit="top",
                )
            )
        return teeth


def told(pictures: Sequence[Sequence[ReadTooth]]) -> int | None:
    """Of how many teeth the line joined is; None where it was refused."""
    try:
        return len(joined(pictures, None)[0])
    except Refusal:
        return None


def two(line: Line, shared: int, dice: np.random.Generator) -> list[list[ReadTooth]]:
    """A line of 44 teeth in two pictures that share so many; of none, three teeth are in neither."""
    apart = 3 if shared == 0 else 0
    middle = 22 + shared // 2
    return [line.seen(0, middle, dice), line.seen(middle - shared + apart, 44, dice, 0.002)]


def test_filed_teeth_are_joined_though_one_in_twelve_is_under_dust() -> None:
    counts = []
    for seed in range(24):
        dice = np.random.default_rng(seed)
        counts.append(told(two(Line.of(44, 1.0, dice), 10, dice)))
    assert set(counts) <= {44, None}
    assert counts.count(44) > 20


@pytest.mark.parametrize("shared", [0, 3, 10])
@pytest.mark.parametrize("period", [0, 2, *(pytest.param(n, marks=pytest.mark.wide) for n in (3, 5)), 8])
def test_teeth_alike_or_coming_again_are_never_joined_wrongly(shared: int, period: int) -> None:
    for seed in range(4):
        dice = np.random.default_rng(100 * period + seed)
        own = 1.0 if period else 0.03
        assert told(two(Line.of(44, own, dice, period), shared, dice)) in (None, 44 if shared else None), seed


@pytest.mark.soak("a line joined at the wrong teeth")
def test_no_line_of_many_is_joined_wrongly() -> None:
    joins, trials = 0, 1500
    for seed in range(trials):
        dice = np.random.default_rng(1_000_000 + seed)
        own, period = float(dice.uniform(0.0, 1.6)), int(dice.choice([0, 0, 0, 2, 3, 4, 6, 7]))
        shared = int(dice.choice([0, 2, 3, 4, 6, 8, 10, 12]))
        count = told(two(Line.of(44, own, dice, period), shared, dice))
        assert count in (None, 44 if shared else None), seed
        joins += count is not None
    tried(trials)
    assert joins > 100


def test_a_joint_is_laid_to_what_it_states_and_dust_hardly_turns_it() -> None:
    off = []
    for seed in range(60):
        dice = np.random.default_rng(seed)
        line = Line.of(20, 1.0, dice)
        joint = laid_on(line.seen(5, 15, dice, 0.002), line.seen(5, 15, dice))
        off.append((joint.turn + 0.002) / joint.se_turn)
        assert joint.se_turn < 0.001
    assert 0.6 < float(np.std(off)) < 1.6


def test_what_a_joint_leaves_open_is_in_the_lines_middle_and_not_in_a_line_of_one_picture() -> None:
    dice = np.random.default_rng(3)
    line = Line.of(100, 1.0, dice)
    u = 2.0 * np.arange(100.0)
    laid = laid_line(u, np.zeros(100), 0.6)
    assert doubt_of_joints((), laid, u).se_gap == 0.0
    teeth, joints = joined([line.seen(0, 55, dice), line.seen(45, 100, dice, 0.002)], None)
    assert len(teeth) == 100
    doubt = doubt_of_joints(joints, laid, u)
    # A line bent by a turn in its middle stands a quarter of its length times that over its ends; the parabola through
    # it takes some of that.
    assert 0.6 < doubt.se_gap / (198.0 / 4.0 * joints[0].se_turn) < 1.4
    assert max(doubt.se_at(at) for at in u) > 2.0 * min(doubt.se_at(at) for at in u)
