from __future__ import annotations

import math
from dataclasses import fields

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from made_saws import panel_saw
from session.trade.saw import FilePoints
from session.trade.tooth import LIMITS, Tooth, block_rake_for, tooth, tooth_of
from session.trade.trade_error import TradeError

RAKES = st.floats(-15, 45)
FLEAMS = st.floats(0, 45)
SLOPES = st.floats(0, 15)
PITCHES = st.floats(0.8, 12)
TIPS = st.sampled_from(FilePoints)

LENGTHS = {
    "pitch_mm",
    "corner_radius_mm",
    "plate_mm",
    "depth_mm",
    "depth_lost_mm",
    "longest_flank_mm",
    "point_rise_mm",
    "longest_flank_at_face_mm",
}


@given(PITCHES, RAKES, FLEAMS, SLOPES, st.floats(0.1, 10))
def test_scaling_every_length_scales_every_length_and_no_angle(
    pitch: float, rake: float, fleam: float, slope: float, by: float
) -> None:
    one = tooth(pitch, rake, fleam, slope, 0.02 * pitch, 0.2 * pitch)
    other = tooth(by * pitch, rake, fleam, slope, 0.02 * by * pitch, 0.2 * by * pitch)
    for name in (f.name for f in fields(Tooth) if f.name != "file_points"):
        expected = getattr(one, name) * (by if name in LENGTHS else 1)
        assert getattr(other, name) == pytest.approx(expected, rel=1e-9, abs=1e-9), name


@given(PITCHES, RAKES, FLEAMS, FLEAMS)
def test_depth_in_the_middle_plane_falls_with_fleam(pitch: float, rake: float, one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert tooth(pitch, rake, more).depth_mm <= tooth(pitch, rake, less).depth_mm * (1 + 1e-12)


@given(PITCHES, st.floats(-15, 30), st.floats(-15, 30))
def test_depth_rises_with_rake_up_to_the_peg_tooth(pitch: float, one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert tooth(pitch, less).depth_mm <= tooth(pitch, more).depth_mm * (1 + 1e-12)


@given(PITCHES, st.floats(15, 45), FLEAMS)
def test_a_tooth_and_its_mirror_image_are_equally_deep(pitch: float, rake: float, fleam: float) -> None:
    there, back = tooth(pitch, rake, fleam), tooth(pitch, 60 - rake, fleam)
    assert there.depth_mm == pytest.approx(back.depth_mm)
    assert there.longest_flank_mm == pytest.approx(back.longest_flank_mm)
    assert there.front_deg == pytest.approx(back.back_deg)


@given(RAKES, FLEAMS, st.floats(0, 30), TIPS)
def test_block_rake_and_plate_rake_are_inverse(rake: float, fleam: float, slope: float, tips: FilePoints) -> None:
    try:
        made = tooth(3.0, rake, fleam, slope, file_points=tips)
    except TradeError:
        assume(False)
    assert block_rake_for(made.front_deg, fleam, slope, tips) == pytest.approx(rake, abs=1e-9)


@given(st.floats(0.5, 45), st.floats(0.5, 45))
def test_fleam_makes_the_rake_on_the_plate_larger_than_on_the_block(rake: float, fleam: float) -> None:
    made = tooth(3.0, rake, fleam)
    assert made.front_deg > rake
    assert made.gullet_deg > 60


@given(PITCHES, RAKES, SLOPES)
def test_a_square_file_points_nowhere_so_its_direction_changes_no_measure(
    pitch: float, rake: float, slope: float
) -> None:
    to_toe, to_handle = (tooth(pitch, rake, 0.0, slope, file_points=tips) for tips in FilePoints)
    assert to_toe.depth_mm == pytest.approx(to_handle.depth_mm)
    assert to_toe.gullet_deg == pytest.approx(to_handle.gullet_deg)
    assert to_toe.longest_flank_mm == pytest.approx(to_handle.longest_flank_mm)


@given(PITCHES, RAKES, st.floats(1, 45), st.floats(0.01, 1.5), TIPS)
def test_fleam_alone_puts_the_point_on_the_outer_face(
    pitch: float, rake: float, fleam: float, plate: float, tips: FilePoints
) -> None:
    made = tooth(pitch, rake, fleam, plate_mm=plate, file_points=tips)
    # The planes of the two faces, each by the file's axis and its slope in the section across it, meet in the top edge:
    # what that rises from the middle of the plate to its face.
    turned, front, back = (math.radians(deg) for deg in (fleam, rake, 60 - rake))
    planes = [
        np.cross(
            [side * math.sin(turned), math.cos(turned), 0.0],
            [lean * math.cos(turned), -side * lean * math.sin(turned), 1.0],
        )
        for side, lean in ((1, math.tan(front)), (-1, -math.tan(back)))
    ]
    _, across, up = np.cross(planes[0], planes[1])
    assert made.point_rise_mm == pytest.approx(abs(up / across) * plate / 2)
    assert made.point_rise_mm > 0
    assert made.longest_flank_at_face_mm > made.longest_flank_mm


@given(PITCHES, RAKES, FLEAMS, SLOPES, st.floats(0.0, 0.05), st.floats(0.0, 0.05))
def test_a_blunter_corner_leaves_less_depth(
    pitch: float, rake: float, fleam: float, slope: float, one: float, other: float
) -> None:
    sharper, blunter = sorted((one * pitch, other * pitch))
    deep, shallow = (tooth(pitch, rake, fleam, slope, radius).depth_left_mm for radius in (sharper, blunter))
    assert deep >= shallow - 1e-12
    assert shallow > 0


# Worked from the equations of the two planes; the solid cut in tests/reference confirms them.
@pytest.mark.parametrize(
    ("rake", "fleam", "slope", "front", "back", "depth"),
    [
        (0, 0, 0, 0.00000, 1.73205, 0.57735),
        (4, 0, 0, 0.06993, 1.48256, 0.64413),
        (15, 0, 0, 0.26795, 1.00000, 0.78868),
        (30, 0, 0, 0.57735, 0.57735, 0.86603),
        (15, 25, 0, 0.29565, 1.10338, 0.71478),
        (15, 25, 10, 0.29761, 1.00522, 0.76756),
        (20, 20, 20, 0.38124, 0.75974, 0.87644),
    ],
)
def test_worked_values(rake: float, fleam: float, slope: float, front: float, back: float, depth: float) -> None:
    made = tooth(1.0, rake, fleam, slope)
    assert math.tan(math.radians(made.front_deg)) == pytest.approx(front, abs=6e-6)
    assert math.tan(math.radians(made.back_deg)) == pytest.approx(back, abs=6e-6)
    assert made.depth_mm == pytest.approx(depth, abs=6e-6)


def test_a_saws_tooth_is_that_of_its_recipe() -> None:
    saw = panel_saw(fleam=25, slope=2, file_points=FilePoints.HANDLE)
    assert tooth_of(saw, 0.1) == tooth(25.4 / 7, 15, 25, 2, 0.1, 0.889, FilePoints.HANDLE)


@pytest.mark.parametrize("name", ["rake", "fleam", "slope"])
@pytest.mark.parametrize("off", ["low", "high", "nan", "inf"])
def test_an_angle_out_of_range_is_named_with_its_range(name: str, off: str) -> None:
    low, high = LIMITS[name]
    value = {"low": low - 0.1, "high": high + 0.1, "nan": math.nan, "inf": math.inf}[off]
    angles = {"rake": 15.0, "fleam": 0.0, "slope": 0.0, name: value}
    with pytest.raises(TradeError, match=rf"{name} .*; allowed: {low:g} to {high:g} degrees"):
        tooth(3.0, angles["rake"], angles["fleam"], angles["slope"])


@pytest.mark.parametrize("bad", [-0.1, math.nan, math.inf])
def test_impossible_measures_are_refused(bad: float) -> None:
    with pytest.raises(TradeError, match="corner radius"):
        tooth(3.0, 15, corner_radius_mm=bad)
    with pytest.raises(TradeError, match="plate thickness"):
        tooth(3.0, 15, plate_mm=bad)
    with pytest.raises(TradeError, match="pitch"):
        tooth(bad, 15)


def test_a_corner_that_leaves_no_flank_is_refused_with_the_largest_allowed() -> None:
    """A peg tooth of pitch 1 has a flank of 1; a circle touches a 60° corner at √3 radii from its tip."""
    assert tooth(1.0, 30, corner_radius_mm=0.577).depth_left_mm > 0
    with pytest.raises(TradeError, match=r"allowed: below 0\.577 mm"):
        tooth(1.0, 30, corner_radius_mm=0.578)


def test_angles_that_lay_the_file_over_are_refused() -> None:
    with pytest.raises(TradeError, match="take less slope"):
        tooth(3.0, -15, 45, 25, file_points=FilePoints.HANDLE)


@pytest.mark.parametrize("wanted", [-30, 60, 90, math.nan, math.inf])
def test_a_plate_rake_no_block_gives_is_refused(wanted: float) -> None:
    with pytest.raises(TradeError, match="allowed"):
        block_rake_for(wanted)
