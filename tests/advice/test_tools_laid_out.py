"""One page before the start: what is laid out for this saw, and what can be done without."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from made_saws import panel_saw
from session.advice.own_files import own_files
from session.advice.tools_needed import TOOLS, laid_out
from session.cli import main
from session.trade.file_choice import FileOwned
from session.trade.lengths import parse_length
from session.trade.saw import Saw
from session.walk.stages import Stage

ALL = tuple(Stage)


def saw_to_file(**changes: Any) -> Saw:
    return panel_saw(**{"fleam": 25.0, "set_per_side": parse_length("0.006 in"), **changes})


def names(**changes: object) -> list[str]:
    return [one.name for one in laid_out(saw_to_file(**changes), ALL, ())]


def test_a_crosscut_wants_everything_and_a_rip_neither_fleam_guide_nor_needle() -> None:
    assert names() == list(TOOLS)
    assert names(fleam=0.0) == [name for name in TOOLS if name not in ("fleam guide", "needle")]


def test_what_no_stage_wants_is_not_laid_out() -> None:
    kept = [one.name for one in laid_out(saw_to_file(), {Stage.FILE}, ())]
    assert not {"level file", "saw set", "stone", "needle", "board"} & set(kept)
    assert kept[-1] == "rag", "the plate is wiped whatever was done"


def test_sizes_are_those_of_the_saw_and_the_file_is_ones_own() -> None:
    saw = saw_to_file()
    mine = own_files([FileOwned("6 in slim", parse_length("0.33 in"))], saw, 600)
    words = {one.name: one.words for one in laid_out(saw, ALL, mine)}
    assert "Yours: 6 in slim" in words["file"]
    assert f"Rake {saw.rake:g}°" in words["guide block"]
    assert f"Fleam {saw.fleam:g}°" in words["fleam guide"]
    assert str(saw.set_per_side) in words["saw set"]


@pytest.mark.parametrize("name", TOOLS)
def test_of_each_missing_thing_it_is_said_what_can_be_done(name: str) -> None:
    there = {one.name: one for one in laid_out(saw_to_file(), ALL, ())}
    without = {one.name: one for one in laid_out(saw_to_file(), ALL, (), {name})}
    assert without[name].missing
    assert without[name].words != there[name].words
    assert [one for other, one in without.items() if other != name] == [
        one for other, one in there.items() if other != name
    ]


def test_the_page_of_the_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "400")
    assert main(["--till", str(tmp_path), "plan", "crosscut-panel", "--tools", "--without", "saw set"]) == 0
    told = capsys.readouterr().out
    assert "MISSING saw set" in told
    assert "Leave the set as it is" in told
    assert "strokes" in told
    assert "(toothline templates)" in told
    assert main(["--till", str(tmp_path), "plan", "crosscut-panel", "--tools", "--without", "hammer"]) == 2
    assert "allowed: file, level file" in capsys.readouterr().err
