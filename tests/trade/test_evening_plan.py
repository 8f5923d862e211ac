from __future__ import annotations

import math
from functools import partial
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from drawn_teeth import DrawnTooth
from session.trade.evening import (
    Lean,
    even_points,
    extra_leveling_mm,
    lean_in_gullet,
    plan_evening,
    worst_spacing_error_mm,
)
from session.trade.trade_error import TradeError
from session.trade.uneven_line import UnevenLine, line_from_flats

PITCH, DEPTH, PLATE = 4.6, 3.1, 0.9

#: The tooth of these measures, drawn; how its flanks share the angle between them is no matter here.
TOOTH = DrawnTooth(PITCH, 0.4 * PITCH / DEPTH, 0.6 * PITCH / DEPTH, PLATE)


@st.composite
def lines(draw: st.DrawFn, least: int = 2, most: int = 40) -> UnevenLine:
    count = draw(st.integers(least, most))
    off = draw(st.lists(st.floats(-0.6, 0.6), min_size=count, max_size=count))
    width = draw(st.lists(st.sampled_from([0.0, 0.05, 0.2, 0.5]), min_size=count, max_size=count))
    low = draw(st.sets(st.integers(2, count - 1), max_size=3)) if count > 4 else set()
    flats = [
        [] if k + 1 in low else [k * PITCH + off[k] - width[k] / 2, k * PITCH + off[k] + width[k] / 2]
        for k in range(count)
    ]
    broken = draw(st.sets(st.sampled_from(range(2, count)), max_size=1)) if count > 6 else set()
    return line_from_flats(flats, PITCH, broken)


@given(lines())
def test_takes_are_never_negative_and_add_up_to_the_flat(line: UnevenLine) -> None:
    plan = plan_evening(line, DEPTH, PLATE)
    for tooth, flat in enumerate(line.flats):
        front, back, point = plan.front_mm[tooth], plan.back_mm[tooth], plan.points_mm[tooth]
        assert front >= 0.0
        assert back >= 0.0
        if flat is None:
            assert point is None
            assert front == back == 0.0
        else:
            assert front + back == pytest.approx(flat[1] - flat[0], abs=1e-12)
            assert point == pytest.approx(flat[0] + back, abs=1e-12)


@given(lines())
def test_no_plan_is_worse_than_filing_straight(line: UnevenLine) -> None:
    plan = plan_evening(line, DEPTH, PLATE)
    assert plan.worst_before_mm is not None
    assert plan.worst_after_mm is not None
    assert plan.worst_after_mm <= plan.worst_before_mm + 1e-9


@given(lines(), st.sampled_from([0.5, 2.0, 25.4]))
def test_scaling_all_lengths_scales_the_plan(line: UnevenLine, scale: float) -> None:
    flats = [[] if flat is None else [v * scale for v in flat] for flat in line.flats]
    larger = line_from_flats(flats, PITCH * scale, line.broken)
    small = plan_evening(line, DEPTH, PLATE, within_mm=0.1, bite_mm3=0.1)
    large = plan_evening(
        larger, DEPTH * scale, PLATE * scale, within_mm=0.1 * scale, light_mm=0.04 * scale, bite_mm3=0.1 * scale**3
    )
    near = partial(pytest.approx, rel=1e-6, abs=1e-6 * scale)
    assert large.front_mm == near([v * scale for v in small.front_mm])
    assert large.back_mm == near([v * scale for v in small.back_mm])
    assert large.drop_mm == near([v * scale for v in small.drop_mm])
    assert small.worst_after_mm is not None
    assert large.worst_after_mm == near(small.worst_after_mm * scale)
    if small.extra_leveling_mm is not None:
        assert large.extra_leveling_mm == near(small.extra_leveling_mm * scale)


@given(lines(), st.floats(0.0, 0.5))
def test_extra_leveling_agrees_with_bisection_on_the_depth(line: UnevenLine, within: float) -> None:
    extra = extra_leveling_mm(line, DEPTH, within)
    if extra is None:
        return
    enough = within + 1e-9  # the points carry rounding of that order
    low, high = 0.0, DEPTH
    for _ in range(40):
        middle = (low + high) / 2
        if _error_after(line, middle) <= enough:
            high = middle
        else:
            low = middle
    assert extra == pytest.approx(high if _error_after(line, 0.0) > enough else 0.0, abs=1e-6)


def _error_after(line: UnevenLine, deeper: float) -> float:
    wider = deeper * PITCH / DEPTH
    flats = tuple(None if f is None else (f[0] - 0.7 * wider, f[1] + 0.3 * wider) for f in line.flats)
    return worst_spacing_error_mm(PITCH, even_points(UnevenLine(PITCH, flats)))


def test_a_tooth_out_of_step_is_brought_back_by_its_own_flat() -> None:
    # Tooth 2 stands 0.2 mm too far toward the toe, with a flat wide enough to bring its point back.
    plan = plan_evening(line_from_flats([[0.0, 0.0], [4.5, 5.1], [9.2, 9.2]], PITCH), DEPTH, PLATE)
    assert plan.points_mm == pytest.approx((0.0, 4.6, 9.2))
    assert plan.front_mm == pytest.approx((0.0, 0.5, 0.0))
    assert plan.back_mm == pytest.approx((0.0, 0.1, 0.0))
    assert plan.lean == (Lean.TOE, Lean.HEEL, Lean.STRAIGHT)
    assert plan.worst_before_mm == pytest.approx(0.2)
    assert plan.worst_after_mm == pytest.approx(0.0, abs=1e-12)
    assert plan.drop_mm == pytest.approx((TOOTH.deeper(4.5, 4.6), TOOTH.deeper(4.1, 4.6), 0.0))
    assert plan.extra_leveling_mm == 0.0
    assert plan.sharpenings_until_even == 0


def test_strokes_are_the_volume_by_the_bite() -> None:
    plan = plan_evening(line_from_flats([[0.0, 0.0], [4.5, 5.1], [9.2, 9.2]], PITCH), DEPTH, PLATE, bite_mm3=0.1)
    # The old gullet behind tooth 2 is 4.5 wide at the line, the new one 4.6; the one in front 4.1, then 4.6.
    steel = TOOTH.between(4.5, 4.6), TOOTH.between(4.1, 4.6), 0.0
    assert plan.volumes_mm3 == pytest.approx(steel)
    assert plan.strokes == tuple(round(mm3 / 0.1) for mm3 in steel)
    assert plan.heel_strokes == 0


def test_the_back_of_tooth_one_is_counted_apart() -> None:
    plan = plan_evening(line_from_flats([[-0.5, 0.0], [4.6, 4.6], [9.2, 9.2]], PITCH), DEPTH, PLATE)
    assert plan.back_mm[0] == pytest.approx(0.5)
    assert plan.heel_strokes > 0
    assert plan.strokes == (0, 0, 0)


def test_spacing_is_counted_across_a_low_tooth_and_a_stump() -> None:
    flats = [[0.0, 0.0], [], [9.0, 9.6], [13.8, 13.8]]
    plan = plan_evening(line_from_flats(flats, PITCH), DEPTH, PLATE)
    assert plan.points_mm == pytest.approx((0.0, None, 9.2, 13.8))
    assert plan.low == (2,)
    assert plan.lean[1] is Lean.TOE  # only the back of tooth 3 is filed there
    assert plan.strokes[0] == 0
    flats[1] = [3.0, 5.0]
    stump = plan_evening(line_from_flats(flats, PITCH, broken=[2]), DEPTH, PLATE)
    assert stump.points_mm == plan.points_mm
    assert stump.broken == (2,)
    assert any("Broken" in note and "2" in note for note in stump.notes)


def test_error_across_a_low_tooth_is_shared_among_the_spacings() -> None:
    assert worst_spacing_error_mm(4.0, [0.0, None, 8.5]) == pytest.approx(0.25)
    assert worst_spacing_error_mm(4.0, [0.0]) == 0.0


def test_a_line_out_of_reach_needs_a_known_depth_or_many_sharpenings() -> None:
    # One tooth 0.5 mm out of step, flats without width: its two flats must grow by 0.5 − 2·0.1 … in all 0.4 mm.
    line = line_from_flats([[0.0, 0.0], [5.1, 5.1], [9.2, 9.2]], PITCH)
    plan = plan_evening(line, DEPTH, PLATE, within_mm=0.1, light_mm=0.05)
    assert plan.extra_leveling_mm == pytest.approx(TOOTH.came_down(0.4 / PITCH))
    assert plan.sharpenings_until_even == 6  # 0.27 mm, 0.05 at a time


def test_a_line_beyond_leveling_is_said_to_be_so() -> None:
    line = line_from_flats([[0.0, 0.0], [0.5, 0.5], [9.2, 9.2]], PITCH)
    plan = plan_evening(line, DEPTH, PLATE, within_mm=0.1)
    assert plan.extra_leveling_mm is None
    assert plan.sharpenings_until_even is None


@given(lines(least=3))
def test_extra_leveling_falls_with_the_tolerance(line: UnevenLine) -> None:
    needed = [extra_leveling_mm(line, DEPTH, within) for within in (0.0, 0.1, 0.3, 1.0)]
    for tight, loose in pairwise(math.inf if depth is None else depth for depth in needed):
        assert loose <= tight


@pytest.mark.parametrize(
    ("front", "back", "lean"),
    [
        (0.3, 0.1, Lean.HEEL),
        (0.1, 0.3, Lean.TOE),
        (0.2, 0.2, Lean.STRAIGHT),
        (0.21, 0.2, Lean.STRAIGHT),
        (0.0, 0.0, Lean.STRAIGHT),
        (0.1, 0.0, Lean.HEEL),
    ],
)
def test_the_file_leans_toward_the_tooth_that_gives_more(front: float, back: float, lean: Lean) -> None:
    assert lean_in_gullet(front, back) is lean


def test_a_pitch_that_is_not_the_lines_own_is_mentioned() -> None:
    plan = plan_evening(line_from_flats([[k * 4.8, k * 4.8 + 0.1] for k in range(9)], PITCH), DEPTH, PLATE)
    assert any("4.800 mm" in note and "4.600 mm" in note for note in plan.notes)


@pytest.mark.parametrize(
    "bad",
    [{"depth_mm": 0.0}, {"plate_mm": math.nan}, {"bite_mm3": 0.0}, {"within_mm": -0.1}, {"light_mm": 0.0}],
)
def test_impossible_values_are_refused(bad: dict[str, Any]) -> None:
    line = line_from_flats([[0.0, 0.1], [4.6, 4.7]], PITCH)
    with pytest.raises(TradeError, match="allowed"):
        plan_evening(line, **{"depth_mm": DEPTH, "plate_mm": PLATE, **bad})


def test_a_take_that_is_rounding_alone_asks_for_no_lean() -> None:
    assert lean_in_gullet(3e-15, 0.0) is Lean.STRAIGHT
    assert lean_in_gullet(0.0, 3e-15) is Lean.STRAIGHT


@given(lines(), st.sampled_from([0.0, 0.02, 0.1]))
def test_light_sharpenings_one_after_another_even_the_line_when_foretold(line: UnevenLine, within: float) -> None:
    """Each sharpening levels a little, and the points move within the small flats that leaves; no two of them less."""
    light = 0.04
    foretold = plan_evening(line, DEPTH, PLATE, within_mm=within, light_mm=light).sharpenings_until_even
    assume(foretold is not None and foretold < 40)
    needed = 0
    points = even_points(line)
    while worst_spacing_error_mm(PITCH, points) > within + 1e-7:
        needed += 1
        assert needed < 60
        width = light * PITCH / DEPTH
        flats = [[] if x is None else [x - 0.4 * width, x + 0.6 * width] for x in points]
        points = even_points(line_from_flats(flats, PITCH))
    assert needed == foretold
