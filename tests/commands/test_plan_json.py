"""`plan --json`: the keys that others rely on, each against a value worked out without the program."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from session.cli import main

RECIPE = """
format = 1
[saw]
name = "Netloft panel saw"
kind = "panel"
cut = "crosscut"
toothed_length = "22 in"
plate_gauge = 20
[teeth]
points_per_inch = 8
rake = 15
fleam = 25
[set]
per_side = "0.006 in"
least_per_side = "0.003 in"
bent_share = 0.4
[file]
face = "0.328 in"
[work]
vise_jaw = "14 in"
"""

CONTRACT = {
    *("pitch_mm", "points", "depth_mm", "rake_block_deg", "rake_plate_deg", "back_plate_deg", "gullet_plate_deg"),
    *("edge_angle_deg", "file_face_hard_minimum_mm", "file_face_advised_mm", "file_face_ok", "kerf_mm"),
    *("set_per_side_mm", "bend_angle_deg", "sharpenings_until_set_is_due", "reaches", "stages", "warnings"),
}


def refused(constant: str) -> Any:
    raise AssertionError(f"{constant} is no JSON")


@pytest.fixture
def plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    def run(text: str, *more: str) -> dict[str, Any]:
        recipe = tmp_path / "saw.toml"
        recipe.write_text(text, encoding="utf-8")
        assert main(["plan", str(recipe), "--json", "--till", str(tmp_path), *more]) == 0
        told = capsys.readouterr()
        assert told.err == ""
        found: dict[str, Any] = json.loads(told.out, parse_constant=refused)
        return found

    return run


def test_each_key_has_its_value(plan: Any) -> None:
    told = plan(RECIPE)
    assert set(told) >= CONTRACT
    pitch = 25.4 / 7
    depth = pitch * 0.71478  # GEOMETRY.md, row rake 15, fleam 25, slope 0
    assert told["pitch_mm"] == pytest.approx(3.629, abs=5e-4)  # 25.4 / 7
    assert told["points"] == 155
    assert told["depth_mm"] == pytest.approx(depth, rel=1e-5)
    assert told["rake_block_deg"] == 15
    assert math.tan(math.radians(told["rake_plate_deg"])) == pytest.approx(0.29565, abs=5e-6)
    assert math.tan(math.radians(told["back_plate_deg"])) == pytest.approx(1.10338, abs=5e-6)
    assert told["gullet_plate_deg"] == pytest.approx(told["rake_plate_deg"] + told["back_plate_deg"])
    edge = 90 - math.degrees(math.asin(math.sin(math.radians(25)) * math.cos(math.radians(15))))
    assert told["edge_angle_deg"] == pytest.approx(edge)
    flank = depth / math.cos(math.radians(45))
    assert told["file_face_hard_minimum_mm"] == pytest.approx(flank, rel=1e-5)
    assert told["file_face_advised_mm"] == pytest.approx(2 * flank, rel=1e-5)
    assert told["file_face_ok"] is True
    assert told["kerf_mm"] == pytest.approx(0.047 * 25.4)  # 20 BWG is 0.035 in
    assert told["set_per_side_mm"] == pytest.approx(0.1524)
    bend = math.degrees(math.asin(0.1524 / (0.4 * depth)))
    assert told["bend_angle_deg"] == pytest.approx(bend, rel=1e-5)
    # No record says that this saw was ever set or measured.
    assert told["sharpenings_until_set_is_due"] is None
    # 0.0762 mm may go: 0.04 mm off the line costs 0.04/1.037 of 0.1524 mm, one pass of the stone 0.005 mm.
    assert told["sharpenings_fresh_set_outlives"] == 7
    assert told["reaches"] == [[1, 78], [79, 155]]  # 98 teeth fit into 14 in; shared out evenly
    assert [stage["stage"] for stage in told["stages"]] == [
        *("look over", "level", "set", "file", "dress", "prove", "close")
    ]
    assert {stage["stage"]: stage["places"] for stage in told["stages"]}["file"] == 155
    assert all(stage["why"] for stage in told["stages"])
    assert told["warnings"] == []


@pytest.mark.parametrize(
    ("rake", "fleam", "slope", "front", "back", "share"),
    [  # the check rows of GEOMETRY.md
        (0, 0, 0, 0.00000, 1.73205, 0.57735),
        (4, 0, 0, 0.06993, 1.48256, 0.64413),
        (15, 0, 0, 0.26795, 1.00000, 0.78868),
        (30, 0, 0, 0.57735, 0.57735, 0.86603),
        (15, 25, 0, 0.29565, 1.10338, 0.71478),
        (15, 25, 10, 0.29761, 1.00522, 0.76756),
        (20, 20, 20, 0.38124, 0.75974, 0.87644),
    ],
)
def test_the_rows_of_the_geometry(
    plan: Any, rake: int, fleam: int, slope: int, front: float, back: float, share: float
) -> None:
    told = plan(RECIPE.replace("rake = 15\nfleam = 25", f"rake = {rake}\nfleam = {fleam}\nslope = {slope}"))
    assert math.tan(math.radians(told["rake_plate_deg"])) == pytest.approx(front, abs=6e-6)
    assert math.tan(math.radians(told["back_plate_deg"])) == pytest.approx(back, abs=6e-6)
    assert told["depth_mm"] / told["pitch_mm"] == pytest.approx(share, abs=6e-6)
    if fleam == slope == 0:
        assert told["gullet_plate_deg"] == pytest.approx(60)
        assert told["edge_angle_deg"] == pytest.approx(90)


def test_what_is_not_given_is_null_and_the_rest_stands(plan: Any) -> None:
    told = plan(
        RECIPE.replace('per_side = "0.006 in"\nleast_per_side = "0.003 in"', "").replace('face = "0.328 in"', "")
    )
    for key in ("file_face_ok", "kerf_mm", "set_per_side_mm", "bend_angle_deg", "sharpenings_until_set_is_due"):
        assert told[key] is None
    assert told["depth_mm"] > 0


def test_a_narrow_face_is_a_warning_that_names_the_limit(plan: Any) -> None:
    told = plan(RECIPE.replace("0.328 in", "0.12 in"))
    assert told["file_face_ok"] is False
    [warning] = told["warnings"]
    assert "0.12 in" in warning
    assert "0.161 in at the outer face" in warning  # 0.144 in is the flank in mid-plate
    assert "geometry" in warning


def test_a_deep_bend_and_a_coarse_pitch_are_warned_of_with_the_limit(plan: Any) -> None:
    told = plan(
        RECIPE.replace("bent_share = 0.4", "bent_share = 0.7").replace("points_per_inch = 8", 'pitch = "14 mm"')
    )
    assert any("half at most" in warning and "ROSS" in warning for warning in told["warnings"])
    assert any("0.551 in" in warning and "0.469 in" in warning for warning in told["warnings"])


def test_the_order_follows_the_recipe_and_reshaping_is_told_as_left_out(plan: Any) -> None:
    told = plan(RECIPE.replace("[work]", '[work]\norder = "file first"\ndressing_passes = 0'))
    order = [stage["stage"] for stage in told["stages"]]
    assert order.index("file") < order.index("set")
    assert "dress" not in order
    assert [stage["stage"] for stage in told["left_out"]] == ["reshape", "dress"]


def test_the_inverse_rake(plan: Any) -> None:
    wanted = plan(RECIPE, "--rake-on-plate", "16.47027292032790")["rake_block_wanted_deg"]
    assert wanted == pytest.approx(15.0)
    assert "rake_block_wanted_deg" not in plan(RECIPE)


def test_every_number_can_say_why(plan: Any) -> None:
    told = plan(RECIPE)
    for key in CONTRACT:
        if key not in ("reaches", "stages", "warnings"):
            assert told["why"][key]["formula"]
            assert told["why"][key]["source"]
    assert told["why"]["file_face_advised_mm"]["source"] == "from memory"
    assert "FSMAN" in told["why"]["kerf_mm"]["source"]


def test_the_owners_files_are_ranked(plan: Any, tmp_path: Path) -> None:
    (tmp_path / "files.toml").write_text(
        '[[file]]\nname = "narrow"\nface = "0.2 in"\n[[file]]\nname = "none"\nface = "0.1 in"\n'
        '[[file]]\nname = "good"\nface = "0.30 in"\ncorner_radius = "0.004 in"\n',
        encoding="utf-8",
    )
    told = plan(RECIPE)["files"]
    assert [one["name"] for one in told] == ["good", "narrow", "none"]
    assert [one["ok"] for one in told] == [True, True, False]
    assert all(reason["source"] for one in told for reason in one["reasons"])


def test_no_file_that_fits_is_warned_of(plan: Any, tmp_path: Path) -> None:
    (tmp_path / "files.toml").write_text('[[file]]\nname = "none"\nface = "0.1 in"\n', encoding="utf-8")
    assert any("None of your files" in warning for warning in plan(RECIPE)["warnings"])


def test_printed_rows_are_laid_beside_with_their_source(plan: Any) -> None:
    rows = plan(RECIPE)["printed_files"]
    by_file = {(row["file"], row["source"]): row["agrees"] for row in rows}
    assert by_file["6 in slim taper", "KING art. 63"] is True
    assert by_file["150 mm double-ended slim taper", "GOR p. 150"] is None


def test_the_zones_of_the_line_are_told_one_by_one(plan: Any) -> None:
    (zone,) = plan(RECIPE)["zones"]
    assert (zone["first"], zone["last"], zone["rake_block_deg"]) == (1, 155, 15)
    text = RECIPE.replace("fleam = 25", 'fleam = 25\n[[teeth.zone]]\nbegins = "11 in"\nteeth_per_inch = 10\nrake = 20')
    told = plan(text)
    first, second = told["zones"]
    assert (first["first"], first["last"], first["pitch_mm"]) == (1, 77, told["pitch_mm"])
    assert (second["first"], second["last"]) == (78, 77 + 110 + 1)
    assert told["points"] == 188
    assert second["pitch_mm"] == pytest.approx(2.54)
    assert second["rake_plate_deg"] == pytest.approx(
        math.degrees(math.atan(math.tan(math.radians(20)) / math.cos(math.radians(25))))
    )
    # The file has to serve the coarser teeth, and the finer ones are bent the most.
    assert told["file_face_hard_minimum_mm"] == first["file_face_hard_minimum_mm"]
    assert told["file_face_hard_minimum_mm"] > second["file_face_hard_minimum_mm"]
    bent_mm = 0.4 * second["depth_mm"]
    assert told["bend_angle_deg"] == pytest.approx(math.degrees(math.asin(0.006 * 25.4 / bent_mm)))
