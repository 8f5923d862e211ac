"""A record shown for other programs, as JSON and as CSV: the names they rely on, torn ends and odd numbers."""

from __future__ import annotations

import csv
import io
import json
import tomllib
from datetime import timedelta
from pathlib import Path

import pytest

from session.cli import main
from session.files.supplied import supplied_folder
from session.walk.mark import Did
from session.walk.stages import Stage
from shown_record import DAY0, WALK, Write


def test_json_has_the_keys_that_others_rely_on(write_walk: Write, capsys: pytest.CaptureFixture[str]) -> None:
    path = write_walk(finished=True)
    assert main(["show", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert set(told) == {"header", "marks", "torn_bytes", "state", "summary"}
    read = tomllib.loads(path.read_text(encoding="utf-8"))
    assert told["header"]["session"]["saw"] == read["session"]["saw"]
    assert told["header"]["plan"] == read["plan"]
    assert [mark["seq"] for mark in told["marks"]] == list(range(1, len(WALK) + 2))
    without_crc = [{name: value for name, value in mark.items() if name != "crc"} for mark in read["mark"]]
    assert [list(mark) for mark in told["marks"]] == [list(mark) for mark in without_crc]
    assert (told["torn_bytes"], told["state"]) == (0, "finished")
    assert told["summary"]["strokes"] == {"file": 8}


def test_a_torn_end_is_told_and_left(write_walk: Write, capsys: pytest.CaptureFixture[str]) -> None:
    path = write_walk()
    data = path.read_bytes()[:-10]
    path.write_bytes(data)
    assert main(["show", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["torn_bytes"] > 0
    assert len(told["marks"]) == len(WALK) - 1
    assert main(["show", str(path)]) == 0
    assert f"{told['torn_bytes']} bytes are torn" in capsys.readouterr().out
    assert path.read_bytes() == data


def test_an_edited_log_is_shown_with_its_reason_and_byte(write_walk: Write, capsys: pytest.CaptureFixture[str]) -> None:
    path = write_walk()
    whole = path.read_bytes()
    path.write_bytes(whole + b"# a remark\n")
    assert main(["show", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["state"] == "read only"
    assert told["odd"].endswith(f"(byte {len(whole)})")
    assert len(told["marks"]) == len(WALK)


def test_csv_has_a_row_a_mark(write_walk: Write, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", str(write_walk()), "--csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert len(rows) == len(WALK)
    assert rows[3]["reason"] == "the tooth is broken"
    assert rows[5]["takes_back_seq"] == "5"
    assert rows[0]["at_iso8601"] == (DAY0 + timedelta(seconds=9)).isoformat()


def test_numbers_that_json_lacks_go_out_as_text(write_walk: Write, capsys: pytest.CaptureFixture[str]) -> None:
    odd = {
        "did": Did.MEASURED,
        "stage": Stage.LOOK_OVER,
        "what": "over the points",
        "unit": "mm",
        "value": float("inf"),
    }
    assert main(["show", str(write_walk([odd])), "--json"]) == 0
    told = json.loads(capsys.readouterr().out, parse_constant=lambda sign: pytest.fail(f"{sign} is not JSON"))
    assert told["marks"][0]["value"] == "inf"


def test_a_recipe_is_no_record(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    recipe = supplied_folder("recipes") / "rip.toml"
    for form in ([], ["--json"], ["--csv"]):
        assert main(["--till", str(tmp_path), "show", str(recipe), *form]) == 2
        told = capsys.readouterr()
        assert told.out == ""
        assert told.err.endswith("rip.toml: this is a recipe, not a log; toothline plan shows a recipe\n")
