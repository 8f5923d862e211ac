"""The plate's laws: steel is only ever taken, flats go by filing, and the geometry is that of the trade room."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from made_saws import fresh_set, small_saw
from plate_truth import burrs, line_mm
from session.rehearsal.filer_hands import Hands
from session.rehearsal.plate import PlateError, SimulatedPlate, ToothSteel
from session.rehearsal.worn_plate import worn_plate
from session.trade.lengths import parse_length
from session.trade.leveling import flat_from_off_mm, off_from_flat_mm
from session.trade.saw import Leans, Saw
from session.trade.tooth import tooth_of

SAW = small_saw(
    18, 3.5, toothed_length=parse_length("60 mm"), plate=parse_length("0.9 mm"), set_per_side=parse_length("0.15 mm")
)

TAKES = st.floats(0.0, 0.3)
WORK = st.lists(
    st.one_of(
        st.tuples(st.just("level"), st.floats(0.0, 0.05)),
        st.tuples(st.just("stroke"), st.integers(1, 17), TAKES, TAKES),
        st.tuples(st.just("bend"), st.integers(1, 18), st.floats(0.0, 0.3)),
        st.tuples(st.just("dress"), st.integers(1, 2), st.floats(0.0, 0.02)),
    ),
    max_size=25,
)


def sharp(saw: Saw = SAW) -> SimulatedPlate:
    """A plate with every tooth sharp, in its place and at the nominal line."""
    places = [saw.from_heel_mm(k) for k in range(1, saw.points + 1)]
    return SimulatedPlate(saw, [ToothSteel(x, x, 0.0, 0.15, 0.0) for x in places])


def do(plate: SimulatedPlate, work: tuple[object, ...]) -> None:
    match work:
        case ("level", float(take)):
            plate.level(take)
        case ("stroke", int(gullet), float(behind), float(ahead)):
            plate.stroke(gullet, behind, ahead)
        case ("bend", int(tooth), float(to)) if not plate.tooth(tooth).broken:
            plate.bend(tooth, 1 if plate.leans_away(tooth, 1) else 2, to)
        case ("dress", int(side), float(take)):
            plate.dress(side, take)


@examples(50)
@given(seed=st.integers(0, 10_000), work=WORK)
def test_no_work_adds_steel(seed: int, work: list[tuple[object, ...]]) -> None:
    plate = worn_plate(SAW, Random(seed))
    for one in work:
        before = deepcopy(plate.teeth)
        do(plate, one)
        for old, new in zip(before, plate.teeth, strict=True):
            assert new.front <= old.front
            assert new.back >= old.back
            assert new.top <= old.top


@examples(40)
@given(seed=st.integers(0, 10_000), work=WORK)
def test_no_tooth_ends_above_the_meeting_of_its_flanks(seed: int, work: list[tuple[object, ...]]) -> None:
    plate = worn_plate(SAW, Random(seed))
    for one in work:
        do(plate, one)
        assert all(plate.tooth(k).top <= plate.apex_mm(k) + 1e-12 for k in range(1, plate.points + 1))


@given(seed=st.integers(0, 10_000), strokes=st.lists(st.tuples(st.integers(1, 17), TAKES, TAKES), max_size=30))
def test_filing_never_widens_a_flat(seed: int, strokes: list[tuple[int, float, float]]) -> None:
    plate = worn_plate(SAW, Random(seed))
    plate.level(0.06)
    for gullet, behind, ahead in strokes:
        before = [plate.flat_mm(k) for k in range(1, plate.points + 1)]
        plate.stroke(gullet, behind, ahead)
        after = [plate.flat_mm(k) for k in range(1, plate.points + 1)]
        assert all(new <= old + 1e-12 for old, new in zip(before, after, strict=True))


@given(seed=st.integers(0, 10_000), passes=st.lists(st.floats(0.0, 0.05), min_size=1, max_size=8))
def test_leveling_only_lowers_the_line_and_only_widens_flats(seed: int, passes: list[float]) -> None:
    plate = worn_plate(SAW, Random(seed))
    lines = [line_mm(plate)]
    for take in passes:
        flats = [plate.flat_mm(k) for k in range(1, plate.points + 1)]
        plate.level(take)
        lines.append(line_mm(plate))
        assert all(plate.flat_mm(k) >= flats[k - 1] for k in range(1, plate.points + 1))
    assert all(later <= earlier for earlier, later in pairwise(lines))
    assert lines[0] - lines[-1] == pytest.approx(sum(passes))


@given(off=st.floats(0.005, 0.5), rake=st.floats(0.0, 30.0), fleam=st.floats(0.0, 30.0))
def test_a_pass_leaves_the_flat_that_the_leveling_formula_gives(off: float, rake: float, fleam: float) -> None:
    saw = replace(SAW, rake=rake, fleam=fleam)
    plate = sharp(saw)
    plate.level(off)
    wanted = flat_from_off_mm(off, saw.pitch_mm, tooth_of(saw).depth_mm)
    assert [plate.flat_mm(k) for k in (1, 9, 18)] == pytest.approx([wanted] * 3)


@given(share=st.floats(0.0, 1.0))
def test_a_flat_filed_away_from_both_sides_just_goes_and_costs_no_height(share: float) -> None:
    plate = sharp()
    plate.level(0.1)
    flat, top = plate.flat_mm(5), plate.tooth(5).top
    plate.stroke(5, flat * share, 0.0)
    plate.stroke(4, 0.0, flat * (1.0 - share))
    assert plate.flat_mm(5) == pytest.approx(0.0, abs=1e-12)
    assert plate.tooth(5).top == pytest.approx(top)


def test_a_stroke_past_the_flat_lowers_the_tooth_by_its_share_of_depth() -> None:
    plate = sharp()
    plate.stroke(5, 0.1, 0.0)
    assert -plate.tooth(5).top == pytest.approx(off_from_flat_mm(0.1, SAW.pitch_mm, plate.depth_mm))


def test_a_gullet_takes_from_the_front_behind_it_and_the_back_ahead_of_it_and_nothing_else() -> None:
    plate = sharp()
    plate.level(0.1)
    before = deepcopy(plate.teeth)
    plate.stroke(7, 0.03, 0.02)
    assert plate.tooth(7).front == pytest.approx(before[6].front - 0.03)
    assert plate.tooth(7).back == before[6].back
    assert plate.tooth(8).back == pytest.approx(before[7].back + 0.02)
    assert plate.tooth(8).front == before[7].front
    assert plate.teeth[:6] == before[:6]
    assert plate.teeth[8:] == before[8:]


@given(seed=st.integers(0, 1000), gullet=st.integers(1, 17), volume=st.floats(0.001, 1.0))
def test_the_take_of_a_volume_holds_that_volume(seed: int, gullet: int, volume: float) -> None:
    plate = worn_plate(SAW, Random(seed))
    plate.level(0.05)
    assert plate.volume_mm3(gullet, plate.take_mm(gullet, volume)) == pytest.approx(volume)


@given(seed=st.integers(0, 1000), gullet=st.integers(1, 18), lean=st.sampled_from(["", "heel", "toe"]))
def test_hands_take_half_of_the_flats_and_no_more(seed: int, gullet: int, lean: str) -> None:
    plate = worn_plate(SAW, Random(seed))
    plate.level(0.06)
    before = plate.flats_of_gullet(gullet)
    strokes = Hands(plate, Random(seed)).file(gullet, 1, behind=0.5, ahead=0.5, lean=lean)
    after = plate.flats_of_gullet(gullet)
    assert sum(before) - sum(after) == pytest.approx(sum(before) / 2)
    assert (strokes == 0) == (sum(before) < 1e-9)
    assert strokes <= 9


def test_hands_bear_on_the_tooth_that_is_leaned_to() -> None:
    taken = {}
    for lean in ("heel", "", "toe"):
        plate = sharp()
        plate.level(0.1)
        before = plate.flats_of_gullet(9)
        Hands(plate, Random(3)).file(9, 1, behind=0.5, ahead=0.5, lean=lean)
        after = plate.flats_of_gullet(9)
        taken[lean] = (before[0] - after[0], before[1] - after[1])
    assert taken["heel"][0] > taken[""][0] > taken["toe"][0]
    assert taken["heel"][1] < taken[""][1] < taken["toe"][1]


def test_a_tooth_is_not_bent_back_against_its_lean() -> None:
    plate = sharp(replace(SAW, first_leans=Leans.TOWARD))
    plate.bend(1, 2, 0.2)
    with pytest.raises(PlateError, match="Tooth 1 leans toward you on side 1"):
        plate.bend(1, 1, 0.2)


def test_setting_bends_out_and_never_back() -> None:
    plate = sharp()
    plate.bend(1, 1, 0.2)
    plate.bend(1, 1, 0.1)
    assert plate.set_mm(1) == pytest.approx(0.2)


@given(off=st.floats(0.0, 0.8))
def test_the_set_wears_off_as_the_line_comes_down(off: float) -> None:
    plate = sharp()
    plate.level(off)
    assert plate.set_mm(4) == pytest.approx(fresh_set(0.15, plate.depth_mm, SAW.bent_share).after(off).left_mm)


def test_width_over_the_points_is_the_plate_and_two_sets() -> None:
    assert sharp().over_points_mm() == pytest.approx(0.9 + 2 * 0.15)


def test_dressing_both_sides_leaves_no_burr_and_dressing_one_leaves_half() -> None:
    plate = sharp()
    for gullet in range(1, plate.points):
        plate.stroke(gullet, 0.01, 0.01)
    assert burrs(plate) == plate.points
    plate.dress(1, 0.004)
    assert burrs(plate) == plate.points // 2
    plate.dress(2, 0.004)
    assert burrs(plate) == 0


@pytest.mark.parametrize(
    ("work", "words"),
    [
        (lambda plate: plate.tooth(19), "tooth 19 is not on the plate; allowed: 1 to 18"),
        (lambda plate: plate.stroke(19, 0.0, 0.0), "gullet 19 is not on the plate; allowed: 0 to 18"),
        (lambda plate: plate.stroke(3, -0.1, 0.0), "a take of -0.1 mm; allowed: 0 mm or more"),
        (lambda plate: plate.stroke(3, 0.0, float("nan")), "a take of nan mm; allowed: 0 mm or more"),
        (lambda plate: plate.stroke(18, 0.0, 0.1), "tooth 19 is not on the plate"),
        (lambda plate: plate.level(float("inf")), "a pass of inf mm; allowed: 0 mm or more"),
    ],
)
def test_impossible_work_is_refused_in_words(work: object, words: str) -> None:
    assert callable(work)
    with pytest.raises(PlateError, match=words):
        work(sharp())


def test_refused_work_leaves_the_plate_as_it_was() -> None:
    plate = sharp()
    before = deepcopy(plate.teeth)
    for behind, ahead in ((0.1, -0.1), (-0.1, 0.1)):
        with pytest.raises(PlateError):
            plate.stroke(3, behind, ahead)
    assert plate.teeth == before
