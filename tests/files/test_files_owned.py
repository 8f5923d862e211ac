from __future__ import annotations

from pathlib import Path

import pytest

from session.files.owned_files import load_files_owned
from session.machine.refusal import Refusal

GOOD = """format = 1
[[file]]
name = "Small taper  by the window"
face = "0.27 in"
corner_radius = "0.004 in"
teeth_filed = [620, 155, 0]
[[file]]
name = "Large"
face = "9 mm"
"""


def written(folder: Path, text: str) -> Path:
    path = folder / "files.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_files_in_their_order(tmp_path: Path) -> None:
    small, large = load_files_owned(written(tmp_path, GOOD))
    assert small.name == "Small taper by the window"
    assert small.face.mm == pytest.approx(6.858)
    assert small.face.text == "0.27 in"
    assert small.corner_radius is not None
    assert small.corner_radius.mm == pytest.approx(0.1016)
    assert small.corners == (620, 155, 0)
    assert (large.name, large.corner_radius, large.corners) == ("Large", None, (0, 0, 0))


def test_no_list_is_no_files_and_no_error(tmp_path: Path) -> None:
    assert load_files_owned(tmp_path / "files.toml") == ()
    assert load_files_owned(written(tmp_path, "format = 1\n")) == ()


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"0.27 in"', '"0.27"', ':4: file[1].face: "0.27" has no unit; allowed units'),
        ('"0.27 in"', '"0 in"', ":4: file[1].face: 0 in is out of range; allowed: 0.5 mm to 60 mm"),
        (
            '"0.004 in"',
            '"0.2 in"',
            ":5: file[1].corner_radius: Small taper by the window: corner radius 0.2 in; allowed",
        ),
        ('"0.004 in"', "0.1", ":5: file[1].corner_radius: not a text with a unit"),
        (
            '"0.004 in"',
            '"sharp"',
            ':5: file[1].corner_radius: "sharp" is not a length; write a number and a unit, such as "0.004 in"',
        ),
        ("[620, 155, 0]", "[620, 155]", ":6: file[1].teeth_filed: a list is too short; allowed: three whole numbers"),
        ("[620, 155, 0]", "[620, 155, 0, 0]", ":6: file[1].teeth_filed: a list is too long"),
        ("[620, 155, 0]", "[620, -1, 0]", ":6: file[1].teeth_filed[2]: -1 is out of range"),
        ("[620, 155, 0]", "[620, 1.5, 0]", ":6: file[1].teeth_filed[2]: 1.5 is not a whole number"),
        ('"Large"', '" "', ":8: file[2].name: 0 characters that can be shown; allowed: a text of 1 to 80"),
        ('"Large"', "7", ":8: file[2].name: not a text"),
        (
            '"Large"',
            '"small TAPER by the window"',
            ':8: file[2].name: "small TAPER by the window" is the name of file 1',
        ),
        ("format = 1", "format = 3", ":1: format: 3 is out of range; allowed: 1"),
        ('face = "9 mm"', "", ":7: file[2].face: is missing; write a length"),
        ('face = "9 mm"', 'face = "9 mm"\nfleam = 3', ":10: file[2].fleam: is not a known key"),
    ],
)
def test_what_is_wrong_has_its_line(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in GOOD
    path = written(tmp_path, GOOD.replace(old, new))
    with pytest.raises(Refusal) as wrong:
        load_files_owned(path)
    [line] = wrong.value.lines
    assert line.startswith(f"{path}{said}")


def test_all_errors_are_told_and_a_flood_is_cut(tmp_path: Path) -> None:
    with pytest.raises(Refusal) as wrong:
        load_files_owned(written(tmp_path, "[[file]]\nname = 1\n" * 60))
    assert len(wrong.value.lines) == 51
    assert wrong.value.lines[-1].endswith("and 70 more errors")


def test_too_many_files(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="at most 200"):
        load_files_owned(written(tmp_path, "".join(f'[[file]]\nname = "{k}"\nface = "9 mm"\n' for k in range(201))))


def test_what_is_no_toml_or_no_file(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match=r"files\.toml:1: not TOML"):
        load_files_owned(written(tmp_path, "file ="))
    with pytest.raises(Refusal, match="a folder, not a file"):
        load_files_owned(tmp_path)
    (tmp_path / "nowhere.toml").symlink_to(tmp_path / "gone")
    with pytest.raises(Refusal, match="no such file"):
        load_files_owned(tmp_path / "nowhere.toml")
