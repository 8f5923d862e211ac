from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.log.log_bytes import make_header
from session.log.mark_block import encode
from session.log.summary import closing
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

DAY0 = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)
SLUG = "crosscut-panel-saw"
Write = Callable[..., Path]


def measured(what: str, value: Any, unit: str | None = None) -> dict[str, Any]:
    return {"did": Did.MEASURED, "stage": Stage.LOOK_OVER, "what": what, "value": value, "unit": unit}


def walk(plate_mm: float) -> list[dict[str, Any]]:
    """Measured at 0.2 mm a side, leveled twice, graded, ten gullets filed, one left out, proved."""
    level = [{"did": Did.DONE, "stage": Stage.LEVEL, "number": n} for n in (1, 2)]
    grades = [{"did": Did.DONE, "stage": Stage.LEVEL, "tooth": n, "value": min(n - 1, 2)} for n in range(1, 8)]
    filed = [{"did": Did.DONE, "stage": Stage.FILE, "side": 1, "tooth": 2 * n - 1, "strokes": 3} for n in range(1, 11)]
    cut = [
        measured("cut length", 12.0, "in"),
        measured("cut thickness", 0.75, "in"),
        measured("cut strokes", 40, "strokes"),
        measured("trial cut", "good"),
    ]
    out = {"did": Did.LEFT_OUT, "stage": Stage.FILE, "side": 1, "tooth": 21, "reason": "chipped"}
    return [measured("over the points", plate_mm + 0.4, "mm"), *level, *grades, *filed, out, *cut]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    recipe = load_recipe(supplied_folder("recipes") / "crosscut-panel.toml")

    def make(day: int = 0, *, till: str = "till", finished: bool = True) -> Path:
        begun = DAY0 + timedelta(days=day)
        plan = make_plan(recipe.saw).to_dict()
        header = {"session": {"started": begun, "saw": "Crosscut panel saw"}, "recipe": recipe.values, "plan": plan}
        steps = walk(recipe.saw.plate.mm)
        marks = [Mark(seq=n, at=begun + timedelta(seconds=9 * n), **one) for n, one in enumerate(steps, 1)]
        if finished:
            end = Mark(seq=len(marks) + 1, at=begun + timedelta(seconds=9 * len(marks) + 9), did=Did.FINISHED)
            marks.append(closing(Account.of(marks), end))
        path = tmp_path / till / "logs" / SLUG / f"{begun:%Y-%m-%dT%H-%M-%S}-abcdef.toml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(make_header(header) + b"".join(encode(mark)[0] for mark in marks))
        return path

    return make


def test_a_person_reads_dates_stages_and_what_comes_next(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(0)
    write(30)
    write(40, finished=False)
    assert main(["--till", str(tmp_path / "till"), "history", "Crosscut panel saw"]) == 0
    told = capsys.readouterr().out
    assert "2 sharpenings finished" in told
    for words in ("2026-03-07", "2026-04-06", "2026-04-16", "level, file", "INTERRUPTED", "145, good", "1: 1"):
        assert words in told
    assert "Due: Not enough cuts yet" in told
    assert "Left out this time, so look first here and in front of it: tooth 21 (chipped). [judgment]" in told
    assert "by which corner of the file is not recorded" in told
    assert "in 2 of 2, from the graded flats (an estimate)" in told


def test_low_teeth_of_half_a_line_say_of_how_many(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write(0, finished=False)
    assert main(["--till", str(tmp_path / "till"), "history"]) == 0
    assert "1 of 7: 1" in capsys.readouterr().out
    # Cut before the flats of any tooth but the first two, of which one is low.
    blocks = path.read_bytes().split(b"\n[[mark]]\n")
    path.write_bytes(b"\n[[mark]]\n".join(blocks[:6]))
    assert main(["--till", str(tmp_path / "till"), "history"]) == 0
    assert "1 of 2: 1" in capsys.readouterr().out


def test_csv_names_its_units_and_has_a_row_a_record(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write(0)
    write(30)
    till = ["--till", str(tmp_path / "till")]
    assert main([*till, "cut", SLUG, "--length", "300 mm", "--thickness", "20 mm", "--strokes", "40"]) == 0
    capsys.readouterr()
    assert main([*till, "history", "--csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert [row["record"] for row in rows] == ["sharpening", "sharpening", "cut"]
    first, _, cut = rows
    assert first["file"] == str(path)
    assert (first["strokes_count"], first["gullets_filed_count"], first["leveling_passes_count"]) == ("30", "10", "2")
    assert float(first["set_found_per_side_mm"]) == pytest.approx(0.2)
    assert 0 < float(first["set_left_per_side_mm"]) < 0.2
    assert (first["low_teeth_count"], first["low_teeth_from_heel"], first["left_out_places_count"]) == ("1", "1", "1")
    assert float(first["cut_area_mm2_per_stroke"]) == pytest.approx(304.8 * 19.05 / 40, rel=1e-5)
    assert float(cut["cut_area_mm2_per_stroke"]) == 150
    assert first["cut_days_since_sharpening"] == "0"
    assert first["file_corner_number"] == ""


def test_json_holds_the_same_numbers(write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(0)
    assert main(["--till", str(tmp_path / "till"), "history", "--json"]) == 0
    (saw,) = json.loads(capsys.readouterr().out)["saws"]
    (one,) = saw["sharpenings"]
    assert (saw["saw"], one["state"], one["was_set"]) == (SLUG, "finished", False)
    assert one["places_done"] == {"level": 9, "file": 10}
    assert one["left_out_teeth"] == [{"tooth": 21, "reason": "chipped"}]
    assert one["trial_cut"]["cut_strokes_count"] == 40
    assert saw["due"]["enough_cuts"] is False
    assert saw["due"]["in_days"] is None
    assert all(line["text"] and line["source"] for line in saw["next_time"])
    assert saw["taken_off_known_of"] == [1, 1]
    least, most = one["taken_off_line_least_mm"], one["taken_off_line_most_mm"]
    assert 0.0 < least < one["taken_off_line_mm"] < most


def test_other_tills_are_read_too(write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(0)
    write(5, till="shed")
    write(9, till="loft")
    also = [argument for name in ("shed", "loft") for argument in ("--also", str(tmp_path / name))]
    assert main(["--till", str(tmp_path / "till"), "history", SLUG, *also, "--json"]) == 0
    (saw,) = json.loads(capsys.readouterr().out)["saws"]
    begun = [one["started_iso8601"][:10] for one in saw["sharpenings"]]
    assert begun == ["2026-03-07", "2026-03-12", "2026-03-16"]
    assert main(["--till", str(tmp_path / "till"), "history", "--also", str(tmp_path / "none")]) == 2
    assert "--also: " in capsys.readouterr().err


def test_nothing_is_written_by_looking(write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(0)
    write(3, finished=False)
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    for form in ([], ["--json"], ["--csv"]):
        assert main(["--till", str(tmp_path / "till"), "history", *form]) == 0
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before


def test_an_empty_till_and_an_unknown_saw(write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    assert main(["--till", str(empty), "history"]) == 0
    assert "No saw is in" in capsys.readouterr().out
    assert main(["--till", str(empty), "history", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"saws": [], "files": []}
    write(0)
    assert main(["--till", str(tmp_path / "till"), "history", "crosscut pannel"]) == 2
    assert f"near it: {SLUG}" in capsys.readouterr().err
    assert main(["--till", str(tmp_path / "none"), "history"]) == 2
    assert "no such folder" in capsys.readouterr().err
    assert main(["history", "--help"]) == 0
    assert "Example: toothline history" in capsys.readouterr().out


def test_a_folder_of_any_name_is_shown_safely(write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = write(0)
    path.parent.rename(path.parent.with_name("saw\x1b[2J\x9b2J\n"))
    for form in ([], ["--json"], ["--csv"]):
        assert main(["--till", str(tmp_path / "till"), "history", *form]) == 0
        told = capsys.readouterr().out
        assert "2026-03-07" in told
        assert all(line.isprintable() for line in told.splitlines())


@given(
    logs=st.lists(st.binary(max_size=120) | st.text(max_size=60).map(lambda text: text.encode()), max_size=3),
    cut_at=st.integers(0, 4000),
    flip=st.integers(0, 4000),
)
@examples(15, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_lies_in_a_till_history_goes_on(
    logs: list[bytes], cut_at: int, flip: int, write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = write(0)
    data = bytearray(whole.read_bytes())
    data[flip % len(data)] ^= 0x20
    odd = [*logs, bytes(data[: cut_at % len(data)]), bytes(data)]
    for number in range(5):
        (whole.parent / f"odd-{number}.toml").unlink(missing_ok=True)
    for number, one in enumerate(odd):
        (whole.parent / f"odd-{number}.toml").write_bytes(one)
    assert main(["--till", str(tmp_path / "till"), "history", "--json"]) == 0
    (saw,) = json.loads(capsys.readouterr().out)["saws"]
    named = {Path(one["file"]).name for one in saw["sharpenings"]} | {Path(one["file"]).name for one in saw["unread"]}
    assert named == {whole.name, *(f"odd-{number}.toml" for number in range(len(odd)))}
    assert any(Path(one["file"]) == whole and one["state"] == "finished" for one in saw["sharpenings"])
    assert main(["--till", str(tmp_path / "till"), "history"]) == 0
    told = capsys.readouterr()
    assert "\x1b" not in told.out
    assert told.err == ""
    assert all(line.isprintable() for line in told.out.splitlines())
