"""What the records add to `plan` and `history`: which corner of which file, and how long the set lasts."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.log_bytes import make_header
from session.log.mark_block import encode
from session.log.summary import closing
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

DAY0 = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)
RECIPE = load_recipe(find_recipe("crosscut-panel", []))
SLUG = "crosscut-panel-saw"

#: Faces that serve this saw and that do not (the advised one is 0.289 in).
FILES = """\
format = 1
[[file]]
name = "Loft taper"
face = "0.3 in"
teeth_filed = [590, 100, 0]
[[file]]
name = "Needle"
face = "0.1 in"
"""

Write = Callable[..., Path]
Told = Callable[..., Any]


def measured(what: str, value: Any, unit: str | None = None, stage: Stage = Stage.LOOK_OVER) -> dict[str, Any]:
    return {"did": Did.MEASURED, "stage": stage, "what": what, "value": value, "unit": unit}


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """One sharpening in the till ``tmp_path``: every flat of one grade, so many gullets; set in mm a side."""

    def make(
        day: int,
        *,
        gullets: int = 10,
        grade: int | None = 1,
        found: float | None = None,
        set_to: float | None = None,
        file: str | None = None,
        corner: int | None = None,
        finished: bool = True,
        saw: str = SLUG,
    ) -> Path:
        plate = RECIPE.saw.plate.mm
        steps = [] if found is None else [measured("over the points", plate + 2 * found, "mm")]
        steps += [] if file is None else [measured("file", file)]
        steps += [] if corner is None else [measured("file corner", corner)]
        steps.append({"did": Did.DONE, "stage": Stage.LEVEL, "number": 1})
        if grade is not None:
            steps += [{"did": Did.DONE, "stage": Stage.LEVEL, "tooth": n, "value": grade} for n in range(1, 6)]
        if set_to is not None:
            steps += [{"did": Did.DONE, "stage": Stage.SET, "side": 1, "tooth": n} for n in (1, 3)]
            steps.append(measured("over the points after", plate + 2 * set_to, "mm", Stage.SET))
            steps.append({"did": Did.DONE, "stage": Stage.SET, "step": "measure"})
        steps += [
            {"did": Did.DONE, "stage": Stage.FILE, "side": 1, "tooth": 2 * n - 1, "strokes": 2}
            for n in range(1, gullets + 1)
        ]
        begun = DAY0 + timedelta(days=day)
        marks = [Mark(seq=n, at=begun + timedelta(seconds=9 * n), **one) for n, one in enumerate(steps, 1)]
        if finished:
            end = Mark(seq=len(marks) + 1, at=begun + timedelta(hours=1), did=Did.FINISHED)
            marks.append(closing(Account.of(marks), end))
        plan = make_plan(RECIPE.saw).to_dict()
        header = {"session": {"started": begun, "saw": RECIPE.saw.name}, "recipe": RECIPE.values, "plan": plan}
        path = tmp_path / "logs" / saw / f"{begun:%Y-%m-%dT%H-%M-%S}-abcdef.toml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(make_header(header) + b"".join(encode(mark)[0] for mark in marks))
        return path

    return make


@pytest.fixture
def told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Told:
    """What a command prints on stdout; as JSON when that is asked for."""

    def run(*arguments: str) -> Any:
        assert main(["--till", str(tmp_path), *arguments]) == 0
        out = capsys.readouterr().out
        return json.loads(out) if "--json" in arguments else " ".join(out.split())

    return run


def test_plan_and_history_give_one_count_for_one_saw(write: Write, told: Told) -> None:
    write(0, set_to=0.16, grade=2)
    write(30, grade=1)
    write(60, grade=1)
    why = told("plan", "crosscut-panel", "--json")
    (saw,) = told("history", SLUG, "--json")["saws"]
    count = why["sharpenings_until_set_is_due"]
    assert count > 0
    (line,) = [one["text"] for one in saw["next_time"] if "outlives" in one["text"]]
    assert f"outlives {count} more sharpening" in line
    assert "the median of 3 records" in line
    assert "the median of 3 records" in why["why"]["sharpenings_until_set_is_due"]["formula"]


@pytest.mark.parametrize("grades", [[1], [1, 3], [3, 1], [1, 1, 3, None], [None, 2], [None]])
def test_the_two_counts_agree_whatever_was_graded(write: Write, told: Told, grades: list[int | None]) -> None:
    for number, grade in enumerate(grades):
        write(30 * number, grade=grade, set_to=0.25 if number == 0 else None)
    count = told("plan", "crosscut-panel", "--json")["sharpenings_until_set_is_due"]
    (saw,) = told("history", SLUG, "--json")["saws"]
    lines = [one["text"] for one in saw["next_time"]]
    said = f"outlives {count} more" if count else "Set it next time"
    assert any(said in line for line in lines), lines


def test_a_set_measured_after_setting_is_known_next_time(write: Write, told: Told) -> None:
    write(0, set_to=0.16)
    (saw,) = told("history", SLUG, "--json")["saws"]
    (one,) = saw["sharpenings"]
    assert one["set_left_per_side_mm"] == pytest.approx(0.16)
    assert one["was_set"] is True
    assert one["places_done"]["set"] == 2, "the measuring is no tooth"
    assert "it was not measured" not in " ".join(line["text"] for line in saw["next_time"])


def test_without_measuring_the_set_stays_unknown(write: Write, told: Told) -> None:
    write(0)
    (saw,) = told("history", SLUG, "--json")["saws"]
    assert "it was not measured" in " ".join(line["text"] for line in saw["next_time"])


def test_plan_says_which_corner_to_use_and_when_to_turn(write: Write, told: Told, tmp_path: Path) -> None:
    (tmp_path / "files.toml").write_text(FILES, encoding="utf-8")
    write(0, gullets=50, file="loft  TAPER", corner=2)
    write(10, gullets=30, file="Loft taper", corner=2, saw="another-saw")
    write(20, gullets=40, file="Loft taper")
    write(30, gullets=90, file="Loft taper", corner=3, finished=False)
    loft, needle = told("plan", "crosscut-panel", "--json")["files"]
    assert loft["name"] == "Loft taper"
    assert loft["teeth_filed"] == [590, 180, 0]
    assert loft["teeth_filed_in_records"] == [0, 80, 0]
    assert loft["teeth_filed_corner_untold"] == 40
    assert (loft["corner"], loft["corner_teeth_left"], loft["done"]) == (2, 420, False)
    assert loft["corner_words"]["source"] == "SHEAR; from memory"
    assert needle["ok"] is False
    table = told("plan", "crosscut-panel")
    for words in ("Corner 2: 180 filed, 420 left", "(from memory)", "2 sharpenings like", "40 gullets more by a"):
        assert words in table


def test_the_limit_is_a_setting_and_ends_a_file(write: Write, told: Told, tmp_path: Path) -> None:
    (tmp_path / "files.toml").write_text(FILES, encoding="utf-8")
    (tmp_path / "settings.toml").write_text("corner_teeth = 80\n", encoding="utf-8")
    write(0, gullets=80, file="Loft taper", corner=3)
    loft = told("plan", "crosscut-panel", "--json")["files"][0]
    assert (loft["done"], loft["corner"], loft["turn_after_teeth"]) == (True, None, None)
    assert loft["corner_words"]["text"] == "Done: all three corners have come to the limit of 80 (your settings)."


def test_history_shows_the_corners_used(write: Write, told: Told, tmp_path: Path) -> None:
    (tmp_path / "files.toml").write_text(FILES, encoding="utf-8")
    write(0, gullets=50, file="Loft taper", corner=2)
    write(10, gullets=30, file="Needle", corner=2)
    write(20, gullets=7)
    table = told("history")
    used = "Loft taper, corner 2 50 (100 strokes counted); Needle, corner 2 30 (60 strokes counted); not told 7"
    assert f"Gullets filed: 87; {used}" in table
    assert "Loft taper: corner 1 590, corner 2 150, corner 3 0 teeth filed, 50 of them in 1 sharpening" in table
    assert "Go on with corner 1: 10 left to the limit of 600 (from memory)." in table
    assert "Files" not in told("history", SLUG), "one saw was asked for"
    data = told("history", SLUG, "--json")
    assert data["saws"][0]["corners_used"][0] == {
        "file_name": "Loft taper",
        "file_corner_number": 2,
        "gullets_filed_count": 50,
        "strokes_count": 100,
    }
    assert [(one["name"], one["teeth_filed"], one["corner"]) for one in data["files"]] == [
        ("Loft taper", [590, 150, 0], 1),
        ("Needle", [0, 30, 0], 2),
    ]


def test_a_slip_in_the_list_of_files_does_not_hide_the_history(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write(0, file="Loft taper", corner=2)
    (tmp_path / "files.toml").write_text('[[file]]\nname = "Loft taper"\nface = "3"\n', encoding="utf-8")
    assert main(["--till", str(tmp_path), "history"]) == 0
    said = capsys.readouterr()
    assert "Loft taper, corner 2 10" in said.out
    assert ":3: file[1].face: " in said.err


def test_plan_tells_what_came_off_the_line_and_what_a_limit_leaves(write: Write, told: Told) -> None:
    depth = 25.4 / 7 * 0.71478  # GEOMETRY.md, row rake 15, fleam 25
    off = (0.04 * depth, 0.10 * depth)  # grades 1 and 2 are 0.04 and 0.10 of the pitch, and the depth falls alike
    fresh = told("plan", "crosscut-panel", "--json", "--may-lose", "2 mm")
    assert fresh["line_lost_mm"] is None
    assert fresh["line_left_mm"] == pytest.approx(2)
    assert fresh["sharpenings_left"] == 50  # of 0.04 mm each, from memory
    assert fresh["why"]["sharpenings_left"]["source"] == "from memory"
    write(0, grade=1)
    write(30, grade=None)
    write(60, grade=2)
    plain = told("plan", "crosscut-panel", "--json")
    assert plain["line_lost_mm"] == pytest.approx(sum(off), rel=1e-4)
    assert "2 of 3 records" in plain["why"]["line_lost_mm"]["formula"]
    assert "line_left_mm" not in plain
    limited = told("plan", "crosscut-panel", "--json", "--may-lose", "2 mm")
    assert limited["line_left_mm"] == pytest.approx(2 - sum(off), rel=1e-4)
    assert limited["sharpenings_left"] == int((2 - sum(off)) / (sum(off) / 2)) == 9
    assert "left above the limit 0.0644 in" in told("plan", "crosscut-panel", "--may-lose", "2 mm")
