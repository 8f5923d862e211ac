from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.file_choice import (
    FROM_MEMORY,
    GEOMETRY,
    WIDEST_FACE_MM,
    FaceNeeds,
    FileOwned,
    Fit,
    advised_mm,
    face_needs,
    face_ok,
    fit_of,
    hard_minimum_mm,
    judge,
    narrow_face,
    rank,
    warnings,
)
from session.trade.lengths import Length, parse_length
from session.trade.pitch import from_points_per_inch
from session.trade.tooth import tooth
from session.trade.trade_error import TradeError

PANEL = tooth(from_points_per_inch(8), 15)
FACES = st.floats(1, 14)


def owned(face: str, radius: str | None = None, name: str = "netloft file") -> FileOwned:
    return FileOwned(name, parse_length(face), None if radius is None else parse_length(radius))


def test_three_faces_for_eight_points() -> None:
    """Flank 0.159 in, doubled 0.319 in (law of sines)."""
    assert judge(owned("0.328 in"), PANEL).fit is Fit.SERVES
    narrow = judge(owned("0.266 in"), PANEL)
    assert (narrow.fit, narrow.ok) == (Fit.NARROW, True)
    too_narrow = judge(owned("0.159 in"), PANEL)
    assert (too_narrow.fit, too_narrow.ok) == (Fit.TOO_NARROW, False)
    assert "0.159 in" in too_narrow.reasons[0].text
    assert "ridge" in too_narrow.reasons[0].text


def test_ten_points_and_a_coarse_rip_saw() -> None:
    """10 points at rake 15 want 0.248 in; 5.5 points at rake 0 want 0.513 in, more than any file has: 0.469 in."""
    assert judge(owned("0.266 in"), tooth(from_points_per_inch(10), 15)).fit is Fit.SERVES
    coarse = tooth(from_points_per_inch(5.5), 0)
    largest = judge(owned("0.469 in"), coarse)
    assert largest.fit is Fit.SERVES
    assert "the largest you can get" in largest.reasons[0].text
    assert "0.513 in" in largest.reasons[0].text
    assert "more than its own half" in largest.reasons[0].text
    assert judge(owned("0.44 in"), coarse).fit is Fit.NARROW


@given(FACES, st.floats(0.8, 8), st.floats(-10, 40), st.floats(0, 40))
def test_fit_follows_the_two_bounds(face: float, pitch: float, rake: float, fleam: float) -> None:
    made = tooth(pitch, rake, fleam, plate_mm=0.9)
    needs = face_needs(made)
    assert needs == FaceNeeds(hard_minimum_mm(made), made.longest_flank_at_face_mm, advised_mm(made))
    assert needs.advised_mm == pytest.approx(min(2 * needs.hard_minimum_mm, WIDEST_FACE_MM))
    assert needs.beyond_any_file == (2 * needs.hard_minimum_mm > WIDEST_FACE_MM)
    assert face_ok(face, needs) == (face > made.longest_flank_at_face_mm)
    assert (fit_of(face, needs) is Fit.TOO_NARROW) == (not face_ok(face, needs))
    if face >= needs.advised_mm and face_ok(face, needs):
        assert fit_of(face, needs) in (Fit.SERVES, Fit.LARGE)


def test_a_face_of_exactly_the_flank_still_leaves_a_ridge() -> None:
    needs = face_needs(PANEL)
    assert fit_of(needs.hard_minimum_mm, needs) is Fit.TOO_NARROW
    assert fit_of(math.nextafter(needs.hard_minimum_mm, math.inf), needs) is Fit.NARROW


@given(st.lists(FACES, max_size=8))
def test_ranking_keeps_every_file_and_puts_the_smallest_that_serves_first(faces: list[float]) -> None:
    drawer = [FileOwned(f"file {n}", Length.of(face)) for n, face in enumerate(faces)]
    choices = rank(drawer, PANEL)
    assert {c.file.name for c in choices} == {f.name for f in drawer}
    order = [list(Fit).index(c.fit) for c in choices]
    assert order == sorted(order)
    for one, two in pairwise(choices):
        if one.fit is two.fit:
            ascending = one.fit in (Fit.SERVES, Fit.LARGE)
            assert (one.file.face.mm <= two.file.face.mm) if ascending else (one.file.face.mm >= two.file.face.mm)


def test_ranking_does_not_depend_on_the_order_in_the_drawer() -> None:
    drawer = [owned(face, name=face) for face in ("0.5 in", "0.328 in", "0.266 in", "0.1 in", "0.35 in")]
    names = ["0.328 in", "0.35 in", "0.5 in", "0.266 in", "0.1 in"]
    assert [c.file.name for c in rank(drawer, PANEL)] == names
    assert [c.file.name for c in rank(reversed(drawer), PANEL)] == names


def test_every_reason_names_its_source() -> None:
    sources = {c.fit: c.reasons[0].source for c in rank([owned(f) for f in ("8.5 mm", "20 mm", "6 mm", "2 mm")], PANEL)}
    assert sources == {
        Fit.SERVES: FROM_MEMORY,
        Fit.LARGE: "SHEAR",
        Fit.NARROW: FROM_MEMORY,
        Fit.TOO_NARROW: GEOMETRY,
    }


def test_a_face_between_middle_and_outer_flank_leaves_a_ridge_at_the_outer_face() -> None:
    fleamed = tooth(3.6, 15, 30, plate_mm=0.9)
    needs = face_needs(fleamed)
    between = Length.of((needs.hard_minimum_mm + needs.at_outer_face_mm) / 2)
    choice = judge(FileOwned("near", between), fleamed)
    assert (choice.fit, choice.ok) == (Fit.TOO_NARROW, False)
    assert "at the outer face of the plate" in choice.reasons[0].text
    told = narrow_face(between, fleamed)
    assert told is not None
    assert "at the outer face of the plate" in told.text


def test_the_face_that_8_points_with_fleam_need_at_the_outer_face() -> None:
    """8 points, rake 15, fleam 25, plate 0.035 in: 4.09 mm, in mid-plate 3.67 mm (GEOMETRY.md, "Which file")."""
    needs = face_needs(tooth(from_points_per_inch(8), 15, 25, plate_mm=0.889))
    assert (round(needs.at_outer_face_mm, 2), round(needs.hard_minimum_mm, 2)) == (4.09, 3.67)
    assert not face_ok(4.0, needs)
    assert face_ok(4.1, needs)


def test_what_lies_between_the_two_flanks_is_told_nowhere_else() -> None:
    fleamed = tooth(3.6, 15, 30, plate_mm=0.9)
    needs = face_needs(fleamed)
    wide = judge(FileOwned("wide", Length.of(needs.advised_mm)), fleamed)
    assert not any("outer face" in reason.text for reason in wide.reasons)


def test_a_known_corner_tells_the_depth_it_costs_or_rules_the_file_out() -> None:
    blunt = judge(owned("8.5 mm", "0.2 mm"), PANEL)
    expected = tooth(PANEL.pitch_mm, 15, corner_radius_mm=0.2)
    assert blunt.ok
    assert Length.of(expected.depth_lost_mm).text in blunt.reasons[-1].text
    assert Length.of(expected.depth_left_mm).text in blunt.reasons[-1].text
    round_edge = judge(owned("8.5 mm", "3 mm"), PANEL)
    assert not round_edge.ok
    assert "no straight flank" in round_edge.reasons[-1].text
    assert rank([owned("8.5 mm", "3 mm", "blunt"), owned("6 mm", name="narrow")], PANEL)[0].file.name == "narrow"


def test_warnings_name_pitches_no_file_suits_and_a_narrow_face() -> None:
    assert narrow_face(parse_length("0.33 in"), PANEL) is None
    assert warnings(PANEL) == ()
    (coarse,) = warnings(tooth(25.4, 0))
    assert "29.33 mm" in coarse.text
    assert coarse.source == FROM_MEMORY
    (fine,) = warnings(tooth(0.08, 0))
    assert "too fine" in fine.text
    (inches,) = warnings(tooth(25.4, 0), unit="in")
    assert "1.155 in" in inches.text
    assert "0.469 in" in inches.text
    ridge = narrow_face(parse_length("3 mm"), PANEL)
    assert ridge is not None
    assert "3 mm" in ridge.text
    assert "4.05 mm" in ridge.text
    assert ridge.source == GEOMETRY


def test_a_plate_thicker_than_any_in_print_is_asked_about() -> None:
    """HOLTZ p. 699: table saws from number 16 of the Birmingham gauge, 0.065 in; a nought may slip, 0.35 for 0.035."""
    assert warnings(tooth(3.629, 0, plate_mm=0.065 * 25.4)) == ()
    (slip,) = warnings(tooth(3.629, 0, plate_mm=0.35 * 25.4), unit="in")
    assert "0.350 in" in slip.text
    assert "0.065 in" in slip.text
    assert slip.source == "HOLTZ p. 699"


def test_a_plate_in_which_fleam_leaves_no_tooth_at_one_side_is_told() -> None:
    fine, coarse = tooth(0.65, 15, 45, plate_mm=0.9), tooth(1.3, 15, 45, plate_mm=0.9)
    assert fine.point_rise_mm > fine.depth_mm
    assert coarse.point_rise_mm < coarse.depth_mm
    (told,) = warnings(fine)
    assert "0.36 mm deep" in told.text
    assert told.source == GEOMETRY
    assert warnings(coarse) == ()


@pytest.mark.parametrize("face", [0.0, -1.0, math.nan, math.inf])
def test_impossible_faces_are_refused(face: float) -> None:
    with pytest.raises(TradeError, match="allowed: a finite width above 0"):
        face_ok(face, face_needs(PANEL))
    with pytest.raises(TradeError, match="allowed"):
        FileOwned("bad", Length(face, "?", "mm"))


def test_impossible_files_are_refused_by_name() -> None:
    with pytest.raises(TradeError, match="netloft file: corner radius 5 mm"):
        owned("8 mm", "5 mm")
    for corners in ((0, 0), (0, -1, 0), (0, 1.5, 0), (0, True, 0)):
        with pytest.raises(TradeError, match="three whole numbers"):
            FileOwned("bad", parse_length("8 mm"), None, corners)  # type: ignore[arg-type]
