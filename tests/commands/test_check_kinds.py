"""`toothline check` knows each kind of file by its tables, and checks it with its own loader."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from session.cli import main
from session.commands.check import FileKind, kind_of
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.log.log_bytes import make_header
from session.log.mark_block import encode
from session.walk.mark import Did, Mark
from session.walk.work_plan import make_plan

CUT = """\
format = 1
[cut]
at = 2026-03-07T18:00:00+01:00
saw = "Netloft panel saw"
length = "12 in"
thickness = "3/4 in"
strokes = 40
"""
FILES = """\
format = 1
[[file]]
name = "Small taper by the window"
face = "0.27 in"
teeth_filed = [620, 155, 0]
"""
SETTINGS = """\
guard_ms = 400
corner_teeth = 450
[keys]
done = ["space", "f13"]
"""
FLATS = """\
pitch = "4.6 mm"
depth = "3.1 mm"
plate_thickness = "0.9 mm"
widths = [0.4, 0.5, 0.0, 0.6]
"""
SEEN = """\
bright = "some"
last_cut = "wanders"
over_points = ["0.047 in", "0.048 in"]
low = "none"
cut = "across"
"""

GOOD = [
    (CUT, FileKind.CUT, "a trial cut in order: 12 in in 40 strokes"),
    (FILES, FileKind.FILES, "a list of files in order: 1 file"),
    (SETTINGS, FileKind.SETTINGS, "settings in order"),
    (FLATS, FileKind.FLATS, "a measured line in order: 4 teeth"),
    (SEEN, FileKind.SEEN, "what was seen of a saw, in order: 5 looks"),
]


@pytest.mark.parametrize(("text", "kind", "words"), GOOD, ids=[kind for _, kind, _ in GOOD])
def test_each_kind_is_known_by_its_tables_and_found_in_order(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, kind: FileKind, words: str
) -> None:
    path = tmp_path / "odd-name.toml"
    path.write_text(text, encoding="utf-8")
    assert kind_of(path) is kind
    assert main(["check", str(path)]) == 0
    said = capsys.readouterr()
    assert said.out == f"{path}: {words}\n"
    assert said.err == ""


BAD = [
    (CUT.replace("40", "0"), ":7: cut.strokes: 0 is out of range"),
    (FILES.replace("155", "-1"), ":5: file[1].teeth_filed[2]: -1 is out of range"),
    (SETTINGS.replace("400", '"fast"'), ":1: guard_ms: "),
    (SETTINGS.replace("450", "0"), ":2: corner_teeth: 0 is out of range; allowed: a whole number of teeth from 1"),
    (SETTINGS.replace("done", "dance"), 'keys: "dance" is no act'),
    ('theme = "bench-drak"\n', 'theme: "bench-drak" is no theme; allowed: bench-dark, bench-light, bench-contrast'),
    (FLATS.replace("0.6", "-1"), ":4: widths[4]: "),
    (SEEN.replace("some", "bright"), ':1: bright: "bright" is not known; allowed: "none" or "some" or "most"'),
    (SEEN.replace("wanders", "good") + 'wanders_to = "left"\n', ':6: wanders_to: goes with last_cut = "wanders" only'),
]


@pytest.mark.parametrize(("text", "wrong"), BAD)
def test_what_is_wrong_is_told_by_its_own_loader(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, wrong: str
) -> None:
    path = tmp_path / "odd-name.toml"
    path.write_text(text, encoding="utf-8")
    assert main(["check", str(path)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    [line] = said.err.splitlines()
    assert wrong in line
    if not wrong.startswith(("keys", "theme")):
        assert line.startswith(f"{path}:")


def test_a_name_tells_only_where_the_tables_do_not(tmp_path: Path) -> None:
    for name, kind in (
        ("files.toml", FileKind.FILES),
        ("settings.toml", FileKind.SETTINGS),
        ("x.toml", "recipe"),
        ("seen.toml", FileKind.SEEN),
    ):
        path = tmp_path / name
        for text in ("format = 1\n", "not TOML at all", ""):
            path.write_text(text, encoding="utf-8")
            assert kind_of(path) == kind
        path.write_text(CUT, encoding="utf-8")
        assert kind_of(path) is FileKind.CUT
    assert kind_of(tmp_path / "nowhere.toml") is FileKind.RECIPE
    assert kind_of(tmp_path) is FileKind.RECIPE


def test_a_recipe_with_a_file_table_stays_a_recipe(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    supplied = sorted(supplied_folder("recipes").glob("*.toml"))
    assert {kind_of(path) for path in supplied} == {FileKind.RECIPE}
    own = tmp_path / "settings.toml"
    own.write_bytes(supplied[0].read_bytes())
    assert main(["check", str(own)]) == 0
    assert "a recipe in order" in capsys.readouterr().out


def test_a_settings_file_that_is_not_there_is_not_in_order(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("files.toml", "settings.toml"):
        assert main(["check", str(tmp_path / name)]) == 2
        assert "no such file" in capsys.readouterr().err


def test_a_cut_that_is_unlikely_is_in_order_and_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "cut.toml"
    path.write_text(CUT.replace("40", "2"), encoding="utf-8")
    assert main(["check", str(path)]) == 0
    said = capsys.readouterr()
    assert "unlikely" in said.err
    assert "in order" in said.out


def test_several_kinds_at_once_and_one_bad_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    paths = [tmp_path / f"{number}.toml" for number in range(len(GOOD) + 1)]
    for path, text in zip(paths, [*(text for text, _, _ in GOOD), FILES.replace("0.27 in", "27")], strict=True):
        path.write_text(text, encoding="utf-8")
    assert main(["check", *map(str, paths)]) == 2
    said = capsys.readouterr()
    assert len(said.out.splitlines()) == len(GOOD)
    assert said.err.startswith(f"{paths[-1]}:4: ")


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A log with two marks, in a file whose name a terminal would obey."""
    recipe = load_recipe(supplied_folder("recipes") / "crosscut-panel.toml")
    header = {"session": {}, "recipe": recipe.values, "plan": make_plan(recipe.saw).to_dict()}
    path = tmp_path / "lo\x1b[2Jg.toml"
    blocks = [encode(Mark(seq=seq, at=datetime(2026, 3, 7, 9, tzinfo=UTC), did=Did.PAUSED))[0] for seq in (1, 2)]
    path.write_bytes(make_header(header) + b"".join(blocks))
    return path


def test_a_log_is_checked_to_its_last_mark(log: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = str(log).replace("\x1b", "")
    whole = log.read_bytes()
    assert main(["check", str(log)]) == 0
    assert capsys.readouterr().out == f"{name}: a log in order: interrupted, 2 marks\n"
    log.write_bytes(whole[:-1])
    assert main(["check", str(log)]) == 0
    torn = len(whole) - 1 - whole.rindex(b"\n[[mark]]\n")
    assert capsys.readouterr().out == f"{name}: a log in order: interrupted, 1 mark, {torn} torn bytes at its end\n"
    # A change in the middle, which the two ends do not show.
    log.write_bytes(whole.replace(b"09:00", b"09:01", 1))
    assert main(["check", str(log)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith(f"toothline: {name}: a mark does not agree with its seal")


def test_a_log_that_no_one_could_go_on_with_is_not_in_order(log: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log.write_bytes(make_header({"session": {}, "recipe": {}}))
    assert main(["check", str(log)]) == 2
    assert "the log's header holds no recipe or no plan" in capsys.readouterr().err
    # A finished one is a record all the same.
    end = Mark(seq=1, at=datetime(2026, 3, 7, 9, tzinfo=UTC), did=Did.FINISHED)
    log.write_bytes(log.read_bytes() + encode(end)[0])
    assert main(["check", str(log)]) == 0


def test_a_saw_is_checked_by_its_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (supplied_folder("recipes") / "rip.toml").read_text(encoding="utf-8")
    (tmp_path / "loft-rip.toml").write_text(text.replace('name = "', 'name = "My '), encoding="utf-8")
    assert main(["--till", str(tmp_path), "check", "loft", "carcass"]) == 0
    told = capsys.readouterr().out
    assert str(tmp_path / "loft-rip.toml") in told.replace("\n", "").replace("  ", "")
    assert told.count("a recipe in order") == 2
    assert main(["--till", str(tmp_path), "check", "no-such-saw"]) == 2
    assert 'no saw is named "no-such-saw"' in capsys.readouterr().err
