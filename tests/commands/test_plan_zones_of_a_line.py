"""`plan --zone`: a progressive line, zone by zone, and what `plan` says of set in print."""

from __future__ import annotations

import json
import math
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest

from session.cli import main
from session.commands.plan_steel import steel
from session.records.sharpening import Sharpening
from session.trade.lengths import Length

ZONES = ("--zone", "10 in; 4 points per inch", "--zone", "28 in; 5 points per inch; rake 3")


def test_each_zone_has_its_teeth_pitch_rake_depth_and_face(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The supplied rip saw, 28 in and rake 0, coarser at the heel as SPON prints rip saws."""
    assert main(["--till", str(tmp_path), "plan", "rip", "--json", *ZONES]) == 0
    heel, toe = json.loads(capsys.readouterr().out)["zones"]
    # 30 spaces of a third of an inch, then 72 of a quarter.
    assert (heel["first"], heel["last"], toe["first"], toe["last"]) == (1, 30, 31, 103)
    assert heel["pitch_mm"] == pytest.approx(25.4 / 3)
    assert heel["depth_mm"] == pytest.approx(25.4 / 3 * 0.57735, rel=1e-5)  # geometry.md, row rake 0
    assert heel["file_face_hard_minimum_mm"] == pytest.approx(25.4 / 3 * 1.1547, rel=1e-4)  # trade.md 3.3, rake 0
    assert (toe["rake_block_deg"], toe["rake_plate_deg"]) == (3, pytest.approx(3))
    # trade.md 7.2: depth over pitch = sin A sin B / sin 60, with A = 90 - r and B = 30 + r.
    share = math.sin(math.radians(87)) * math.sin(math.radians(33)) / math.sin(math.radians(60))
    assert toe["depth_mm"] == pytest.approx(25.4 / 4 * share)


def test_zones_are_a_table_in_the_saws_unit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--till", str(tmp_path), "plan", "rip", *ZONES]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "1–30 0.333 in 0° 0.0° 0.192 in 0.385 in 0.770 in (from memory)" in out
    assert main(["--till", str(tmp_path), "plan", "rip"]) == 0
    assert "Zones" not in capsys.readouterr().out


@pytest.mark.parametrize(
    ("zone", "says"),
    [
        ("28 in", "is not a zone; allowed: such as"),
        ("28 in; 4 ppi", "N points per inch, N teeth per inch"),
        ("28 in; x points per inch", '"x" is not a number'),
        ("28 in; 4 points per inch; 3", "is not rake and a number"),
        ("20 in; 4 points per inch", "the last zone ends at 20.000 in; allowed: 28 in"),
        ("28 in; 1 points per inch", "allowed: a finite number above 1"),
        ("28 in; nan points per inch", "allowed: a finite number above 1"),
        ("28 in; pitch 0 mm", "allowed: a finite length above 0"),
        ("28; 4 points per inch", '"28" has no unit'),
        ("28 in; 4 points per inch; rake 90", "rake 90.0; allowed: -15 to 45 degrees"),
    ],
)
def test_a_zone_that_is_none_is_one_line_of_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], zone: str, says: str
) -> None:
    assert main(["--till", str(tmp_path), "plan", "rip", "--zone", zone]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    [line] = told.err.splitlines()
    assert line.startswith("toothline: --zone: ")
    assert says in line


@pytest.mark.parametrize(("limit", "says"), [("5", "has no unit"), ("0 mm", "above 0"), ("-1 mm", "negative")])
def test_a_limit_that_is_none_is_one_line_of_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], limit: str, says: str
) -> None:
    assert main(["--till", str(tmp_path), "plan", "rip", f"--may-lose={limit}"]) == 2
    [line] = capsys.readouterr().err.splitlines()
    assert line.startswith("toothline: --may-lose: ")
    assert says in line


def test_why_lists_who_prints_how_much_set(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--till", str(tmp_path), "plan", "rip", "--why"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "two-man saws, usual 0.012 in to 0.015 in FSTOOL" in out
    assert "fine back saws 0.003 in to 0.005 in from memory" in out
    assert "a rip saw wants more than a crosscut no number KING" in out
    assert main(["--till", str(tmp_path), "plan", "rip", "--json"]) == 0
    rows = json.loads(capsys.readouterr().out)["set_in_print"]
    assert {"FSMAN", "FSTOOL", "MTS", "KING", "from memory"} <= {row["source"] for row in rows}


def test_a_sharpening_that_leveled_nothing_does_not_make_the_line_last_longer() -> None:
    records = [SimpleNamespace(off_mm=off) for off in (0.1, 0.0, None, 0.1, 0.0, 0.0)]
    told = {one.key: one for one in steel(cast("list[Sharpening]", records), Length.of(1.2))}
    assert told["line_lost_mm"].value == pytest.approx(0.2)
    assert told["sharpenings_left"].value == 10
    assert "5 of 6 records" in told["line_lost_mm"].formula
