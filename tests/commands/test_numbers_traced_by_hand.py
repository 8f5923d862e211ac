"""Every number that goes out of a record, against what its marks come to when they are added up by hand."""

from __future__ import annotations

import csv
import io
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from made_history import DAY0, SAW, SLUG, a_cut, leveled, measured, recipe, write_log
from session.cli import main
from session.till.kept_cuts import write_cut
from session.till.till_folder import Till
from session.trade.tooth import tooth_of
from session.walk.mark import Did
from session.walk.stages import Stage

FILED: dict[str, Any] = {"did": Did.DONE, "stage": Stage.FILE, "side": 1, "by": "key"}


def again(fields: dict[str, Any]) -> dict[str, Any]:
    return {**fields, "round": 2}


#: 34 marks with the last, 9 s apart. Two levelings with reshaping between; a gullet taken back, one left out.
WALK: list[dict[str, Any]] = [
    measured("over the points", 0.047, "in"),  # the plate is 0.035 in
    *leveled([0, 0, 0, 2, 2, 4]),  # of the flats that show, the middle one is of grade 2
    {"did": Did.DONE, "stage": Stage.RESHAPE, "side": 1, "tooth": 1, "strokes": 5},
    *[again(mark) for mark in leveled([1, 0, 1, 1, 1, 1], passes=1)],  # here of grade 1
    measured("file", "loft taper"),
    measured("file corner", 2),
    {**FILED, "tooth": 1, "strokes": 3},
    {**FILED, "tooth": 3, "strokes": 4},
    {**FILED, "tooth": 5, "strokes": 9},  # mark 22
    {"did": Did.TOOK_BACK, "of": 22},
    {"did": Did.LEFT_OUT, "stage": Stage.FILE, "side": 1, "tooth": 7, "reason": "broken"},
    {"did": Did.FLAGGED, "stage": Stage.FILE, "side": 1, "tooth": 9},
    {"did": Did.FLAGGED, "stage": Stage.FILE, "side": 1, "tooth": 9, "reason": "the same place"},
    {"did": Did.PAUSED},
    {"did": Did.RESUMED, "value": 9.0, "unit": "s"},
    measured("cut length", 12.0, "in"),
    measured("cut thickness", 0.75, "in"),
    measured("cut strokes", 40, "strokes"),
    measured("cut wander", 3.0, "mm"),
    measured("cut wander to", "left"),
]


def rows(capsys: pytest.CaptureFixture[str], *arguments: str) -> list[dict[str, str]]:
    assert main(arguments) == 0
    return list(csv.DictReader(io.StringIO(capsys.readouterr().out)))


def test_history_says_what_the_marks_come_to(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = write_log(tmp_path, DAY0, WALK)
    (row,) = rows(capsys, "--till", str(tmp_path), "history", "--csv")
    saw = recipe().saw
    depth, bent = tooth_of(saw).depth_mm, saw.bent_share
    # Shares of the pitch that the grades 2 and 1 stand for: 0.10 and 0.04 (session/trade/grades.py).
    wanted = {
        "saw": SAW.name,
        "record": "sharpening",
        "started_iso8601": "2026-03-07T09:00:00+00:00",
        "ended_iso8601": "2026-03-07T09:05:06+00:00",
        "state": "finished",
        "stages": "level; reshape; file",
        "work_minutes": "4.8",  # 32 intervals of 9 s; the pause is none
        "strokes_count": "12",
        "gullets_filed_count": "2",
        "leveling_passes_count": "3",
        "taken_off_line_mm": f"{0.14 * depth:.6g}",
        "set_found_per_side_mm": "0.1524",
        "set_left_per_side_mm": f"{0.1524 * (1 - 0.14 / bent):.6g}",
        "low_teeth_count": "1",
        "low_teeth_from_heel": "2",
        "left_out_places_count": "1",
        "flagged_places_count": "1",
        "file_name": "loft taper",
        "file_corner_number": "2",
        "cut_went": "",
        "cut_length_mm": "304.8",
        "cut_thickness_mm": "19.05",
        "cut_strokes_count": "40",
        "cut_area_mm2_per_stroke": "145.161",
        "cut_wander_mm_per_100_mm": "0.984252",
        "cut_wander_to": "left",
        "cut_days_since_sharpening": "0",
        "wood": saw.wood,
        "note": "",
        "file": str(path),
        # Halfway to the grades beside it: a hair of the older scale is 2 to 7 % of the pitch, narrow 7 to 14 %.
        "taken_off_line_least_mm": f"{0.09 * depth:.6g}",
        "taken_off_line_most_mm": f"{0.21 * depth:.6g}",
    }
    assert row == wanted


def test_history_is_in_the_order_of_time(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for day in (0, 20):
        write_log(tmp_path, DAY0 + timedelta(days=day), WALK)
    for day in (30, 10):
        write_cut(Till(tmp_path), SAW, a_cut(DAY0 + timedelta(days=day, seconds=306)))
    found = rows(capsys, "--till", str(tmp_path), "history", SLUG, "--csv")
    assert [row["record"] for row in found] == ["sharpening", "cut", "sharpening", "cut"]
    assert [row["cut_days_since_sharpening"] for row in found] == ["0", "10", "0", "10"]


def test_what_is_left_of_the_set_is_not_known_when_no_flat_was_graded(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write_log(tmp_path, DAY0, [measured("over the points", 0.047, "in"), *leveled([])])
    (row,) = rows(capsys, "--till", str(tmp_path), "history", "--csv")
    assert (row["set_found_per_side_mm"], row["taken_off_line_mm"], row["set_left_per_side_mm"]) == ("0.1524", "", "")


def test_a_record_has_each_mark_as_it_stands_in_the_log(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = rows(capsys, "show", str(write_log(tmp_path, DAY0, WALK)), "--csv")
    assert [row["seq"] for row in found] == [str(seq) for seq in range(1, 35)]
    columns = {
        "did": "did",
        "stage": "stage",
        "side": "side",
        "tooth_from_heel": "tooth",
        "pass_number": "number",
        "round": "round",
        "strokes_count": "strokes",
        "confirmed_by": "by",
        "what": "what",
        "value": "value",
        "value_unit": "unit",
        "reason": "reason",
        "takes_back_seq": "of",
    }
    for row, mark in zip(found, WALK, strict=False):
        assert {name: row[name] for name in columns} == {
            name: "" if mark.get(key) is None else str(mark[key]) for name, key in columns.items()
        }
