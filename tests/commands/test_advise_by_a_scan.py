"""`advise` takes from the newest scan what nobody looked at, says so with its age, and believes a look before it."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from session.advice.measured_looks import MeasuredLooks
from session.advice.seen_by_scan import seen_by_scan
from session.cli import main
from session.files.recipe import load_recipe
from session.files.scanned_file import KeptScan
from session.files.supplied import find_recipe
from session.till.kept_scans import write_scan
from session.till.known_saws import saw_named
from session.till.till_folder import Till
from session.trade.lengths import Length
from session.trade.observation import Look, Seen
from session.trade.scanned_line import ToothState, line_of_teeth
from session.trade.seen_words import LineShape, Sizes
from told_line import told_line

ODD = {12: (ToothState.LOW, 0.2), 40: (ToothState.BROKEN, 1.5), 41: (ToothState.NOT_SEEN, 0.0)}
SAW = load_recipe(find_recipe("crosscut-panel", [])).saw
LINE = told_line(SAW.points, SAW.pitch_mm, ODD, gap_mm=0.3)
AT = datetime(2026, 11, 23, 9, 0, tzinfo=UTC)


def advised(folder: Path, capsys: pytest.CaptureFixture[str], *more: str) -> str:
    assert main(["--till", str(folder), "advise", "crosscut-panel", *more]) == 0
    return capsys.readouterr().out


def test_the_command_takes_the_newest_scan_and_says_its_age(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    without: dict[str, Any] = json.loads(advised(tmp_path, capsys, "--json"))
    assert without["scan"] is None
    assert "broken" not in json.dumps(without["work"])
    three_days_ago = datetime.now(UTC) - timedelta(days=3)
    kept = KeptScan(at=three_days_ago, saw=SAW.name, line=LINE)
    write_scan(Till(tmp_path), saw_named(Till(tmp_path), SAW.name), kept)
    told: dict[str, Any] = json.loads(advised(tmp_path, capsys, "--json"))
    assert told["scan"]["taken"]["low"] == "low 12"
    assert "Leave tooth 40 alone: broken" in told["work"][0]["reason"]
    words = " ".join(advised(tmp_path, capsys).split())
    assert f"By the scan of {three_days_ago:%Y-%m-%d %H:%M}, 3 days ago: {SAW.points} points in the line" in words
    assert "line crowned, by 0.30 ± 0.02 mm" in words
    assert f"The scan did not see these teeth: 41 at {40 * SAW.pitch_mm:.1f} mm." in words
    seen = tmp_path / "seen.toml"
    seen.write_text("low = [7]\n", encoding="utf-8")
    other: dict[str, Any] = json.loads(advised(tmp_path, capsys, "--json", "--seen", str(seen)))
    assert "low" not in other["scan"]["taken"], "what was looked at holds"


def test_all_that_a_scan_tells_is_seen_and_a_look_is_believed_before_it() -> None:
    scanned = MeasuredLooks(AT, LINE)
    found = seen_by_scan(Seen(), scanned, SAW, AT.date())
    assert found.seen == Seen(
        points_in_line=SAW.points,
        broken=(40,),
        high=(),
        low=(12,),
        sizes=Sizes.EVEN,
        line=LineShape.CROWNED,
        line_gap=Length.of(0.3, "mm"),
    )
    mine = Seen(low=(7,), line=LineShape.HOLLOW)
    kept = seen_by_scan(mine, scanned, SAW, AT.date())
    assert (kept.seen.low, kept.seen.line, kept.seen.line_gap) == ((7,), LineShape.HOLLOW, None)
    assert {Look.LOW, Look.LINE, Look.LINE_GAP}.isdisjoint(kept.taken)


def test_once_the_saw_was_filed_only_count_and_broken_teeth_are_taken() -> None:
    found = seen_by_scan(Seen(), MeasuredLooks(AT, LINE, filed_since=True), SAW, AT.date())
    assert set(found.taken) == {Look.IN_LINE, Look.BROKEN}
    assert "a sharpening was finished since" in found.told[0]


def test_what_contradicts_the_recipe_is_told_by_advise_and_beside_the_rake_of_plan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    till = Till(tmp_path)
    known = saw_named(till, SAW.name)
    teeth = [
        one if one.front_deg is None else replace(one, front_deg=one.front_deg + 7.0)
        for one in told_line(SAW.points, SAW.pitch_mm).teeth
    ]
    now = datetime.now(UTC)
    steeper = line_of_teeth(teeth, 0.0, 0.02, 0.002)
    write_scan(till, known, KeptScan(at=now - timedelta(hours=2), saw=SAW.name, line=steeper))
    told: dict[str, Any] = json.loads(advised(tmp_path, capsys, "--json"))["scan"]
    assert told["taken"]
    assert any("contradicts the recipe: its fronts lean 22.0" in line for line in told["told"])
    assert main(["--till", str(tmp_path), "plan", "crosscut-panel"]) == 0
    plan = " ".join(capsys.readouterr().out.split())
    assert f"Take care: By the scan of {now - timedelta(hours=2):%Y-%m-%d}: its fronts lean 22.0 ± 0.0°" in plan
    write_scan(till, known, KeptScan(at=now, saw=SAW.name, line=told_line(SAW.points // 2, SAW.pitch_mm)))
    part: dict[str, Any] = json.loads(advised(tmp_path, capsys, "--json"))
    assert not part["stop"], "nobody counted: no stop rests on a part of the line"
    assert part["scan"]["at"] == (now - timedelta(hours=2)).isoformat(), "the one before it steps in"
    assert part["scan"]["newest_at"] == now.isoformat()
    assert part["scan"]["taken"] == told["taken"]
    assert any(
        line.startswith(f"An older one is used, of {now - timedelta(hours=2):%Y-%m-%d %H:%M}, ")
        for line in part["scan"]["told"]
    )
    assert any("lay it aside: toothline scan crosscut-panel-saw --lay-aside" in line for line in part["scan"]["told"])
