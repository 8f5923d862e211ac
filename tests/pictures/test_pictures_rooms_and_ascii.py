"""What holds for every picture in every room: exact width, bounded height, one-cell characters, pure ASCII."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from wcwidth import wcwidth

from law_budget import examples
from session.pictures.bent_tooth import setting
from session.pictures.calipers import calipers
from session.pictures.chalk_marks import chalk_marks
from session.pictures.cuts_compared import GRAINS, TRIAL_CUTS, cuts
from session.pictures.file_corners import file_corners
from session.pictures.from_above import above, leaning
from session.pictures.guide_block import block, turn
from session.pictures.gullet_closeup import Gullet, closeup, flats_left
from session.pictures.level_file import flats, leveling
from session.pictures.line_strip import strip
from session.pictures.odd_teeth import cracked, odd_tooth, tooth_sizes
from session.pictures.picture_rows import PictureError, Rows, plain
from session.pictures.points_in_light import bright_points, hard_teeth
from session.pictures.saw_parts import all_round, brushed, handle_tried, plate_sighted, put_by, wiped
from session.pictures.stone_flat import dressing, turned_over
from session.pictures.straight_edge import line_gap, line_shapes
from session.pictures.trough import needle, trough
from session.pictures.vise import turn as saw_turn
from session.pictures.vise import vise
from session.trade.saw import End, FilePoints
from session.walk.known_teeth import Known
from session.walk.place import Standing

Picture = Callable[[int, int, bool, int], Rows]


def _gullet(side: int) -> Gullet:
    left = flats_left(0.14, {1, 3}, range(1, 10))
    return Gullet(tooth=5, teeth=9, front_deg=16.5, back_deg=47.8, rake=15, side=side, flats=left, lean=End.HEEL)


ANGLES = (16.5, 47.8)

OF_A_SIDE: dict[str, Picture] = {
    "closeup": lambda w, h, a, s: closeup(_gullet(s), w, h, ascii=a),
    "above": lambda w, h, a, s: above(
        5, 9, fleam=25, side=s, file_points=FilePoints.TOE, away={1, 3, 5, 7, 9}, width=w, height=h, ascii=a
    ),
    "leaning": lambda w, h, a, s: leaning(5, 9, side=s, away={1, 3, 5, 7, 9}, width=w, height=h, ascii=a),
    "block": lambda w, h, a, s: block(15, s, w, h, ascii=a),
    "turn": lambda w, h, a, s: turn(15, s, w, h, ascii=a),
    "dressing": lambda w, h, a, s: dressing(s, True, w, h, ascii=a),
    "turned over": lambda w, h, a, s: turned_over(s, w, h, ascii=a),
    "leveling": lambda w, h, a, s: leveling(16.5, 47.8, s, w, h, ascii=a),
    "flats": lambda w, h, a, s: flats((("none", 0.0), ("wide", 0.3)), 16.5, 47.8, s, w, h, ascii=a),
    "vise": lambda w, h, a, s: vise(s, w, h, above_jaws="1/2 in", ascii=a),
    "turn of the saw": lambda w, h, a, s: saw_turn(s, w, h, ascii=a),
    "strip": lambda w, h, a, s: strip([Standing.AHEAD, None, Standing.DONE], 1, (), s, w, height=h, ascii=a),
}

#: Those that look the same on both sides.
EITHER_SIDE: dict[str, Picture] = {
    "line shapes": lambda w, h, a, s: line_shapes(w, h, ascii=a),
    "line gap": lambda w, h, a, s: line_gap(w, h, ascii=a),
    "high tooth": lambda w, h, a, s: odd_tooth(Known.HIGH, *ANGLES, w, h, ascii=a),
    "low tooth": lambda w, h, a, s: odd_tooth(Known.LOW, *ANGLES, w, h, ascii=a),
    "broken tooth": lambda w, h, a, s: odd_tooth(Known.BROKEN, *ANGLES, w, h, ascii=a),
    "sizes": lambda w, h, a, s: tooth_sizes(*ANGLES, w, h, ascii=a),
    "crack": lambda w, h, a, s: cracked(*ANGLES, w, h, ascii=a),
    "bright points": lambda w, h, a, s: bright_points(*ANGLES, w, h, ascii=a),
    "hard teeth": lambda w, h, a, s: hard_teeth(*ANGLES, w, h, ascii=a),
    "calipers": lambda w, h, a, s: calipers(2.6, 0.9, 0.15, 0.4, w, h, over="1.2 mm", plate="0.9 mm", ascii=a),
    "chalk": lambda w, h, a, s: chalk_marks(155, lambda tooth: f"{tooth} mm", w, h, ascii=a),
    "corners": lambda w, h, a, s: file_corners(w, h, face="8 mm", ascii=a),
    "all round": lambda w, h, a, s: all_round(w, h, ascii=a),
    "handle": lambda w, h, a, s: handle_tried(w, h, ascii=a),
    "plate": lambda w, h, a, s: plate_sighted(w, h, ascii=a),
    "brushed": lambda w, h, a, s: brushed(w, h, ascii=a),
    "wiped": lambda w, h, a, s: wiped(w, h, ascii=a),
    "put by": lambda w, h, a, s: put_by(w, h, ascii=a),
    "trough": lambda w, h, a, s: trough(25, w, h, ascii=a),
    "needle": lambda w, h, a, s: needle(25, w, h, ascii=a),
    "trial cuts": lambda w, h, a, s: cuts(TRIAL_CUTS, w, h, ascii=a),
    "grains": lambda w, h, a, s: cuts(GRAINS, w, h, ascii=a),
    "setting": lambda w, h, a, s: setting(2.6, 0.9, 0.15, 0.4, w, h, leans_away=s == 1, ascii=a),
}

PICTURES = OF_A_SIDE | EITHER_SIDE


@pytest.mark.wide
@pytest.mark.parametrize("name", PICTURES)
@examples(40)
@given(
    width=st.integers(1, 200),
    height=st.integers(1, 45),
    ascii_only=st.booleans(),
    side=st.sampled_from((1, 2)),
)
def test_every_row_is_exactly_as_wide_as_the_room_and_no_row_is_too_many(
    name: str, width: int, height: int, ascii_only: bool, side: int
) -> None:
    rows = PICTURES[name](width, height, ascii_only, side)
    lines = plain(rows)
    assert {len(line) for line in lines} == {width}
    assert 1 <= len(lines) <= height
    text = "".join(lines)
    assert all(wcwidth(char) == 1 for char in set(text))
    assert not any(unicodedata.category(char) in ("Mn", "Cf", "Cc") for char in set(text))
    if ascii_only:
        assert text.isascii()


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize("side", [1, 2])
def test_the_ascii_drawing_differs_from_the_other_and_neither_is_empty(name: str, side: int) -> None:
    fine, coarse = ("".join(plain(PICTURES[name](60, 12, ascii_only, side))) for ascii_only in (False, True))
    assert coarse.strip()
    assert fine.strip()
    assert fine != coarse
    assert not fine.isascii()


@pytest.mark.parametrize("name", PICTURES)
@pytest.mark.parametrize(("width", "height"), [(0, 5), (5, -1), (1001, 5)])
def test_a_room_that_cannot_be_is_refused(name: str, width: int, height: int) -> None:
    with pytest.raises(PictureError, match="allowed are 1 to 1000"):
        PICTURES[name](width, height, False, 1)


@pytest.mark.parametrize("name", OF_A_SIDE)
def test_a_side_that_cannot_be_is_refused(name: str) -> None:
    with pytest.raises(PictureError, match="side 3"):
        PICTURES[name](60, 12, False, 3)
