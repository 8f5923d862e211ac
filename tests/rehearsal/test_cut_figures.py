"""How a simulated saw cuts: each figure comes from the steel it is said to come from, and points the right way."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from made_saws import small_saw
from session.rehearsal.plate import SimulatedPlate, ToothSteel
from session.rehearsal.proving.cut_figures import LAWS, CutFigures, CutLaws, cut_figures, sensitivities
from session.rehearsal.proving.felt_faults import fault_felt
from session.rehearsal.proving.saw_conditions import Condition, plate_in
from session.trade.lengths import parse_length
from session.walk.stages import Stage

SAW = small_saw(24, 3.5, set_per_side=parse_length("0.15 mm"), least_per_side=parse_length("0.08 mm"))


def perfect() -> SimulatedPlate:
    return SimulatedPlate(SAW, [ToothSteel(3.5 * k, 3.5 * k, 0.0, 0.15, 0.0) for k in range(SAW.points)])


def bent(row: int, by: float) -> CutFigures:
    """A perfect saw but for one row, bent ``by`` more."""
    plate = perfect()
    for k in range(row, SAW.points + 1, 2):
        plate.tooth(k).set_mm += by
    return cut_figures(plate)


def test_a_perfect_saw_is_worth_all_there_is_and_nobody_finds_fault() -> None:
    found = cut_figures(perfect())
    assert found.worth == pytest.approx(1.0)
    assert found.working == 1.0
    assert fault_felt(found) is None


def test_more_set_on_one_side_draws_the_cut_there_and_little_set_binds() -> None:
    # Odd teeth lean away from whoever stands at side 1, where the handle is on the right: they cut on the left.
    assert bent(1, 0.02).wander_mm < 0.0 < bent(2, 0.02).wander_mm
    assert bent(1, -0.1).clearance < 1.0
    fault = fault_felt(bent(2, 0.03))
    assert fault is not None
    assert (fault.name, fault.toward, fault.stage) == ("wanders", "right", Stage.DRESS)


def test_short_teeth_are_idle_and_dull_ones_slow() -> None:
    short, dull = perfect(), perfect()
    for k in (5, 11, 17, 18):
        short.tooth(k).top -= 2 * LAWS.chip_mm
    for steel in dull.teeth:
        steel.top -= LAWS.blunt_mm * dull.rise
    assert cut_figures(short).working == pytest.approx(20 / 24)
    assert cut_figures(dull).working == 1.0
    assert cut_figures(dull).speed == pytest.approx(0.5)


def test_a_line_that_came_down_whole_cuts_as_before() -> None:
    plate = perfect()
    for steel in plate.teeth:
        steel.front -= 0.1
        steel.back += 0.1
        steel.top = steel.set_top = -0.2 * plate.rise
    assert cut_figures(plate).worth == pytest.approx(1.0)


@given(st.sampled_from(list(Condition)), st.integers(0, 500), st.integers(1, 24), st.floats(0.005, 0.1))
def test_a_wider_flat_never_makes_a_saw_faster(condition: Condition, seed: int, tooth: int, take: float) -> None:
    plate = plate_in(SAW, condition, Random(seed))
    duller = deepcopy(plate)
    steel = duller.tooth(tooth)
    # Broader by steel that stands beside it: the height stays, so that all else does.
    steel.front += take
    assert cut_figures(duller).speed <= cut_figures(plate).speed + 1e-12


@pytest.mark.parametrize("condition", list(Condition))
def test_each_constant_of_the_cut_points_the_right_way(condition: Condition) -> None:
    """A blunt flat twice as wide and the like make light of faults; wander and burrs weigh more."""
    found = sensitivities(plate_in(SAW, condition, Random(7)))
    worse_when_more = {"wander", "burr_mm"}
    for name in set(CutLaws.__slots__) - {"wander_high", "chip_mm"}:
        halved, doubled = found[name]
        assert (halved >= doubled) if name in worse_when_more else (halved <= doubled), name
    # None of them decides alone: with any of them doubled or halved a saw keeps its order against a perfect one.
    assert max(max(pair) for pair in found.values()) < 1.0


def test_in_what_order_conditions_stand_does_not_hang_on_one_constant() -> None:
    """A kept saw cuts better than a dull one, that better than hard use, whatever constant is halved or doubled."""
    plates = [plate_in(SAW, one, Random(3)) for one in (Condition.KEPT, Condition.DULL, Condition.HARD_USE)]
    for name in CutLaws.__slots__:
        for by in (0.5, 2.0):
            laws = replace(LAWS, **{name: by * getattr(LAWS, name)})
            kept, dull, hard = (cut_figures(plate, laws).worth for plate in plates)
            assert kept > dull > hard, (name, by)
