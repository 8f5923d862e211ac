"""Laws of a stroke on the simulated plate: what it takes, where, and that nothing ever adds steel."""

from __future__ import annotations

import math
from copy import deepcopy
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from made_saws import small_saw
from session.rehearsal.file_cuts import at
from session.rehearsal.file_stroke import TRUE, Hold, rub
from session.rehearsal.plate import PlateError, SimulatedPlate, ToothSteel
from session.trade.lengths import parse_length

SAW = small_saw(12, 3.5, plate=parse_length("0.9 mm"), set_per_side=parse_length("0.15 mm"))

ROLLS = st.floats(-2.0, 2.0)
STROKES = st.lists(
    st.tuples(st.integers(0, 12), st.floats(0.0, 0.4), st.floats(0.0, 1.0), ROLLS), min_size=1, max_size=12
)


def leveled(seed: int = 0, off_mm: float = 0.08, out_mm: float = 0.05) -> SimulatedPlate:
    rng = Random(seed)
    plate = SimulatedPlate(SAW, [])
    for k in range(1, SAW.points + 1):
        x = SAW.from_heel_mm(k) + rng.uniform(-out_mm, out_mm)
        plate.teeth.append(ToothSteel(x, x, 0.0, 0.15, 0.0))
    plate.level(off_mm)
    return plate


def outline(plate: SimulatedPlate) -> list[float]:
    """Where back and front of each tooth are at some heights under its top, and the top."""
    found: list[float] = []
    for k in range(1, plate.points + 1):
        for under in (0.0, 0.3, 1.1, 2.4):
            height = -0.08 - under
            found.append(-max(at(cut, height) for cut in plate.backs(k)))
            found.append(min(at(cut, height) for cut in plate.fronts(k)))
        found.append(plate.tooth(k).top)
    return found


@examples(40)
@given(seed=st.integers(0, 99), strokes=STROKES)
def test_no_stroke_adds_steel_and_no_tooth_ends_over_its_flanks(
    seed: int, strokes: list[tuple[int, float, float, float]]
) -> None:
    plate = leveled(seed)
    for gullet, volume, behind, roll in strokes:
        before = outline(plate)
        rub(plate, gullet, volume, behind=behind, hold=Hold(rake=roll))
        assert all(new <= old + 1e-9 for old, new in zip(before, outline(plate), strict=True))
        assert all(plate.tooth(k).top <= plate.apex_mm(k) + 1e-9 for k in range(1, plate.points + 1))


@examples(40)
@given(volume=st.floats(0.01, 0.5), behind=st.floats(0.05, 0.95), gullet=st.integers(1, 11))
def test_a_true_stroke_takes_its_volume_by_the_triangles(volume: float, behind: float, gullet: int) -> None:
    plate = leveled(off_mm=0.25, out_mm=0.0)
    flats = plate.flats_of_gullet(gullet)
    fresh = deepcopy(plate)
    rub(plate, gullet, volume, behind=behind)
    taken = sum(flats) - sum(plate.flats_of_gullet(gullet))
    if min(plate.flats_of_gullet(gullet)) > 0.0:
        assert fresh.volume_mm3(gullet, taken) == pytest.approx(volume, rel=0.01)


@examples(30)
@given(seed=st.integers(0, 99), gullet=st.integers(1, 11), volume=st.floats(0.01, 0.3), roll=ROLLS)
def test_a_stroke_touches_the_two_teeth_of_its_gullet_alone(seed: int, gullet: int, volume: float, roll: float) -> None:
    plate = leveled(seed)
    before = deepcopy(plate.teeth)
    rub(plate, gullet, volume, hold=Hold(rake=roll))
    others = [k for k in range(plate.points) if k not in (gullet - 1, gullet)]
    assert [plate.teeth[k] for k in others] == [before[k] for k in others]
    assert plate.teeth[gullet - 1].back == before[gullet - 1].back
    assert plate.teeth[gullet].front == before[gullet].front


@given(volume=st.floats(0.02, 0.3))
def test_a_symmetric_gullet_filed_symmetrically_stays_so(volume: float) -> None:
    peg = replace(SAW, rake=30.0, fleam=0.0)
    plate = SimulatedPlate(peg, [ToothSteel(3.5 * k, 3.5 * k, 0.0, 0.0, 0.0) for k in range(4)])
    plate.level(0.3)
    rub(plate, 2, volume)
    assert plate.flat_mm(2) == pytest.approx(plate.flat_mm(3), abs=1e-9)
    assert plate.flat_mm(2) < plate.flat_mm(1)


@examples(25)
@given(seed=st.integers(0, 99), gullet=st.integers(1, 11), volume=st.floats(0.01, 0.2), behind=st.floats(0.2, 0.8))
def test_a_line_turned_end_for_end_and_filed_from_there_is_the_same_line(
    seed: int, gullet: int, volume: float, behind: float
) -> None:
    """A peg tooth looks alike from both ends: file it turned, turn it back, and nothing tells that it was turned."""
    peg = replace(SAW, rake=30.0, fleam=0.0)
    plate = SimulatedPlate(peg, leveled(seed).teeth)
    there = turned(plate)
    assert turned(turned(plate)).teeth == plate.teeth
    rub(there, peg.points - gullet, volume, behind=1.0 - behind)
    rub(plate, gullet, volume, behind=behind)
    back = turned(there)
    for k in range(1, peg.points + 1):
        assert back.flat_ends_mm(k) == pytest.approx(plate.flat_ends_mm(k), abs=1e-9)
        assert back.tooth(k).top == pytest.approx(plate.tooth(k).top, abs=1e-9)


def turned(plate: SimulatedPlate) -> SimulatedPlate:
    """The line looked at from its other end."""
    return SimulatedPlate(plate.saw, [replace(one, front=-one.back, back=-one.front) for one in reversed(plate.teeth)])


@given(volume=st.floats(0.02, 0.2))
def test_more_goes_off_the_tooth_that_is_pressed_to(volume: float) -> None:
    to_heel, to_toe = leveled(), leveled()
    rub(to_heel, 5, volume, behind=0.7)
    rub(to_toe, 5, volume, behind=0.3)
    assert to_heel.flat_mm(5) < to_toe.flat_mm(5)
    assert to_heel.flat_mm(6) > to_toe.flat_mm(6)


def test_a_file_rolled_back_touches_the_point_behind_and_the_foot_ahead_first() -> None:
    true, rolled = leveled(), leveled()
    rub(true, 5, 0.02)
    rub(rolled, 5, 0.02, hold=Hold(rake=1.5))
    assert rolled.flat_mm(5) < true.flat_mm(5)
    assert rolled.flat_mm(6) > true.flat_mm(6)


@pytest.mark.parametrize(
    ("gullet", "volume", "behind"), [(13, 0.1, 0.5), (-1, 0.1, 0.5), (3, -0.1, 0.5), (3, math.nan, 0.5), (3, 0.1, 1.5)]
)
def test_impossible_strokes_are_refused_in_words_and_leave_the_plate(gullet: int, volume: float, behind: float) -> None:
    plate = leveled()
    before = deepcopy(plate.teeth)
    with pytest.raises(PlateError, match="allowed: 0"):
        rub(plate, gullet, volume, behind=behind)
    assert plate.teeth == before


def test_at_the_ends_of_the_line_all_of_a_stroke_goes_into_the_tooth_that_is_there() -> None:
    plate = leveled()
    before = [plate.flat_mm(1), plate.flat_mm(12)]
    rub(plate, 0, 0.1, hold=TRUE)
    rub(plate, 12, 0.1, hold=TRUE)
    assert plate.flat_mm(1) < before[0]
    assert plate.flat_mm(12) < before[1]
