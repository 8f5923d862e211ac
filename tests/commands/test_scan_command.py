"""`toothline scan`: what it prints, as words and as JSON, and how it refuses."""

from __future__ import annotations

import json
import os
import sys
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from unittest.mock import patch

import pytest

from called_here import call_here
from known_line import even_line, faulty
from made_rule import rule_picture
from made_scan import Optics, as_file, scan
from session.commands.output.scan_words import tones_in_words
from session.files.recipe import load_recipe
from session.files.scanned_file import KeptScan, read_scan
from session.files.scanner_file import read_scanner
from session.files.supplied import find_recipe
from session.till.kept_scans import write_scan
from session.till.known_saws import saw_named
from session.till.till_folder import Till
from session.trade.scan_tones import TakenTones, Tones, TonesBy
from session.trade.scanned_line import ToothState
from told_line import told_line

ENVIRONMENT = {"PATH": "/usr/bin", "TOOTHLINE_TILL": "till"}


@cache
def drawn() -> bytes:
    """A scan of twelve coarse teeth, the fifth of them low."""
    import random
    from dataclasses import replace

    line = even_line(25.4 / 4, 12, flat=0.2)
    teeth = list(line.teeth)
    teeth[4] = faulty(teeth[4], "low", random.Random(2), line.depth)
    optics = Optics(dpi=300)
    return as_file(scan(replace(line, teeth=tuple(teeth)), optics)[0], optics)


def called(folder: Path, *arguments: str) -> tuple[int, str, str]:
    """Status, what was printed and what was complained of."""
    (folder / "line.png").write_bytes(drawn())
    done = call_here(folder, "scan", *arguments, environment=ENVIRONMENT)
    return done.returncode, done.stdout.decode(), done.stderr.decode()


def test_as_json(tmp_path: Path) -> None:
    code, out, error = called(tmp_path, "crosscut-panel", "line.png", "--json", "--no-keep")
    assert (code, error) == (0, "")
    told = json.loads(out)
    assert told["dots_per_mm"] == pytest.approx([300 / 25.4] * 2, rel=1e-3)
    assert (told["heel"], told["count"], told["line"]) == ("left", 12, "straight")
    assert told["pitch_mm"] == pytest.approx(25.4 / 4, abs=0.02)
    assert {"line_gap_mm", "height_spread_mm", "spacing_error_mm"} <= set(told)
    fifth = told["teeth"][4]
    assert (fifth["tooth"], fifth["state"]) == (5, "low")
    assert fifth["a_mm"] == fifth["b_mm"]
    assert 0.1 < fifth["height_mm"] < 0.35
    whole = told["teeth"][7]
    assert whole["state"] == "whole"
    assert whole["b_mm"] - whole["a_mm"] == pytest.approx(0.2, abs=0.06)
    assert {"front_deg", "back_deg", "gullet_mm", "depth_mm", "se_mm"} <= set(whole)


def test_a_picture_of_before_is_kept_as_old_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "line.png"
    path.write_bytes(drawn())
    for saved, year in ((1_700_000_000, 2023), (0, datetime.now(UTC).year)):
        os.utime(path, (saved, saved))
        command = ("scan", "crosscut-panel", "line.png", "--keep")
        out = call_here(tmp_path, *command, environment=ENVIRONMENT).stdout.decode()
        (kept,) = [read_scan(file) for file in (tmp_path / "till/lines").rglob(f"{year}-*.toml")]
        assert kept.at.year == year
        assert (", by its pictures of 2023-11-14" in " ".join(out.split())) is (year == 2023)


def test_in_words_within_eighty_columns(tmp_path: Path) -> None:
    code, out, error = called(tmp_path, "crosscut-panel", "line.png", "--no-keep")
    assert (code, error) == (0, "")
    # A file's name is never broken.
    assert all(len(row) <= 80 for row in out.splitlines() if "till" not in row)
    assert "12 teeth, pitch 6.35" in out
    told = " ".join(out.split())
    assert "It shows 12 teeth where the recipe has 155 points, 6.35 mm apart, by the recipe 3.63 mm." in told
    assert "Low: 5." in out
    rows = [row.split() for row in out.splitlines()]
    low = next(at for at, row in enumerate(rows) if row and (row[0], row[-1]) == ("5", "low"))
    assert rows[low][2].startswith("<0."), "of a sharp point the table says under how much its flat lies"
    assert low < out.splitlines().index("Low: 5."), "what scrolls away is the rows"


def test_the_tones_are_kept_with_who_told_them(tmp_path: Path) -> None:
    # On white paper, with a shadow on one side of the teeth, edges do not tell.
    optics = Optics(dpi=600, steel=0.2, cloth=0.8, shadow=0.3)
    (tmp_path / "paper.png").write_bytes(as_file(scan(even_line(25.4 / 4, 12, flat=0.2), optics)[0], optics))
    code, out, _ = called(tmp_path, "crosscut-panel", "paper.png", "--keep", "--json")
    told = json.loads(out)
    assert (code, told["tones"], told["tones_by"], told["tones_doubt_mm"] > 0.0) == (0, "usual", "nobody", True)
    [kept] = (tmp_path / "till/lines").rglob("*.toml")
    unsure = read_scan(kept)
    assert unsure.tones is not None
    assert (unsure.tones.tones, unsure.tones.by) == (Tones.USUAL, TonesBy.NOBODY)
    assert unsure.tones.doubt_mm == pytest.approx(told["tones_doubt_mm"], abs=1e-4)
    again = json.loads(called(tmp_path, "crosscut-panel", "--json")[1])
    assert (again["tones"], again["tones_by"]) == ("usual", "nobody"), "shown again it says the same"
    code, out, _ = called(tmp_path, "crosscut-panel", "paper.png", "--tones", "usual", "--json", "--no-keep")
    sure = json.loads(out)
    assert (sure["tones"], sure["tones_by"], sure["tones_doubt_mm"]) == ("usual", "person", None)
    ses = [(one["se_flat_mm"], two["se_flat_mm"]) for one, two in zip(sure["teeth"], told["teeth"], strict=True)]
    assert all(one is None or one <= two for one, two in ses)
    assert any(one is not None and one < two for one, two in ses), "tones that are told leave less in doubt"
    code, _, error = called(tmp_path, "crosscut-panel", "line.png", "--tones", "raw")
    assert (code, "invalid choice" in error) == (2, True)


@pytest.mark.parametrize(
    ("tones", "said"),
    [
        (None, ""),
        (TakenTones(Tones.USUAL, TonesBy.FILE), ""),
        (TakenTones(Tones.USUAL, TonesBy.EDGES), ""),
        (TakenTones(Tones.LINEAR, TonesBy.PERSON), "Tones linear (raw), as --tones says."),
        (TakenTones(Tones.LINEAR, TonesBy.FILE), "Tones linear (raw), as the file says."),
        (TakenTones(Tones.OTHER, TonesBy.FILE), "Tones by a curve of the file's own, as the file says."),
        (TakenTones(Tones.LINEAR, TonesBy.EDGES), "if the scanner was set otherwise, say --tones usual."),
        (TakenTones(Tones.MIXED, TonesBy.FILE), "Take care: the pictures have unlike tones"),
        (
            TakenTones(Tones.USUAL, TonesBy.NOBODY, 0.02),
            "what is in doubt, flats to 0.02 mm, is in the ± of each tooth",
        ),
        (TakenTones(Tones.USUAL, TonesBy.NOBODY), "what is in doubt is in the ± of each tooth"),
    ],
)
def test_what_is_said_of_the_tones(tones: TakenTones | None, said: str) -> None:
    sentences = list(tones_in_words(tones))
    assert len(sentences) == bool(said)
    assert said in " ".join(sentences)
    if tones is not None and tones.by is TonesBy.NOBODY:
        assert sentences[0].endswith("Say --tones usual or --tones linear, as the scanner's program was set.")


def test_shown_again_one_that_contradicts_the_recipe_says_which_is_used(tmp_path: Path) -> None:
    till, at = Till(tmp_path / "till"), datetime(2026, 3, 9, 18, 5, tzinfo=UTC)
    name = load_recipe(find_recipe("crosscut-panel", [])).saw.name
    told: list[str] = []
    for hours, count in ((0, 155), (1, 60)):
        line = told_line(count, 3.63)
        write_scan(till, saw_named(till, name), KeptScan(at=at + timedelta(hours=hours), saw=name, line=line))
        done = call_here(tmp_path, "scan", "crosscut-panel", environment=ENVIRONMENT)
        told.append(" ".join(done.stdout.decode().split()))
    assert "An older one is used" not in told[0]
    assert "It shows 60 teeth where the recipe has 155 points" in told[1]
    assert "An older one is used, of 2026-03-09 18:05, " in told[1]


def test_a_line_older_than_the_one_kept_says_that_it_does_not_count(tmp_path: Path) -> None:
    path, told = tmp_path / "line.png", []
    path.write_bytes(drawn())
    for saved in (1_700_000_000, 1_600_000_000, 1_710_000_000):
        os.utime(path, (saved, saved))
        done = call_here(tmp_path, "scan", "crosscut-panel", "line.png", "--keep", environment=ENVIRONMENT)
        told.append("does not count, being older than the scan of 2023-11-14" in " ".join(done.stdout.decode().split()))
        assert done.returncode == 0
    assert told == [False, True, False]
    again = call_here(tmp_path, "scan", "crosscut-panel", environment=ENVIRONMENT).stdout.decode()
    assert "Scanned on 2024-03-09" in again


def test_what_was_measured_is_kept_in_the_till_unless_told_and_drawn_where_asked(tmp_path: Path) -> None:
    code, out, _ = called(tmp_path, "crosscut-panel", "line.png", "--json", "--svg", "line.svg", "--keep")
    told = json.loads(out.partition("\n")[2])
    assert code == 0
    [kept] = (tmp_path / "till" / "lines").rglob("*.toml")
    assert told["kept"].endswith(kept.name)
    line = read_scan(kept).line
    assert (line.count, line.those(ToothState.LOW)) == (12, (5,))
    assert line.pitch_mm == pytest.approx(told["pitch_mm"], abs=1e-4)
    assert line.spacing_error_mm == pytest.approx(told["spacing_error_mm"], abs=1e-4)
    assert ">L</text>" in (tmp_path / "line.svg").read_text(encoding="utf-8")
    code, _, error = called(tmp_path, "crosscut-panel", "line.png", "--svg", "line.svg")
    assert (code, "is there already" in error) == (2, True)
    code, out, _ = called(tmp_path, "crosscut-panel", "line.png", "--no-keep")
    assert (code, "Kept" in out) == (0, False)
    assert list((tmp_path / "till" / "lines").rglob("*.toml")) == [kept]


def test_a_line_that_contradicts_the_recipe_is_not_kept_unless_asked_shown_again_and_laid_aside(tmp_path: Path) -> None:
    code, out, error = called(tmp_path, "crosscut-panel", "line.png", "--json")
    assert (code, "Not kept, for it contradicts the recipe." in " ".join(error.split())) == (2, True)
    told = json.loads(out)
    assert (told["kept"], told["counts"], [one["held"] for one in told["contradictions"]]) == (None, False, [True])
    code, out, error = called(tmp_path, "crosscut-panel", "line.png")
    assert (code, "12 teeth" in out, "Not kept" in " ".join(error.split())) == (2, True, True)
    assert not (tmp_path / "till" / "lines").exists()
    called(tmp_path, "crosscut-panel", "line.png", "--keep")
    [kept] = (tmp_path / "till" / "lines").rglob("*.toml")
    code, out, error = called(tmp_path, "crosscut-panel")
    assert (code, error) == (0, "")
    assert "12 teeth, pitch 6.35" in out
    assert "Scanned on 20" in out
    code, out, _ = called(tmp_path, "crosscut-panel", "--json")
    again = json.loads(out)
    assert ("heel" in again, again["kept"].endswith(kept.name)) == (False, True)
    assert [tooth["state"] for tooth in again["teeth"]] == [tooth["state"] for tooth in told["teeth"]]
    code, out, _ = called(tmp_path, "crosscut-panel", "--lay-aside")
    assert code == 0
    assert "is laid aside; no other is kept." in " ".join(out.split())
    assert (kept.parent / "laid-aside" / kept.name).is_file()
    assert not kept.exists()
    code, _, error = called(tmp_path, "crosscut-panel")
    assert (code, "no scan of crosscut-panel-saw" in error) == (2, True)
    (kept.parent / "laid-aside" / kept.name).rename(kept)
    assert called(tmp_path, "crosscut-panel")[0] == 0, "moved back it counts again"


@pytest.mark.wide
def test_a_rule_measures_the_scanner_and_the_till_keeps_its_scale(tmp_path: Path) -> None:
    rule_picture(300 / 25.4 * 1.004, 50.0).save(tmp_path / "rule.png", dpi=(300, 300))
    code, out, error = called(tmp_path, "--calibrate", "rule.png", "--length", "50 mm")
    assert (code, error) == (0, "")
    told = " ".join(out.split())
    assert "50 spaces of 1.000 mm along the picture" in told
    assert "The other way is not measured yet: turn the rule and scan it across." in told
    scale = read_scanner(tmp_path / "till" / "scanner.toml")
    assert scale.along == pytest.approx(1.004, abs=4e-4)
    assert scale.down is None
    code, out, _ = called(tmp_path, "crosscut-panel", "line.png", "--json", "--keep")
    measured = json.loads(out)
    assert measured["pitch_mm"] == pytest.approx(25.4 / 4 / 1.004, abs=0.004)
    assert measured["scale_se"] < 0.001
    assert read_scan(next((tmp_path / "till" / "lines").rglob("*.toml"))).line.se_scale == pytest.approx(
        measured["scale_se"], abs=1e-6
    )
    code, _, error = called(tmp_path, "--calibrate", "line.png", "--length", "50 mm")
    assert (code, "no even row of ticks" in error) == (2, True)
    (tmp_path / "till" / "scanner.toml").write_text("along = 2.0\n", encoding="utf-8")
    code, _, error = called(tmp_path, "crosscut-panel", "line.png")
    assert (code, "scanner.toml:1: along" in error) == (2, True)


def test_without_its_libraries_one_sentence_says_how_to_get_them(tmp_path: Path) -> None:
    ours = {name: None for name in sys.modules if name.startswith("session.scan.")}
    with patch.dict(sys.modules, {**ours, "contourpy": None}):
        for name in ours:
            del sys.modules[name]
        code, out, error = called(tmp_path, "crosscut-panel", "line.png")
    assert (code, out) == (2, "")
    assert error == (
        "toothline: scan needs libraries for pictures that are not installed; install them by: "
        "pip install 'toothline[scan]'\n"
    )


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((), "scan needs a saw and at least one picture"),
        (("crosscut-panel",), "no scan of crosscut-panel-saw is in this till yet; scan it: toothline scan"),
        (("crosscut-panel", "--lay-aside"), "no scan of crosscut-panel-saw is in this till yet"),
        (("crosscut-panel", "line.png", "--lay-aside"), "no picture is read with it; allowed: the saw alone"),
        (("crosscut-panel", "nothing.png"), "nothing.png: there is no such file"),
        (("crosscut-panel", "line.png", "--dpi", "many"), '--dpi: "many" is no number of dots per inch'),
        (("crosscut-panel", "line.png", "--dpi", "72"), "72 dots per inch; allowed: 250 to"),
        (("crosscut-panel", "line.png", "--first", "x"), '--first: "x" is no tooth\'s number'),
        (("crosscut-panel", "line.png", "--first", "1", "9"), "2 numbers beside 1 of pictures; allowed: one for each"),
        (("no-such-saw", "line.png"), "no-such-saw"),
        (("--calibrate", "line.png"), "--length is missing: of the rule from its first tick to its last"),
    ],
)
def test_bad_usage_gets_a_sentence(arguments: tuple[str, ...], words: str, tmp_path: Path) -> None:
    code, out, error = called(tmp_path, *arguments)
    assert (code, out) == (2, "")
    assert words in error
    assert "Traceback" not in error


def test_how_to_scan_is_said(tmp_path: Path) -> None:
    code, out, _ = called(tmp_path, "--how")
    assert code == 0
    for words in ("scratch glass", "sharp", "dark cloth", "1200", "nothing of it is taken apart", "calipers"):
        assert words in " ".join(out.split())
