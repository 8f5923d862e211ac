from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest

from session.cli import main
from session.files.supplied import supplied_folder

ENOUGH = ["--length", "12 in", "--thickness", "3/4 in", "--strokes", "40"]


@pytest.fixture
def till(tmp_path: Path) -> Path:
    """A till with one saw, that was never sharpened."""
    text = (supplied_folder("recipes") / "crosscut-panel.toml").read_text()
    name = next(line for line in text.splitlines() if line.startswith("name"))
    (tmp_path / "netloft-panel-saw.toml").write_text(text.replace(name, 'name = "Netloft panel saw"'))
    return tmp_path


def test_a_cut_is_kept_and_read_by_history(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cut = ["cut", "Netloft panel saw", *ENOUGH, "--wander", "1 mm", "--to", "right", "--note", "the long oar"]
    assert main(["--till", str(till), *cut]) == 0
    said = capsys.readouterr().out
    (file,) = (till / "cuts" / "netloft-panel-saw").iterdir()
    assert str(file) in said
    # 12 in · 3/4 in / 40 strokes.
    assert "145 mm² a stroke" in said
    told = tomllib.loads(file.read_text(encoding="utf-8"))["cut"]
    assert (told["length"], told["thickness"], told["strokes"]) == ("12 in", "3/4 in", 40)
    assert (told["wander"], told["to"], told["note"]) == ("1 mm", "right", "the long oar")
    assert told["wood"] == "dry hardwood"
    assert main(["--till", str(till), "history", "netloft-panel-saw", "--json"]) == 0
    (saw,) = json.loads(capsys.readouterr().out)["saws"]
    assert saw["cuts"][0]["note"] == "the long oar"
    assert saw["cuts"][0]["cut_area_mm2_per_stroke"] == pytest.approx(304.8 * 19.05 / 40)
    assert saw["cuts"][0]["cut_days_since_sharpening"] is None


def test_each_missing_argument_is_named(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--till", str(till), "cut", "netloft-panel-saw", "--thickness", "3/4 in"]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 2
    assert "--length is missing" in lines[0]
    assert "--strokes is missing" in lines[1]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (["--strokes", "0"], "--strokes"),
        (["--strokes", "4e1"], "--strokes"),
        (["--strokes", "٤"], "--strokes"),
        (["--length", "12"], "--length: "),
        (["--thickness", "0 mm"], "thickness 0 mm"),
        (["--length", "\x1b[2Jfar"], "--length: "),
        (["--wander", "1 mm"], "--to is missing"),
        (["--to", "left"], "--wander is missing"),
        (["--wander", "20 in", "--to", "left"], "wander"),
        (["--note", "x" * 500], "--note: 500 characters; allowed: at most 400"),
    ],
)
def test_bad_input_is_one_line_and_writes_nothing(
    change: list[str], says: str, till: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--till", str(till), "cut", "netloft-panel-saw", *ENOUGH, *change]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert says in told.err
    assert told.err.count("\n") == 1
    assert told.err.strip().isprintable()
    assert not (till / "cuts").exists()


def test_an_unknown_saw_is_told_those_near_it(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--till", str(till), "cut", "netloft pannel", *ENOUGH]) == 2
    assert "near it: netloft-panel-saw" in capsys.readouterr().err
    assert main(["--till", str(till / "none"), "cut", "netloft", *ENOUGH]) == 2
    assert "no such folder" in capsys.readouterr().err


def test_an_unlikely_cut_is_kept_with_a_word_about_it(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    many = ["cut", "netloft-panel-saw", "--length", "1 mm", "--thickness", "3/4 in", "--strokes", "900"]
    assert main(["--till", str(till), *many]) == 0
    assert "is unlikely; check length and strokes" in capsys.readouterr().err
    assert len(list((till / "cuts" / "netloft-panel-saw").iterdir())) == 1


def test_a_till_where_nothing_can_be_made_is_exit_4(till: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (till / "cuts").write_text("in the way")
    assert main(["--till", str(till), "cut", "netloft-panel-saw", *ENOUGH]) == 4
    assert "the cut was not written" in capsys.readouterr().err
    assert (till / "cuts").read_text() == "in the way"
