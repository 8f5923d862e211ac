"""`plan` for a person: the tables, the errors and their exit status."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from called_here import call_here
from every_figure import figures
from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe


@pytest.fixture
def till(tmp_path: Path) -> str:
    return str(tmp_path)


def plain(text: str) -> str:
    """The text with all white space as single blanks: cells are wrapped to the width of the table."""
    return " ".join(text.split())


def test_the_table_speaks_the_recipes_unit(till: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--till", till, "plan", "crosscut-panel"]) == 0
    out = plain(capsys.readouterr().out)
    assert "Crosscut panel saw: panel, crosscut, 8 points per inch, 22 in" in out
    for words in (
        *("pitch, from 8 points per inch 0.143 in", "points along 22 in 155", "kerf 0.047 in bend"),
        *("rake on the guide block 15°", "rake seen on the plate 16.5°", "depth of the tooth 0.102 in"),
        *(
            "sharpenings the set outlives not known",
            "sharpenings a fresh set outlives 7 from memory, judgment",
            "face that serves best 0.289 in from memory",
            "face of the recipe's file not given",
        ),
        *("1–78, 79–155", "left out", "Bend each tooth only the way it leans already", "KING art. 63"),
    ):
        assert words in out
    assert " mm" not in out.partition("Files in print")[0]


def test_a_metric_saw_is_told_in_mm(till: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = find_recipe("crosscut-panel", []).read_text(encoding="utf-8").replace('"22 in"', '"56 cm"')
    (tmp_path / "own.toml").write_text(text, encoding="utf-8")
    assert main(["--till", till, "plan", str(tmp_path / "own.toml")]) == 0
    out = plain(capsys.readouterr().out)
    assert "depth of the tooth 2.59 mm" in out
    assert "set per side 0.152 mm" in out


def test_why_names_a_source_for_each_figure(till: str, capsys: pytest.CaptureFixture[str]) -> None:
    saw = load_recipe(find_recipe("crosscut-panel", [])).saw
    assert main(["--till", till, "plan", "crosscut-panel", "--why"]) == 0
    lines = capsys.readouterr().out.splitlines()
    for figure in figures(saw):
        [row] = [line for line in lines if line.strip().startswith(f"{figure.words}  ")]
        # A long source is folded; its first words stand on the figure's own row.
        assert row.rstrip().endswith(figure.source) or figure.source.split()[0] in row.split()
    assert main(["--till", till, "plan", "crosscut-panel"]) == 0
    assert "asin(" not in capsys.readouterr().out


def test_the_owners_text_is_no_markup(till: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = find_recipe("crosscut-panel", []).read_text(encoding="utf-8")
    own = text.replace('"Crosscut panel saw"', '"Saw [/] [bold]of[/bold] :smile:"')
    (tmp_path / "own.toml").write_text(own, encoding="utf-8")
    (tmp_path / "files.toml").write_text('[[file]]\nname = "File [/red] [x]"\nface = "7.5 mm"\n', encoding="utf-8")
    assert main(["--till", till, "plan", str(tmp_path / "own.toml")]) == 0
    out = capsys.readouterr().out
    assert "Saw [/] [bold]of[/bold] :smile:" in out
    assert "File [/red] [x]" in out


def test_a_pipe_gets_no_color_codes(till: str, tmp_path: Path) -> None:
    environment = {**os.environ, "FORCE_COLOR": "1", "TERM": "xterm-256color", "COLUMNS": "40"}
    done = call_here(tmp_path, "--till", till, "plan", "rip", "--why", environment=environment)
    assert done.returncode == 0, done.stderr
    assert b"\x1b" not in done.stdout
    assert "Rip saw" in done.stdout.decode("utf-8")


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["no-such-saw"], 'no saw is named "no-such-saw"'),
        (["gone.toml"], "gone.toml: no such file"),
        (
            ["rip", "--rake-on-plate", "80"],
            "--rake-on-plate: a rake of 80 on the plate needs 80.0 on the block; allowed",
        ),
        (["rip", "--rake-on-plate", "nan"], "--rake-on-plate: plate rake nan; allowed: degrees between"),
        (["rip", "--rake-on-plate", "steep"], "invalid float value: 'steep'"),
        ([], "RECIPE"),
    ],
)
def test_bad_input_is_one_line_and_exit_2(
    till: str, capsys: pytest.CaptureFixture[str], more: list[str], words: str
) -> None:
    assert main(["--till", till, "plan", *more]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    [line] = told.err.splitlines()
    assert line.startswith("toothline: ")
    assert words in line


def test_all_errors_of_a_recipe_are_told(till: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = find_recipe("rip", []).read_text(encoding="utf-8")
    own = tmp_path / "own.toml"
    own.write_text(text.replace("rake = 0", "rake = nan").replace('kind = "rip"', 'kind = "ripe"'), encoding="utf-8")
    assert main(["--till", till, "plan", str(own), "--json"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert [line.split(": ")[2] for line in told.err.splitlines()] == ["saw.kind", "teeth.rake"]


def test_a_wrong_list_of_files_is_told_with_its_line(
    till: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "files.toml").write_text('[[file]]\nname = "a"\nface = "7"\n', encoding="utf-8")
    assert main(["--till", till, "plan", "rip"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert f'{tmp_path / "files.toml"}:3: file[1].face: "7" has no unit' in told.err


def test_a_till_that_is_a_file_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "till").write_text("", encoding="utf-8")
    assert main(["--till", str(tmp_path / "till"), "plan", "rip"]) == 2
    assert "a till is a folder" in capsys.readouterr().err


def test_help_has_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", "--help"]) == 0
    assert "Example: toothline plan crosscut-panel --why" in capsys.readouterr().out
