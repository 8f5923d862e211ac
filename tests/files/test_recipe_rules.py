"""Every rule of a recipe, kept and broken, with the line that is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from session.files.recipe import load_recipe
from session.machine.refusal import Refusal
from session.trade.saw import Cut, End, FilePoints, Leans, Order

GOOD = """\
format = 1

[saw]
name = "Netloft panel saw"
kind = "panel"
cut = "crosscut"
toothed_length = "22 in"
plate_thickness = "0.035 in"
points_counted = 155

[teeth]
points_per_inch = 8
rake = 15.0
fleam = 25.0
slope = 0.0
first_leans = "away"

[set]
per_side = "0.006 in"
least_per_side = "0.003 in"
bent_share = 0.4

[file]
face = "0.33 in"

[work]
order = "set first"
sides = 2
start = "heel"
file_points = "toe"
vise_jaw = "14 in"
wood = "dry hardwood"
dressing_passes = 1
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "saw.toml"


def changed(key: str, line: str | None) -> tuple[str, int]:
    """GOOD with the line of ``key`` replaced (or taken out), and that line's number."""
    lines = GOOD.split("\n")
    at = next(number for number, old in enumerate(lines) if old.startswith(f"{key} ="))
    lines[at : at + 1] = [] if line is None else [line]
    return "\n".join(lines), at + 1


def errors_of(file: Path, text: str) -> list[str]:
    file.write_text(text, encoding="utf-8")
    with pytest.raises(Refusal) as caught:
        load_recipe(file)
    assert str(caught.value) == "\n".join(caught.value.lines)
    assert all("\n" not in error for error in caught.value.lines)
    return list(caught.value.lines)


def test_the_recipe_of_the_format_loads_to_the_saw_it_describes(file: Path) -> None:
    file.write_text(GOOD)
    recipe = load_recipe(file)
    saw = recipe.saw
    assert recipe.source == file
    assert recipe.warnings == ()
    assert (saw.name, saw.kind, saw.cut, saw.wood) == ("Netloft panel saw", "panel", Cut.CROSSCUT, "dry hardwood")
    assert (saw.toothed_length.text, saw.plate.text, saw.gauge) == ("22 in", "0.035 in", None)
    assert saw.plate.mm == pytest.approx(0.889)
    assert (saw.points, saw.points_counted, saw.count_as) == (155, True, "8 points per inch")
    assert saw.pitch_mm == pytest.approx(25.4 / 7)
    assert (saw.rake, saw.fleam, saw.slope, saw.first_leans) == (15.0, 25.0, 0.0, Leans.AWAY)
    assert saw.set_per_side is not None
    assert saw.least_per_side is not None
    assert saw.face is not None
    assert (saw.set_per_side.text, saw.least_per_side.text, saw.bent_share) == ("0.006 in", "0.003 in", 0.4)
    assert (saw.face.text, saw.vise_jaw.text) == ("0.33 in", "14 in")
    assert (saw.order, saw.sides, saw.start, saw.file_points) == (Order.SET_FIRST, 2, End.HEEL, FilePoints.TOE)
    assert saw.dressing_passes == 1


BROKEN = [
    ("format", "format = 2", "format: 2 is out of range; allowed: 1"),
    ("format", 'format = "1"', 'format: "1" is not a whole number; allowed: 1'),
    ("name", "name = 3", "saw.name: not a text; allowed: a text of 1 to 80"),
    ("name", 'name = ""', "saw.name: empty"),
    ("name", 'name = " \\u001b\\u0007\\u202e\\t"', "saw.name: empty"),
    ("name", 'name = "\u200b\u00ad"', "saw.name: empty, or nothing that can be shown"),
    ("name", f'name = "{"n" * 81}"', "saw.name: 81 characters; allowed: a text of 1 to 80"),
    ("kind", 'kind = "pannel"', 'saw.kind: "pannel" is not known; did you mean "panel"? allowed: one of "rip"'),
    ("kind", "kind = 1", 'saw.kind: 1 is not known; allowed: one of "rip"'),
    ("cut", 'cut = "Crosscut"', 'saw.cut: "Crosscut" is not known; did you mean "crosscut"?'),
    ("toothed_length", "toothed_length = 22", "saw.toothed_length: not a text with a unit, such as"),
    ("toothed_length", 'toothed_length = "22"', 'saw.toothed_length: "22" has no unit; allowed units: mm, cm, m, in'),
    ("toothed_length", 'toothed_length = "-22 in"', 'saw.toothed_length: "-22 in" is negative'),
    ("toothed_length", 'toothed_length = "0 in"', "saw.toothed_length: 0 in is out of range; allowed: 10 mm to 3 m"),
    ("toothed_length", 'toothed_length = "4 m"', "saw.toothed_length: 4 m is out of range; allowed: 10 mm to 3 m"),
    ("toothed_length", 'toothed_length = "inf in"', 'saw.toothed_length: "inf in" is not a length'),
    ("toothed_length", 'toothed_length = "22 furlong"', 'saw.toothed_length: unknown unit "furlong"; allowed units'),
    ("plate_thickness", 'plate_thickness = "0 mm"', "saw.plate_thickness: 0 mm is out of range; allowed: 0.05 mm"),
    ("plate_thickness", "plate_gauge = 37", "saw.plate_gauge: 37 is out of range; allowed: a whole number of the Birm"),
    ("plate_thickness", "plate_gauge = 20.0", "saw.plate_gauge: 20.0 is not a whole number; allowed"),
    ("points_counted", "points_counted = 3001", "saw.points_counted: 3001 is out of range; allowed: a whole number"),
    ("points_counted", "points_counted = 1", "saw.points_counted: 1 is out of range; allowed: a whole number from 2"),
    ("points_counted", "points_counted = true", "saw.points_counted: true is not a whole number"),
    ("points_per_inch", "points_per_inch = 1", "teeth.points_per_inch: 1 is out of range; allowed: a number from 1.5"),
    ("points_per_inch", "points_per_inch = nan", "teeth.points_per_inch: nan is "),
    ("points_per_inch", "points_per_inch = inf", "teeth.points_per_inch: inf is out of range"),
    ("points_per_inch", 'points_per_inch = "8"', 'teeth.points_per_inch: "8" is not a number; allowed'),
    ("points_per_inch", "points_per_inch = true", "teeth.points_per_inch: true is not a number; allowed"),
    ("points_per_inch", "points_per_25mm = 0", "teeth.points_per_25mm: 0 is out of range; allowed: a number from 1.5"),
    ("points_per_inch", "teeth_per_inch = 0", "teeth.teeth_per_inch: 0 is out of range; allowed: a number from 0.5"),
    ("points_per_inch", 'pitch = "0 mm"', "teeth.pitch: 0 mm is out of range; allowed: 0.3 mm to 60 mm"),
    ("rake", "rake = -15.1", "teeth.rake: -15.1 is out of range; allowed: degrees from -15 to 45"),
    ("rake", "rake = 45.1", "teeth.rake: 45.1 is out of range; allowed: degrees from -15 to 45"),
    ("rake", "rake = nan", "teeth.rake: nan is "),
    ("rake", "rake = 1979-05-27", "teeth.rake: 1979-05-27 is not a number; allowed: degrees"),
    ("rake", "rake = { x = 1 }", "teeth.rake: a table is not a number; allowed: degrees"),
    ("fleam", "fleam = -0.1", "teeth.fleam: -0.1 is out of range; allowed: degrees from 0 to 45"),
    ("fleam", "fleam = 45.1", "teeth.fleam: 45.1 is out of range; allowed: degrees from 0 to 45"),
    ("slope", "slope = 31", "teeth.slope: 31 is out of range; allowed: degrees from -30 to 30"),
    ("slope", "slop = 0", 'teeth.slop: is not a known key; did you mean "slope"? allowed: points_per_inch'),
    ("first_leans", 'first_leans = "left"', 'teeth.first_leans: "left" is not known; allowed: one of "away", "toward"'),
    ("per_side", 'per_side = "6 mm"', "set.per_side: 6 mm is out of range; allowed: 0 mm to 5 mm"),
    ("per_side", 'per_side = "0.05 in"', "set.per_side: 0.05 in is more than the bent part of the tooth is long; all"),
    (
        "least_per_side",
        'least_per_side = "0.007 in"',
        "set.least_per_side: 0.007 in is more than set.per_side; allowed",
    ),
    ("bent_share", "bent_share = 0", "set.bent_share: 0 is out of range; allowed: a share above 0 and up to 1"),
    ("bent_share", "bent_share = 1.01", "set.bent_share: 1.01 is out of range; allowed: a share above 0 and up to 1"),
    ("face", 'face = ["0.3 in"]', "file.face: not a text with a unit"),
    ("order", 'order = "set frist"', 'work.order: "set frist" is not known; did you mean "set first"?'),
    ("sides", "sides = 3", "work.sides: 3 is out of range; allowed: 1 or 2"),
    ("sides", "sides = 1", "work.sides: 1 is for a saw filed square; allowed: 2, or 1 when teeth.fleam is 0"),
    ("start", 'start = "tow"', 'work.start: "tow" is not known; did you mean "toe"?'),
    ("file_points", 'file_points = "heel"', 'work.file_points: "heel" is not known; '),
    ("vise_jaw", 'vise_jaw = "9 mm"', "work.vise_jaw: 9 mm is out of range; allowed: 10 mm to 3 m"),
    ("wood", 'wood = "wet"', 'work.wood: "wet" is not known; allowed: one of "dry hardwood"'),
    ("dressing_passes", "dressing_passes = -1", "work.dressing_passes: -1 is out of range; allowed: a whole number"),
    ("dressing_passes", f"dressing_passes = 0x{'f' * 600}", "work.dressing_passes: a number of more than 15 digits is"),
    ("dressing_passes", "dressing = 1", 'work.dressing: is not a known key; did you mean "dressing_passes"?'),
    ("wood", '"[/]\\u001b[2J" = 1', "work.[/][2J: is not a known key;"),
]


@pytest.mark.parametrize(
    ("key", "line", "wanted"), BROKEN, ids=[f"{key}-{number}" for number, (key, _, _) in enumerate(BROKEN)]
)
def test_a_broken_rule_names_file_line_key_and_what_is_allowed(file: Path, key: str, line: str, wanted: str) -> None:
    text, number = changed(key, line)
    [error] = errors_of(file, text)
    assert error.startswith(f"{file}:{number}: {wanted}")
    assert "allowed" in error or "zero or more" in error


@pytest.mark.parametrize(
    ("key", "line_of_its_table", "wanted"),
    [
        ("format", 1, "format: is missing; write 1"),
        ("name", 3, "saw.name: is missing; write a text"),
        ("kind", 3, "saw.kind: is missing; write one of"),
        ("cut", 3, "saw.cut: is missing; write one of"),
        ("toothed_length", 3, "saw.toothed_length: is missing; write a length"),
        (
            "plate_thickness",
            3,
            "saw: lacks plate_thickness or one in its place; allowed: exactly one of plate_thickness, ",
        ),
        ("points_per_inch", 11, "teeth: lacks points_per_inch or one in its place; allowed: exactly one of points_per"),
        ("rake", 11, "teeth.rake: is missing; write degrees"),
    ],
)
def test_a_missing_key_names_the_line_of_its_table(file: Path, key: str, line_of_its_table: int, wanted: str) -> None:
    text, _ = changed(key, None)
    if key == "format":
        line_of_its_table = 1
    [error] = errors_of(file, text)
    assert error.startswith(f"{file}:{line_of_its_table}: {wanted}")


@pytest.mark.parametrize(
    "key",
    [
        *("points_counted", "fleam", "slope", "first_leans", "per_side", "least_per_side", "bent_share", "face"),
        *("order", "sides", "start", "file_points", "vise_jaw", "wood", "dressing_passes"),
    ],
)
def test_other_keys_may_be_left_out(file: Path, key: str) -> None:
    file.write_text(changed(key, None)[0])
    assert load_recipe(file).saw.points == 155


@pytest.mark.parametrize(
    ("extra", "wanted"),
    [
        ("plate_gauge = 20", "saw.plate_gauge: cannot stand beside plate_thickness"),
        ("teeth_per_inch = 7", "teeth.teeth_per_inch: cannot stand beside points_per_inch"),
        ("points_per_25mm = 8", "teeth.points_per_25mm: cannot stand beside points_per_inch"),
        ('pitch = "3.6 mm"', "teeth.pitch: cannot stand beside points_per_inch"),
    ],
)
def test_two_ways_to_say_one_thing_name_the_second(file: Path, extra: str, wanted: str) -> None:
    after = "plate_thickness" if "gauge" in extra else "points_per_inch"
    kept = next(line for line in GOOD.split("\n") if line.startswith(after))
    text, number = changed(after, f"{kept}\n{extra}")
    [error] = errors_of(file, text)
    assert error.startswith(f"{file}:{number + 1}: {wanted}; allowed: exactly one of ")


def test_all_errors_are_told_at_once_in_the_order_of_the_file(file: Path) -> None:
    text = GOOD
    for key, line in [("kind", 'kind = "x"'), ("rake", "rake = 99"), ("sides", "sides = 1"), ("wood", "wood = 1")]:
        old = next(old for old in text.split("\n") if old.startswith(f"{key} ="))
        text = text.replace(old, line)
    errors = errors_of(file, text + "extra = 1\n")
    assert [error.split(": ")[0].rsplit(":", 1)[1] for error in errors] == ["5", "13", "28", "32", "34"]
    assert [error.split(": ")[1] for error in errors] == [
        "saw.kind",
        "teeth.rake",
        "work.sides",
        "work.wood",
        "work.extra",
    ]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("format = 1\nsaw = 3\n", "2: saw: 3 is not a table; allowed: a table [saw]"),
        ("format = 1\n[[saw]]\nname = 'x'\n", "2: saw: a list is not a table; allowed: a table [saw]"),
        ("format = 1\n", "1: saw: is missing; write a table [saw]"),
        (
            "format = 1\n[sow]\n",
            '2: sow: is not a known key; did you mean "saw"? allowed: format, saw, teeth, set, file, work',
        ),
    ],
)
def test_tables_that_are_not_tables(file: Path, text: str, wanted: str) -> None:
    assert any(error.startswith(f"{file}:{wanted}") for error in errors_of(file, text))


def test_too_many_and_too_few_points_are_laid_to_the_count(file: Path) -> None:
    text, number = changed("points_per_inch", "points_per_inch = 80")
    text = text.replace('"22 in"', '"2 m"').replace("points_counted = 155\n", "")
    [error] = [error for error in errors_of(file, text) if "per_side" not in error]
    assert error.startswith(f"{file}:{number - 1}: teeth.points_per_inch: does not go with saw.toothed_length: ")
    assert "3000" in error
    text, number = changed("points_per_inch", 'pitch = "50 mm"')
    [error] = errors_of(file, text.replace('"22 in"', '"20 mm"'))
    assert f":{number}: teeth.pitch: does not go with saw.toothed_length: " in error


def test_a_jaw_must_hold_a_tooth(file: Path) -> None:
    text, number = changed("vise_jaw", 'vise_jaw = "11 mm"')
    [error] = errors_of(file, text.replace("points_per_inch = 8", 'pitch = "12 mm"'))
    assert error.startswith(f"{file}:{number}: work.vise_jaw: 11 mm is shorter than one pitch; allowed: 12 mm or more")


def test_angles_that_leave_no_tooth(file: Path) -> None:
    text = (
        GOOD.replace("fleam = 25.0", "fleam = 45")
        .replace("slope = 0.0", "slope = -30")
        .replace("rake = 15.0", "rake = -15")
    )
    [error] = errors_of(file, text)
    assert f"{file}:15: teeth.slope: " in error


def test_one_side_is_allowed_for_a_saw_filed_square(file: Path) -> None:
    file.write_text(GOOD.replace("fleam = 25.0", "fleam = 0").replace("sides = 2", "sides = 1"))
    assert load_recipe(file).saw.sides == 1
    file.write_text(GOOD.replace("fleam = 25.0\n", "").replace("sides = 2", "sides = 1"))
    assert load_recipe(file).saw.sides == 1


@pytest.mark.parametrize(
    ("line", "pitch_mm", "count_as"),
    [
        ("points_per_inch = 5.5", 25.4 / 4.5, "5.5 points per inch"),
        ("teeth_per_inch = 7", 25.4 / 7, "7 teeth per inch"),
        ("points_per_25mm = 8", 25.0 / 7, "8 points per 25 mm"),
        ('pitch = "3.6 mm"', 3.6, "pitch 3.6 mm"),
    ],
)
def test_the_four_counts(file: Path, line: str, pitch_mm: float, count_as: str) -> None:
    file.write_text(changed("points_per_inch", line)[0].replace("points_counted = 155\n", ""))
    saw = load_recipe(file).saw
    assert saw.pitch_mm == pytest.approx(pitch_mm)
    assert saw.count_as == count_as
    assert saw.points == round(22 * 25.4 / pitch_mm) + 1
    assert not saw.points_counted


def test_a_gauge_gives_the_plate_in_the_owners_unit(file: Path) -> None:
    file.write_text(changed("plate_thickness", "plate_gauge = 20")[0])
    saw = load_recipe(file).saw
    assert (saw.gauge, saw.plate.text) == (20, "0.035 in")
    file.write_text(changed("plate_thickness", "plate_gauge = 20")[0].replace('"22 in"', '"560 mm"'))
    saw = load_recipe(file).saw
    assert saw.plate.text == "0.89 mm"
    assert saw.plate.mm == pytest.approx(0.889)


@pytest.mark.parametrize(
    ("key", "line", "words"),
    [
        ("face", 'face = "0.12 in"', ("file.face: 0.12 in", "ridge")),
        ("bent_share", "bent_share = 0.6", ("set: ", "60%", "ROSS", "MTS", "SHOP")),
        ("per_side", 'per_side = "0.031 in"', ("set: ", "0.031 in", "0.030 in", "FSMAN")),
        ("points_counted", "points_counted = 130", ("saw.points_counted: 130", "155")),
        ("plate_thickness", 'plate_thickness = "0.35 in"', ("teeth: A plate of 0.350 in is thicker", "HOLTZ p. 699")),
    ],
)
def test_the_unusual_is_a_warning_and_not_an_error(file: Path, key: str, line: str, words: tuple[str, ...]) -> None:
    file.write_text(changed(key, line)[0])
    told = [warning for warning in load_recipe(file).warnings if all(word in warning for word in words)]
    assert len(told) == 1


def test_the_limit_of_the_set_never_reads_as_what_was_asked_for(file: Path) -> None:
    file.write_text(changed("bent_share", "bent_share = 0.0585")[0])
    (error,) = errors_of(file, file.read_text())
    assert "set.per_side: 0.006 in is more than the bent part" in error
    limit = float(error.partition("allowed: under ")[2].removesuffix(" in"))
    assert 0.0059 < limit < 0.006


@pytest.mark.parametrize("line", ["points_counted = 150", "points_counted = 160"])
def test_a_count_that_differs_a_little_needs_no_word(file: Path, line: str) -> None:
    file.write_text(changed("points_counted", line)[0])
    assert load_recipe(file).warnings == ()


def test_text_is_cleaned_and_markup_kept_as_it_is(file: Path) -> None:
    file.write_text(changed("name", 'name = "[/] [@click=app.quit]go\\u001b[31m  x\\ty\\u202e"')[0])
    assert load_recipe(file).saw.name == "[/] [@click=app.quit]go[31m x y"
