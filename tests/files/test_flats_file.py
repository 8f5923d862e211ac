from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from session.files.flats_file import load_flats
from session.machine.clean_text import clean
from session.machine.refusal import Refusal

HEAD = 'pitch = "4.6 mm"\ndepth = "3.1 mm"\nplate_thickness = "0.9 mm"\n'


def written(folder: Path, text: str) -> Path:
    path = folder / "line.toml"
    path.write_text(text, encoding="utf-8")
    return path


def errors(folder: Path, text: str) -> list[str]:
    path = written(folder, text)
    with pytest.raises(Refusal) as wrong:
        load_flats(path)
    prefix = f"{path}"
    assert all(line.startswith(prefix) and "\n" not in line for line in wrong.value.lines)
    return [line[len(prefix) :] for line in wrong.value.lines]


def test_measured_flats_and_low_teeth(tmp_path: Path) -> None:
    found = load_flats(written(tmp_path, HEAD + "flats = [[0, 0.4], [], [9.1, 9.4]]\nbroken = []\n"))
    assert found.line.flats == ((0.0, 0.4), None, (9.1, 9.4))
    assert found.line.low == (2,)
    assert (found.pitch.text, found.depth.text, found.plate.text) == ("4.6 mm", "3.1 mm", "0.9 mm")


def test_graded_widths_with_a_measured_length(tmp_path: Path) -> None:
    found = load_flats(written(tmp_path, HEAD + 'widths = [0.2, 0.2, 0.2]\nlength = "10 mm"\n'))
    middles = [(flat[0] + flat[1]) / 2 for flat in found.line.flats if flat is not None]
    assert middles == pytest.approx([0.0, 5.0, 10.0])


def test_a_broken_tooth_takes_no_part(tmp_path: Path) -> None:
    found = load_flats(written(tmp_path, HEAD + "widths = [0.2, 0.2, 0.2, 0.2]\nbroken = [2]\n"))
    assert found.line.flats[1] is None
    assert found.line.broken == (2,)


def test_a_long_line_may_stand_on_one_line_of_the_file(tmp_path: Path) -> None:
    flats = [[k * 4.6 + 1 / 3, k * 4.6 + 2 / 3] for k in range(3000)]
    found = load_flats(written(tmp_path, HEAD + f"flats = {json.dumps(flats)}\n"))
    assert len(found.line.flats) == 3000


@pytest.mark.parametrize(
    ("teeth", "said"),
    [
        ("flats = []", ":4: flats: a line of 0 teeth; allowed: 2 to 3,000"),
        ("flats = [[0, 0.1]]", ":4: flats: a line of 1 teeth; allowed: 2 to 3,000"),
        ("flats = [[0, 0.1], []]", ":4: flats: fewer than two teeth have a flat, so there is no spacing to even"),
        ("widths = [0, 0, 0]", ":4: widths: fewer than two teeth have a flat"),
        (f"widths = {[0.1] * 3001}", ":4: widths: a line of 3,001 teeth; allowed: 2 to 3,000"),
        ("flats = [[0, 0.1],\n[4, 3]]", ":5: flats[2]: tooth 2: its flat runs backward, from 4 to 3 mm; allowed"),
        (
            "flats = [[0, 4], [3.5, 6]]",
            ":4: flats[2]: tooth 2: its flat begins at 3.5 mm, before that of tooth 1 ends; allowed: 4 mm or more",
        ),
        (
            "flats = [[0, 4], [], [3.5, 6]]",
            ":4: flats[3]: tooth 3: its flat begins at 3.5 mm, before that of tooth 1 ends; allowed: 4 mm or more",
        ),
        ("flats = [[0, 4.6], [5, 6]]", ":4: flats[1]: tooth 1: a flat 4.6 mm wide; allowed: less than the pitch, 4.6"),
        (
            "flats = [[0, nan], [5, 6]]",
            ":4: flats[1]: tooth 1: nan mm is out of range; allowed: -200,000 to 200,000 mm",
        ),
        (
            "flats = [[0, 1], [5, inf]]",
            ":4: flats[2]: tooth 2: inf mm is out of range; allowed: -200,000 to 200,000 mm",
        ),
        ("flats = [[0, 1], [5, 1e300]]", ":4: flats[2]: tooth 2: 1e+300 mm is out of range"),
        (f"flats = [[0, 1], [5, {10**30}]]", ":4: flats[2]: tooth 2: a number of more than 15 digits mm is out of"),
        ("flats = [[0, 1], [5]]", ":4: flats[2]: tooth 2: a list is not a flat; allowed: [a, b] in mm, or []"),
        ("flats = [[0, 1], 5]", ":4: flats[2]: tooth 2: 5 is not a flat; allowed: [a, b] in mm, or []"),
        ('flats = [[0, 1], "ab"]', ':4: flats[2]: tooth 2: "ab" is not a flat'),
        ("flats = [[0, 1], [true, 2]]", ":4: flats[2]: tooth 2: true is not a number; allowed: a finite number of mm"),
        ("widths = [0.1, -0.1]", ":4: widths[2]: tooth 2: a flat -0.1 mm wide; allowed: 0 mm (a low tooth) or more"),
        ("widths = [0.1, 5]", ":4: widths[2]: tooth 2: a flat 5 mm wide; allowed: less than the pitch, 4.6 mm"),
        ("widths = [0.1, nan]", ":4: widths[2]: tooth 2: nan mm is out of range"),
        ('widths = [0.1, "0.2 mm"]', ':4: widths[2]: tooth 2: "0.2 mm" is not a number'),
        ("widths = [4, 4.5, 4.5, 4.5, 4]\nlength = '12 mm'", ":4: widths: tooth 2: with flats as wide as its 4.5 mm"),
        ("widths = 3", ":4: widths: 3 is not a list; allowed: a list of widths in mm"),
        ("widths = [1, 1]\nlength = '0 mm'", ":5: length: 0 mm is out of range; allowed: 0.3 mm to 200 m"),
        ("", ":1: the file: lacks flats or widths; allowed: exactly one of the two"),
        ("flats = [[0, 1], [5, 6]]\nwidths = [1, 1]", ":5: widths: cannot stand beside flats"),
        ("flats = [[0, 1], [5, 6]]\nbroken = [3]", ":4: flats: broken tooth 3 is not on the line; allowed: 1 to 2"),
        ("flats = [[0, 1], [5, 6]]\nbroken = [1.5]", ":5: broken[1]: 1.5 is not a whole number"),
        ("flats = [[0, 1], [5, 6]]\nlength = '9 mm'", ":5: length: goes with widths only"),
        ("flats = [[0, 1], [5, 6]]\nflat = 1", ':5: flat: is not a known key; did you mean "flats"?'),
        ("flats = [[0, 1], [5, 6]]\nformat = 2", ":5: format: 2 is out of range; allowed: 1"),
        ("flats = [[0, 1], ", ":4: not TOML:"),
    ],
)
def test_a_line_that_cannot_be_names_tooth_value_and_limit(tmp_path: Path, teeth: str, said: str) -> None:
    [line] = errors(tmp_path, HEAD + teeth + "\n")
    assert line.startswith(said)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"4.6 mm"', "4.6", ":1: pitch: not a text with a unit"),
        ('"4.6 mm"', '"0 mm"', ":1: pitch: 0 mm is out of range; allowed: 0.3 mm to 60 mm"),
        ('"3.1 mm"', '"0 mm"', ":2: depth: 0 mm is out of range; allowed: 0.05 mm to 60 mm"),
        ('"3.1 mm"', "3.1", ":2: depth: not a text with a unit"),
        ('"3.1 mm"', '"deep"', ':2: depth: "deep" is not a length'),
        ('"0.9 mm"', '"-1 mm"', ':3: plate_thickness: "-1 mm" is negative'),
        ('depth = "3.1 mm"\n', "", ":1: depth: is missing; write a length such as"),
    ],
)
def test_measures_that_cannot_be(tmp_path: Path, old: str, new: str, said: str) -> None:
    [line] = errors(tmp_path, HEAD.replace(old, new) + "widths = [0.1, 0.2]\n")
    assert line.startswith(said)


def test_all_wrong_teeth_are_told_each_with_its_line(tmp_path: Path) -> None:
    text = HEAD.replace('"0.9 mm"', '"0.9"') + "flats = [\n[0, 0.1],\n[4, nan],\n[9.6, 9.4],\n[8, 8.1],\n]\n"
    told = errors(tmp_path, text)
    assert [line.split(": ")[0] for line in told] == [":3", ":6", ":7", ":8"]


def test_a_crossing_is_found_behind_a_flat_that_reaches_back(tmp_path: Path) -> None:
    told = errors(tmp_path, HEAD + "flats = [\n[0, 0.1],\n[9, 9.1],\n[5, 5.1],\n[8, 8.1],\n[20, 20.1]]\n")
    assert [line.split(": ")[2] for line in told] == ["tooth 3", "tooth 4"]


def test_a_thousand_errors_are_cut(tmp_path: Path) -> None:
    told = errors(tmp_path, HEAD + f"widths = {[-1] * 1000}\n")
    assert len(told) == 51
    assert told[-1].endswith(": and 950 more errors")


def test_what_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="no such file"):
        load_flats(tmp_path / "none.toml")
    with pytest.raises(Refusal, match="a folder, not a file"):
        load_flats(tmp_path)


VALUE: st.SearchStrategy[object] = st.one_of(
    st.floats(), st.integers(-(10**20), 10**20), st.booleans(), st.text(max_size=3), st.just([])
)


@examples(150)
@given(
    key=st.sampled_from(["flats", "widths"]),
    teeth=st.lists(st.one_of(VALUE, st.lists(VALUE, max_size=3), st.lists(st.floats(0, 30), min_size=2, max_size=2))),
)
def test_any_list_gives_a_line_or_errors_of_one_line_each(
    tmp_path_factory: pytest.TempPathFactory, key: str, teeth: list[object]
) -> None:
    written_as = json.dumps(teeth).replace("NaN", "nan").replace("Infinity", "inf")
    path = written(tmp_path_factory.mktemp("flats"), HEAD + f"{key} = {written_as}\n")
    lines: tuple[str, ...] = ()
    try:
        found = load_flats(path)
    except Refusal as wrong:
        lines = wrong.lines
    else:
        assert len(found.line.flats) == len(teeth) >= 2
        return
    assert lines
    assert all(line.startswith(str(path)) and clean(line) == line for line in lines)
