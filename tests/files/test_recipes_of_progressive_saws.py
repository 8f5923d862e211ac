"""`[[teeth.zone]]`: what a progressive line comes to, and every way to get it wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from session.files.recipe import Recipe, load_recipe, recipe_from_values
from session.machine.refusal import Refusal
from session.trade.zones import Zone

HEAD = """\
format = 1
[saw]
name = "Boat-shed long rip"
kind = "rip"
cut = "rip"
toothed_length = "700 mm"
plate_gauge = 18
[teeth]
pitch = "8 mm"
rake = 4
"""
ZONES = """\
[[teeth.zone]]
begins = "400 mm"
pitch = "5 mm"
[[teeth.zone]]
begins = "600 mm"
teeth_per_inch = 6.35
rake = -2
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "saw.toml"


def read(file: Path, text: str) -> Recipe:
    file.write_text(text, encoding="utf-8")
    return load_recipe(file)


def test_what_a_zone_does_not_say_stays_as_before_it(file: Path) -> None:
    saw = read(file, HEAD + ZONES).saw
    assert saw.zones[:2] == (Zone(400.0, 8.0, 4.0), Zone(600.0, 5.0, 4.0))
    assert saw.zones[2:] == (Zone(700.0, saw.zones[2].pitch_mm, -2.0),)
    assert saw.zones[2].pitch_mm == pytest.approx(4.0)
    assert saw.points == 50 + 40 + 25 + 1
    assert (saw.pitch_mm, saw.rake) == (8.0, 4.0)
    assert saw.from_heel_mm(saw.points) == pytest.approx(700.0)


def test_without_zones_the_line_is_plain_and_its_log_says_nothing_of_them(file: Path) -> None:
    recipe = read(file, HEAD)
    assert recipe.saw.zones == ()
    assert "zone" not in recipe.values["teeth"]


def test_a_log_gives_the_zones_back(file: Path) -> None:
    recipe = read(file, HEAD + ZONES)
    assert recipe.values["teeth"]["zone"][0] == {"begins": "400 mm", "pitch": "5 mm"}
    assert recipe_from_values(recipe.values).saw == recipe.saw


def test_a_counted_number_makes_up_the_difference_at_the_toe(file: Path) -> None:
    recipe = read(file, HEAD.replace("plate_gauge", "points_counted = 114\nplate_gauge") + ZONES)
    assert recipe.saw.points == 114
    assert recipe.saw.from_heel_mm(91) == pytest.approx(600.0)
    assert recipe.saw.from_heel_mm(114) == pytest.approx(692.0)
    assert recipe.warnings == ()


@pytest.mark.parametrize(
    ("zone", "line", "words"),
    [
        ('begins = "0 mm"\nrake = 3', 12, "teeth.zone[1].begins: 0 mm is out of range; allowed: 0.3 mm to 3 m"),
        (
            'begins = "700 mm"\nrake = 3',
            12,
            "teeth.zone[1].begins: 700 mm is out of order; allowed: between 0 mm and 700 mm",
        ),
        ("begins = 400\nrake = 3", 12, 'teeth.zone[1].begins: not a text with a unit, such as "22 in"'),
        ("rake = 3", 11, "teeth.zone[1].begins: is missing; write a length from the heel"),
        ('begins = "400 mm"', 11, "teeth.zone[1]: changes nothing; allowed: rake, or one of points_per_inch"),
        ('begins = "400 mm"\nrake = 46', 13, "teeth.zone[1].rake: 46 is out of range; allowed: degrees from -15 to 45"),
        ('begins = "400 mm"\nfleam = 3', 13, "teeth.zone[1].fleam: is not a known key"),
        (
            'begins = "400 mm"\npitch = "5 mm"\npoints_per_inch = 5',
            13,
            "teeth.zone[1].pitch: cannot stand beside points_per_inch",
        ),
        (
            'begins = "3 mm"\nrake = 3',
            11,
            "teeth.zone: with the heel as zone 1: zone 1 is shorter than its pitch of 8 mm",
        ),
        (
            'begins = "400 mm"\nrake = 1\n[[teeth.zone]]\nbegins = "300 mm"\nrake = 2',
            15,
            "teeth.zone[2].begins: 300 mm is out of order; allowed: between 400 mm and 700 mm from the heel",
        ),
    ],
)
def test_what_is_wrong_with_a_zone_is_said_with_its_line(file: Path, zone: str, line: int, words: str) -> None:
    with pytest.raises(Refusal) as told:
        read(file, f"{HEAD}[[teeth.zone]]\n{zone}\n")
    assert [error for error in told.value.lines if f":{line}: {words}" in error], told.value.lines


def test_every_zone_must_leave_a_tooth_and_a_bend(file: Path) -> None:
    more = 'fleam = 45\nslope = -30\n[[teeth.zone]]\nbegins = "400 mm"\nrake = -15\n'
    with pytest.raises(Refusal) as told:
        read(file, HEAD + more)
    assert any("teeth.zone[1]: " in error for error in told.value.lines), told.value.lines
    fine = '[[teeth.zone]]\nbegins = "400 mm"\npitch = "1 mm"\n[set]\nper_side = "0.5 mm"\n'
    with pytest.raises(Refusal, match=r"set.per_side: 0.5 mm is more than the bent part .* in zone 1; allowed"):
        read(file, HEAD + fine)


def test_the_vise_has_to_hold_one_of_the_coarsest_teeth(file: Path) -> None:
    text = HEAD.replace('"8 mm"', '"5 mm"') + '[[teeth.zone]]\nbegins = "400 mm"\npitch = "12 mm"\n[work]\n'
    with pytest.raises(Refusal, match=r"work.vise_jaw: 10 mm is shorter than one pitch; allowed: 12 mm or more"):
        read(file, text + 'vise_jaw = "10 mm"\n')


def test_too_many_zones_and_zones_that_are_no_tables(file: Path) -> None:
    many = "".join(f'[[teeth.zone]]\nbegins = "{50 * n} mm"\nrake = {n % 3}\n' for n in range(1, 14))
    with pytest.raises(Refusal, match=r"teeth.zone: a list is too long; allowed: up to 12 tables"):
        read(file, HEAD + many)
    with pytest.raises(Refusal, match=r"teeth.zone: 3 is not a list"):
        read(file, HEAD + "zone = 3\n")
    with pytest.raises(Refusal, match=r"teeth.zone\[1\]: 3 is not a table"):
        read(file, HEAD + "zone = [3]\n")
