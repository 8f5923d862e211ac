"""Settings: a slip costs only its own setting, and is told with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from session.files.settings import MOST_COMPLAINTS, Settings, load_settings

ALL = """\
units = "mm"
guard_ms = 450
idle_s = 90
sound = true
theme = "ansi-dark"
check_spacing = 20
guidance = "bare"
numerals = 5
corner_teeth = 450

[keys]
done = ["space", "f13"]
flag = ["x"]
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "settings.toml"


def test_no_file_is_no_complaint(file: Path) -> None:
    assert load_settings(file) == (Settings(), ())


def test_the_usual_values() -> None:
    usual = Settings()
    assert (usual.guard_ms, usual.idle_s, usual.check_spacing, usual.numerals) == (300, 60, 22, 9)
    assert (usual.units, usual.guidance, usual.sound, usual.theme, dict(usual.keys)) == (
        "saw",
        "taught",
        False,
        None,
        {},
    )


def test_every_setting_is_read(file: Path) -> None:
    file.write_text(ALL)
    found, complaints = load_settings(file)
    assert complaints == ()
    assert found == Settings(
        keys={"done": ("space", "f13"), "flag": ("x",)},
        units="mm",
        guard_ms=450,
        idle_s=90,
        sound=True,
        theme="ansi-dark",
        check_spacing=20,
        guidance="bare",
        numerals=5,
        corner_teeth=450,
    )
    assert file.read_text() == ALL


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ('units = "furlongs"', 'units: "furlongs" is not known; allowed: one of "saw", "in", "mm"'),
        ("guard_ms = -1", "guard_ms: -1 is out of range; allowed: a whole number of milliseconds from 0 to 5000"),
        ("guard_ms = 300.0", "guard_ms: 300.0 is not a whole number; allowed: "),
        ("idle_s = 4", "idle_s: 4 is out of range; allowed: a whole number of seconds from 5 to 3600"),
        ("sound = 1", "sound: 1 is not true or false; allowed: true or false"),
        ('theme = ""', "theme: 0 characters; allowed: a text of 1 to 40 characters"),
        ("theme = 3", "theme: not a text; allowed: a text of 1 to 40 characters"),
        ("check_spacing = 4", "check_spacing: 4 is out of range; allowed: a whole number of places from 5 to 60"),
        ("check_spacing = 61", "check_spacing: 61 is out of range; allowed: a whole number of places from 5 to 60"),
        ('guidance = "breif"', 'guidance: "breif" is not known; did you mean "brief"? allowed: one of "taught", '),
        ("numerals = 6", "numerals: 6 is not known; allowed: 5, 7 or 9 rows"),
        ("guard = 3", 'guard: is not a known key; did you mean "guard_ms"? allowed: keys, units, guard_ms'),
        ("keys = 3", "keys: 3 is not a table; allowed: for each action a list"),
        ('[keys]\ndone = "space"', 'keys.done: "space" is not a list; allowed: for each action a list'),
        ("[keys]\ndone = []", "keys.done: a list is too short; allowed: for each action a list of 1 to 12 keys"),
        ("[keys]\ndone = [1]", "keys.done[1]: not a text; allowed: a text of 1 to 40 characters"),
        ('[keys]\nflag = [ "b" ]\ndone = [\n"b" ]', 'keys.done[1]: "b" already does "flag"; allowed: another key'),
    ],
)
def test_a_slip_is_told_with_its_line_and_costs_nothing_else(file: Path, line: str, wanted: str) -> None:
    setting = line.split(" =")[0]
    kept = "idle_s = 33\n" if setting != "idle_s" else "guard_ms = 33\n"
    file.write_text(f"{kept}\n{line}\n")
    found, complaints = load_settings(file)
    [complaint] = complaints
    assert complaint.startswith(f"{file}:{3 + line.count(chr(10))}: {wanted}")
    assert 33 in (found.idle_s, found.guard_ms)
    assert found.units == "saw"
    assert "done" not in found.keys


def test_several_slips_are_all_told_in_order(file: Path) -> None:
    file.write_text('guard_ms = "x"\nidle_s = 70\n[keys]\nflag = [3]\ndone = ["z"]\n')
    found, complaints = load_settings(file)
    assert [complaint.split(":")[1] for complaint in complaints] == ["1", "4"]
    assert (found.guard_ms, found.idle_s, dict(found.keys)) == (300, 70, {"done": ("z",)})


@pytest.mark.parametrize("data", [b"", b"\xff\xfe", b"= 1", b"\xef\xbb\xbfidle_s = 9", b"x = " + b"[" * 1900])
def test_an_unreadable_file_gives_the_usual_values_and_one_line(file: Path, data: bytes) -> None:
    file.write_bytes(data)
    found, complaints = load_settings(file)
    assert found == Settings()
    assert len(complaints) == 1
    assert complaints[0].startswith(str(file))
    assert file.read_bytes() == data


def test_a_folder_a_device_and_a_dangling_link(tmp_path: Path) -> None:
    (tmp_path / "dangling").symlink_to("absent")
    for path in (tmp_path, Path("/dev/zero"), tmp_path / "dangling", tmp_path / "n" / ("x" * 300)):
        found, complaints = load_settings(path)
        assert found == Settings()
        assert len(complaints) == (0 if path.parent.name == "n" else 1)


def test_many_complaints_are_counted(file: Path) -> None:
    file.write_text("".join(f"k{number} = 1\n" for number in range(100)))
    _, complaints = load_settings(file)
    assert len(complaints) == MOST_COMPLAINTS + 1
    assert complaints[-1] == f"{file}: and {100 - MOST_COMPLAINTS} more"
