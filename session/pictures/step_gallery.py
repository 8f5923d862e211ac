"""The pictures of the named steps and of dressing, once each, for the gallery."""

from __future__ import annotations

from typing import Final

from session.pictures.calipers import calipers
from session.pictures.chalk_marks import chalk_marks
from session.pictures.cuts_compared import GRAINS, TRIAL_CUTS, WAYS, cuts
from session.pictures.file_corners import file_corners
from session.pictures.measured_face import measured_face
from session.pictures.odd_teeth import cracked, odd_tooth, tooth_sizes
from session.pictures.picture_rows import Rows
from session.pictures.plate_calipers import plate_calipers
from session.pictures.points_in_light import bright_points, hard_teeth
from session.pictures.saw_parts import all_round, brushed, handle_tried, plate_sighted, put_by, wiped
from session.pictures.stone_flat import dressing, turned_over
from session.pictures.straight_edge import line_gap, line_shapes
from session.pictures.trough import needle, trough
from session.trade.rule_marks import on_rule
from session.walk.known_teeth import Known

# Plate angles of a tooth filed at rake 15 and fleam 25 (geometry: tan F = 0.29565, tan B = 1.10338).
_FRONT, _BACK = 16.47, 47.81

_TEETH: Final = 155


def step_gallery(*, ascii: bool = False) -> dict[str, Rows]:
    """Each by name, of an invented crosscut saw of 155 teeth."""
    return {
        "straight, crowned, hollow": line_shapes(50, 13, ascii=ascii),
        "the widest gap": line_gap(40, 10, ascii=ascii),
        "a high tooth": odd_tooth(Known.HIGH, _FRONT, _BACK, 50, 10, ascii=ascii),
        "a low tooth": odd_tooth(Known.LOW, _FRONT, _BACK, 50, 10, ascii=ascii),
        "a broken tooth": odd_tooth(Known.BROKEN, _FRONT, _BACK, 50, 10, ascii=ascii),
        "even and uneven teeth": tooth_sizes(_FRONT, _BACK, 50, 14, ascii=ascii),
        "a crack": cracked(_FRONT, _BACK, 50, 11, ascii=ascii),
        "bright points": bright_points(_FRONT, _BACK, 44, 12, ascii=ascii),
        "hard teeth": hard_teeth(_FRONT, _BACK, 44, 12, ascii=ascii),
        "over the points": calipers(2.6, 0.9, 0.15, 0.4, 40, 12, over="0.047 in", plate="0.035 in", ascii=ascii),
        "the plate": plate_calipers(2.6, 0.9, 0.15, 0.4, 40, 9, plate="0.035 in", ascii=ascii),
        "chalk marks": chalk_marks(_TEETH, lambda tooth: on_rule((tooth - 1) * 3.5, "mm"), 50, 12, ascii=ascii),
        "corners of a file": file_corners(40, 11, face="0.33 in", ascii=ascii),
        "a face of a file": measured_face(44, 5, face="0.33 in", ascii=ascii),
        "the saw all round": all_round(50, 11, ascii=ascii),
        "the handle tried": handle_tried(50, 11, ascii=ascii),
        "the plate sighted": plate_sighted(50, 11, ascii=ascii),
        "dressing": dressing(1, True, 50, 10, ascii=ascii),
        "turned over to dress": turned_over(1, 60, 8, ascii=ascii),
        "the trough": trough(25, 44, 11, ascii=ascii),
        "the needle": needle(25, 44, 11, ascii=ascii),
        "trial cuts": cuts(TRIAL_CUTS, 44, 11, ascii=ascii),
        "across and along": cuts(GRAINS, 44, 9, ascii=ascii),
        "left and right": cuts(WAYS, 44, 9, ascii=ascii),
        "brushed": brushed(44, 9, ascii=ascii),
        "wiped": wiped(44, 11, ascii=ascii),
        "put by": put_by(44, 8, ascii=ascii),
    }
