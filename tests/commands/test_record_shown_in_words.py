"""A record shown in words: its places, its line, what is for next time, and what is wrong with it."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from made_history import filed, write_log
from session.cli import main
from session.log.log_bytes import make_header
from session.log.log_reader import read_log
from session.log.mark_block import encode
from session.sentences.listed_places import left_out as last_screen
from session.walk.mark import Did, Mark
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.taken_back import LOOK_AGAIN
from session.walk.work_plan import Plan
from shown_record import DAY0, WALK, Write, filing


def test_a_look_passed_over_is_named(write_walk: Write, capsys: pytest.CaptureFixture[str]) -> None:
    look = {"did": Did.DONE, "stage": Stage.LOOK_OVER, "by": "key"}
    walk = [{**look, "step": "crack", "reason": "not looked at"}, {**look, "step": "plate"}]
    assert main(["show", str(write_walk(walk))]) == 0
    assert "Not looked at: crack." in capsys.readouterr().out
    assert main(["show", str(write_walk())]) == 0
    assert "Not looked at" not in capsys.readouterr().out


def test_places_left_out_and_flagged_are_listed_with_reasons(
    write_walk: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    path = write_walk()
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


def test_a_flag_that_was_gone_back_to_is_told_so_and_drawn_no_more(
    write_walk: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    def told(walk: list[dict[str, Any]]) -> tuple[str, bool]:
        assert main(["show", str(write_walk(walk))]) == 0
        lines = capsys.readouterr().out.splitlines()
        line = lines[lines.index("file:") :]
        return lines[lines.index("Flagged:") + 1], any("!" in row.split("heel")[0] for row in line[:3])

    again = {"did": Did.TOOK_BACK, "of": 2, "reason": LOOK_AGAIN}
    assert told(WALK) == ("  file, gullet 3, side 1: bright", True)
    assert told([*WALK, again, filing(3, 1)]) == ("  file, gullet 3, side 1: bright; looked at again", False)


def test_as_many_are_left_out_as_the_last_screen_says_and_those_marked_together_are_told(
    write_walk: Write, capsys: pytest.CaptureFixture[str]
) -> None:
    look = {"did": Did.MEASURED, "stage": Stage.LOOK_OVER, "step": "broken teeth", "by": "key"}
    broken = {**look, "what": "broken teeth", "value": "21", "unit": "from the heel"}
    together = [filing(tooth, 1, strokes=None, many="11-15") for tooth in (11, 13, 15)]
    path = write_walk(
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


def test_the_line_is_drawn_with_its_states(write_walk: Write, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["show", str(write_walk())]) == 0
    told = capsys.readouterr().out.splitlines()
    start = told.index("file:")
    drawn = "\n".join(told[start : start + 4])
    assert "×" in drawn
    assert "!" in drawn
    assert "·" in drawn
    assert "set:" in told
    assert any("not yet" in line and "left out" in line for line in told)
    assert max(len(line) for line in told[start:]) <= 80


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
    write_walk: Write, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = write_walk()
    monkeypatch.chdir(tmp_path)
    for name in (path.name, path.stem):
        assert main(["--till", str(tmp_path), "show", name]) == 0
        assert str(path) in capsys.readouterr().out
    assert main(["--till", str(tmp_path), "show", "other.toml"]) == 2
    assert "other.toml: no such log" in capsys.readouterr().err
    assert main(["--till", str(tmp_path), "show", "netlof panel"]) == 2
    assert 'no saw of this till is named "netlof panel"; near it: netloft-panel-saw' in capsys.readouterr().err
