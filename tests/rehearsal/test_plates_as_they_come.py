"""Worn plates: dull, a few teeth low, the same for the same seed, and as the recipe says otherwise."""

from __future__ import annotations

from random import Random

import pytest

from plate_truth import unflattened
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.worn_plate import worn_plate
from session.trade.saw import Saw

SEEDS = range(40)


def plates(saw: Saw) -> list[SimulatedPlate]:
    return [worn_plate(saw, Random(seed)) for seed in SEEDS]


def test_a_seed_gives_one_plate_and_other_seeds_others(saw: Saw) -> None:
    assert worn_plate(saw, Random(5)) == worn_plate(saw, Random(5))
    assert len({tuple(steel.front for steel in plate.teeth) for plate in plates(saw)}) == len(SEEDS)


def test_two_passes_leave_only_a_few_teeth_without_a_flat_on_a_straight_line(saw: Saw) -> None:
    straight = [plate for plate in plates(saw) if plate.hollow_mm() < 0.015]
    assert straight
    for plate in straight:
        plate.level(0.022)
        plate.level(0.022)
        assert len(unflattened(plate)) <= 3


def test_some_lines_are_hollow_and_some_teeth_broken_but_not_most(saw: Saw) -> None:
    found = plates(saw)
    hollow = sum(plate.hollow_mm() > 0.015 for plate in found)
    broken = sum(bool(plate.broken()) for plate in found)
    assert 0 < hollow < len(found) / 2
    assert 0 < broken < len(found) / 2


def test_teeth_keep_their_order_along_the_line(saw: Saw) -> None:
    for plate in plates(saw):
        middles = [(steel.front + steel.back) / 2 for steel in plate.teeth]
        assert middles == sorted(middles)


def test_the_plate_may_carry_another_number_of_teeth(saw: Saw) -> None:
    assert worn_plate(saw, Random(1)).points == saw.points
    assert worn_plate(saw, Random(1), saw.points + 2).points == saw.points + 2


def test_a_line_that_was_never_set_measures_as_its_plate(saw: Saw) -> None:
    plate = worn_plate(saw, Random(2))
    over = plate.over_points_mm()
    if saw.first_leans == "unset":
        assert over == pytest.approx(saw.plate.mm)
    else:
        assert over > saw.plate.mm
