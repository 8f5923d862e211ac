from __future__ import annotations

import csv
import io
import itertools
import json
import tomllib
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from made_history import filed, write_log
from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.log.log_bytes import make_header
from session.log.log_reader import read_log
from session.log.mark_block import encode
from session.log.summary import closing
from session.sentences.listed_places import left_out as last_screen
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import Plan, make_plan

DAY0 = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)
SVG = "{http://www.w3.org/2000/svg}"
Write = Callable[..., Path]


def filing(tooth: int, side: int, **fields: Any) -> dict[str, Any]:
    return {"did": Did.DONE, "stage": Stage.FILE, "side": side, "tooth": tooth, "strokes": 2, "by": "key", **fields}


#: Ten gullets of side 1: 1 to 9 done but 5 left out; 7 left out, taken back and then done; 3 flagged.
WALK: list[dict[str, Any]] = [
    filing(1, 1),
    filing(3, 1),
    filing(3, 1, did=Did.FLAGGED, strokes=None, reason="bright"),
    filing(5, 1, did=Did.LEFT_OUT, strokes=None, reason="the tooth is broken"),
    filing(7, 1, did=Did.LEFT_OUT, strokes=None, reason="slip"),
    {"did": Did.TOOK_BACK, "of": 5},
    filing(7, 1),
    filing(9, 1),
]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def make(walk: list[dict[str, Any]] = WALK, *, finished: bool = False, name: str = "Netloft panel saw") -> Path:
        recipe = load_recipe(supplied_folder("recipes") / "crosscut-panel.toml")
        plan = make_plan(recipe.saw).to_dict()
        header = {"session": {"started": DAY0, "saw": name}, "recipe": recipe.values, "plan": plan}
        marks = [Mark(seq=n, at=DAY0 + timedelta(seconds=9 * n), **one) for n, one in enumerate(walk, 1)]
        if finished:
            end = Mark(seq=len(marks) + 1, at=DAY0 + timedelta(hours=1), did=Did.FINISHED)
            marks.append(closing(Account.of(marks), end))
        path = tmp_path / "logs" / "netloft-panel-saw" / "2026-03-07T09-00-00-abcdef.toml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(make_header(header) + b"".join(encode(mark)[0] for mark in marks))
        return path

    return make


def test_a_look_passed_over_is_named(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    look = {"did": Did.DONE, "stage": Stage.LOOK_OVER, "by": "key"}
    walk = [{**look, "step": "crack", "reason": "not looked at"}, {**look, "step": "plate"}]
    assert main(["show", str(write(walk))]) == 0
    assert "Not looked at: crack." in capsys.readouterr().out
    assert main(["show", str(write())]) == 0
    assert "Not looked at" not in capsys.readouterr().out


def test_places_left_out_and_flagged_are_listed_with_reasons(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    path = write()
    before = path.read_bytes()
    assert main(["show", str(path)]) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[0] == f"Netloft panel saw, {path}: interrupted"
    out, flagged = told.index("Left out:"), told.index("Flagged:")
    assert told[out + 1 : flagged] == ["  file, gullet 5, side 1: the tooth is broken", ""]
    assert told[flagged + 1] == "  file, gullet 3, side 1: bright"
    assert "file: 4 done, 8 strokes" in told
    assert path.read_bytes() == before
    assert list(path.parent.iterdir()) == [path]


def test_as_many_are_left_out_as_the_last_screen_says_and_those_marked_together_are_told(
    write: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    look = {"did": Did.MEASURED, "stage": Stage.LOOK_OVER, "step": "broken teeth", "by": "key"}
    broken = {**look, "what": "broken teeth", "value": "21", "unit": "from the heel"}
    together = [filing(tooth, 1, strokes=None, many="11-15") for tooth in (11, 13, 15)]
    path = write(
        [broken, *(one if "of" not in one else {**one, "of": one["of"] + 1} for one in WALK), *together], finished=True
    )
    log = read_log(path)
    said = last_screen(State.replay(Plan.from_dict(log.header["plan"]), log.marks))
    count = len(said) - 1
    assert said[0] == f"Left out: {count}"
    assert count > 1, "some left themselves out"
    assert main(["show", str(path)]) == 0
    told = capsys.readouterr().out.splitlines()
    assert f"left out: {count}" in told
    out = told.index("Left out:")
    assert told[out + 1] == "  file, gullet 5, side 1: the tooth is broken"
    assert told[out + count + 1] == ""
    assert all(" 21" in line for line in told[out + 2 : out + count + 1])
    assert "Marked together, not one by one: file 3." in told


def test_the_line_is_drawn_with_its_states(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", str(write())]) == 0
    told = capsys.readouterr().out.splitlines()
    start = told.index("file:")
    drawn = "\n".join(told[start : start + 4])
    assert "×" in drawn
    assert "!" in drawn
    assert "·" in drawn
    assert "set:" in told
    assert any("not yet" in line and "left out" in line for line in told)
    assert max(len(line) for line in told[start:]) <= 80


def test_json_has_the_keys_that_others_rely_on(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    path = write(finished=True)
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


def test_a_torn_end_is_told_and_left(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    path = write()
    data = path.read_bytes()[:-10]
    path.write_bytes(data)
    assert main(["show", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["torn_bytes"] > 0
    assert len(told["marks"]) == len(WALK) - 1
    assert main(["show", str(path)]) == 0
    assert f"{told['torn_bytes']} bytes are torn" in capsys.readouterr().out
    assert path.read_bytes() == data


def test_an_edited_log_is_shown_with_its_reason_and_byte(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    path = write()
    whole = path.read_bytes()
    path.write_bytes(whole + b"# a remark\n")
    assert main(["show", str(path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["state"] == "read only"
    assert told["odd"].endswith(f"(byte {len(whole)})")
    assert len(told["marks"]) == len(WALK)


def test_csv_has_a_row_a_mark(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", str(write()), "--csv"]) == 0
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert len(rows) == len(WALK)
    assert rows[3]["reason"] == "the tooth is broken"
    assert rows[5]["takes_back_seq"] == "5"
    assert rows[0]["at_iso8601"] == (DAY0 + timedelta(seconds=9)).isoformat()


def test_numbers_that_json_lacks_go_out_as_text(write: Write, capsys: pytest.CaptureFixture[str]) -> None:
    odd = {
        "did": Did.MEASURED,
        "stage": Stage.LOOK_OVER,
        "what": "over the points",
        "unit": "mm",
        "value": float("inf"),
    }
    assert main(["show", str(write([odd])), "--json"]) == 0
    told = json.loads(capsys.readouterr().out, parse_constant=lambda sign: pytest.fail(f"{sign} is not JSON"))
    assert told["marks"][0]["value"] == "inf"


def shapes(svg: Path) -> Counter[str]:
    """How many teeth of the filing stage have each shape, by what their own titles say."""
    root = ET.parse(svg).getroot()
    found = Counter[str]()
    for group in root.iter(f"{SVG}g"):
        title = group.findtext(f"{SVG}title")
        if title is not None:
            (shape,) = group.findall(f"{SVG}path")
            found[f"{title.partition(': ')[2]}/{shape.get('class')}"] += 1
    return found


def test_the_drawing_tells_the_four_states_by_shape(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, file = write(), tmp_path / "line.svg"
    assert main(["show", str(path), "--svg", str(file)]) == 0
    assert capsys.readouterr().out == f"{file}\n"
    found = shapes(file)
    # The filing line; the set line above it has as many teeth, none of them worked.
    assert (found["done/done"], found["left out/out"]) == (4, 1)
    assert sum(found.values()) % load_recipe(supplied_folder("recipes") / "crosscut-panel.toml").saw.points == 0
    texts = [text.text for text in ET.parse(file).getroot().iter(f"{SVG}text")]
    assert "left out: file, gullet 5, side 1: the tooth is broken" in texts
    assert texts.count("!") == 1


def test_the_account_and_what_is_for_next_time_stand_in_text_and_on_the_page(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, file = write(finished=True), tmp_path / "page.svg"
    assert main(["show", str(path)]) == 0
    shown = capsys.readouterr().out
    assert main(["show", str(path), "--svg", str(file)]) == 0
    on_page = [text.text or "" for text in ET.parse(file).getroot().iter(f"{SVG}text")]
    for line in (
        "Strokes: 8 counted in 4 of 4 gullets, the middle 2 a gullet.",
        "Set before: not measured.",
        "Trial cut: none was told.",
        "Next time:",
    ):
        assert line in shown.splitlines()
        assert line in on_page
    after = shown.split("Next time:\n")[1].splitlines()
    assert after[0].startswith("  Due again when ")
    assert after[0].strip() in on_page


def test_only_the_last_finished_record_of_a_saw_in_its_till_tells_of_next_time(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    earlier = write_log(tmp_path, DAY0, filed(9))
    last = write_log(tmp_path, DAY0 + timedelta(days=30), filed(9))
    unfinished = write_log(tmp_path, DAY0 + timedelta(days=60), filed(9), finished=False)
    elsewhere = tmp_path / "alone.toml"
    elsewhere.write_bytes(last.read_bytes())

    def later(path: Path) -> str:
        assert main(["show", str(path)]) == 0
        return capsys.readouterr().out.partition("Next time:")[2]

    assert later(earlier).startswith(" a later sharpening of this saw tells it.\n")
    assert later(last).startswith("\n  Due")
    assert later(unfinished) == later(elsewhere) == ""


def test_on_the_page_figures_stand_under_their_teeth_and_nothing_over_another(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, file = write(), tmp_path / "page.svg"
    assert main(["show", str(path), "--svg", str(file)]) == 0
    capsys.readouterr()
    root = ET.parse(file).getroot()
    figures = [text for text in root.iter(f"{SVG}text") if text.get("class") == "figure"]
    # Gullets 1, 3, 7 and 9 were given two strokes each.
    assert [text.text for text in figures] == ["2"] * 4
    lows = [float(text.get("y", "0")) for text in root.iter(f"{SVG}text")]
    rows = sorted(
        {
            low: 10 if text.get("class") == "figure" else 12
            for low, text in zip(lows, root.iter(f"{SVG}text"), strict=True)
        }.items()
    )
    for (upper, _), (lower, high) in itertools.pairwise(rows):
        assert lower - upper >= high, f"letters at {lower} stand on those at {upper}"
    legend = max(float(t.get("y", "0")) for t in root.iter(f"{SVG}text") if t.text == "not yet")
    notes = min(float(t.get("y", "0")) for t in root.iter(f"{SVG}text") if (t.text or "").startswith("left out: file"))
    assert notes - legend >= 18
    width, bottom = float(root.get("width", "0")), float(root.get("height", "0"))
    assert max(lows) < bottom
    assert all(float(text.get("x", "0")) < width for text in root.iter(f"{SVG}text"))


def test_broken_low_and_high_teeth_are_drawn_in_every_stage(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = (("broken teeth", "5"), ("low teeth", "12"), ("high teeth", "40"))
    seen = [{"did": Did.MEASURED, "stage": Stage.LOOK_OVER, "step": what, "what": what, "value": n} for what, n in told]
    path, file = write([*seen, *(filing(tooth, 1) for tooth in (1, 3, 7))]), tmp_path / "line.svg"
    assert main(["show", str(path), "--svg", str(file)]) == 0
    found = shapes(file)
    drawn = len([title for title in ET.parse(file).getroot().iter(f"{SVG}title") if "tooth 5:" in (title.text or "")])
    assert drawn >= 2, "the set line and the filing line"
    stumps = sum(count for shape, count in found.items() if shape.endswith("broken/stump"))
    assert stumps == drawn
    texts = [text.text for text in ET.parse(file).getroot().iter(f"{SVG}text")]
    assert (texts.count("L"), texts.count("H")) == (drawn, drawn)
    assert "broken" in texts
    capsys.readouterr()
    assert main(["show", str(path)]) == 0
    shown = capsys.readouterr().out
    assert "▂ broken  L low  H high" in shown
    over = [row for row in shown.splitlines() if row.strip().replace(" ", "") in ("HL▂", "HL▂▼")]
    assert len(over) >= 1


def test_a_drawing_never_takes_the_place_of_a_file(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write()
    mine = tmp_path / "mine.svg"
    mine.write_text("mine")
    log = path.read_bytes()
    for target, code in ((mine, 2), (path, 2), (tmp_path, 2), (tmp_path / "none" / "x.svg", 2)):
        assert main(["show", str(path), "--svg", str(target)]) == code
        told = capsys.readouterr()
        assert (told.out, told.err.count("\n")) == ("", 1)
        assert "allowed: " in told.err
    assert (mine.read_text(), path.read_bytes()) == ("mine", log)
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["logs", "mine.svg"]


NASTY = st.text(st.characters(codec="utf-8"), max_size=30) | st.sampled_from(
    ["\x1b]0;owned\x07", "</text><script>alert(1)</script>", "&amp;]]>", "\u202egnp", "[/bold]", "\uffff", "\x9b2J"]
)


@given(name=NASTY, reason=NASTY)
@examples(20, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_text_of_a_log_commands_the_terminal_or_breaks_the_drawing(
    name: str, reason: str, write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write([filing(1, 1, did=Did.LEFT_OUT, strokes=None, reason=reason)], name=name)
    file = tmp_path / "nasty.svg"
    assert main(["show", str(path)]) == 0
    shown = capsys.readouterr().out
    assert not set(shown) & {chr(code) for code in (*range(10), *range(11, 32), *range(127, 160))}
    assert "\u202e" not in shown
    assert main(["show", str(path), "--svg", str(file)]) == 0
    capsys.readouterr()
    root = ET.parse(file).getroot()
    assert not list(root.iter(f"{SVG}script"))
    file.unlink()


@pytest.mark.parametrize("plan", [{}, {"points": "many"}, {"points": 155, "order": []}])
def test_a_log_without_a_plan_is_shown_as_far_as_it_goes(
    plan: dict[str, Any], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "old.toml"
    marks = [Mark(seq=n, at=DAY0, **one) for n, one in enumerate(WALK, 1)]
    path.write_bytes(make_header({"plan": plan}) + b"".join(encode(mark)[0] for mark in marks))
    assert main(["show", str(path)]) == 0
    assert "file, gullet 5, side 1: the tooth is broken" in capsys.readouterr().out
    assert main(["show", str(path), "--svg", str(tmp_path / "x.svg")]) == 2
    assert "no line can be drawn" in capsys.readouterr().err
    assert not (tmp_path / "x.svg").exists()


def test_times_at_the_ends_of_the_calendar_are_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "ends.toml"
    ends = ["0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00"]
    marks = [Mark(seq=n, at=datetime.fromisoformat(at), **filing(n, 1)) for n, at in enumerate(ends, 1)]
    path.write_bytes(make_header({}) + b"".join(encode(mark)[0] for mark in marks))
    assert main(["show", str(path)]) == 0
    assert "2 marks" in capsys.readouterr().out


def test_a_log_of_the_till_is_found_by_its_name_alone(
    write: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = write()
    monkeypatch.chdir(tmp_path)
    for name in (path.name, path.stem):
        assert main(["--till", str(tmp_path), "show", name]) == 0
        assert str(path) in capsys.readouterr().out
    assert main(["--till", str(tmp_path), "show", "other.toml"]) == 2
    assert "other.toml: no such log" in capsys.readouterr().err


def test_a_recipe_is_no_record(capsys: pytest.CaptureFixture[str]) -> None:
    recipe = supplied_folder("recipes") / "rip.toml"
    for form in ([], ["--json"], ["--csv"]):
        assert main(["show", str(recipe), *form]) == 2
        told = capsys.readouterr()
        assert told.out == ""
        assert told.err.endswith("rip.toml: this is a recipe, not a log; toothline plan shows a recipe\n")
