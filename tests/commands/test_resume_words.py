"""`resume` when nothing can be gone on with: what is there all the same is named, with the reason."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from session.cli import main
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.till.till_folder import Till
from session.walk import acts
from session.walk.work_plan import make_plan


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A log with one mark in a till."""
    recipe = load_recipe(supplied_folder("recipes") / "sash.toml")
    clock = SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=UTC))
    sitting = Sitting.start(Till(tmp_path).log_folder("a-saw"), recipe, make_plan(recipe.saw), clock)
    sitting.make(acts.acknowledge(sitting.state, clock.now()))
    sitting.close()
    return sitting.journal.path


def test_an_edited_log_is_named_with_its_reason(tmp_path: Path, log: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log.write_bytes(log.read_bytes().replace(b"acknowledged", b"done"))
    assert main(["--till", str(tmp_path), "resume", "--plain"]) == 2
    told = capsys.readouterr().err
    assert told.startswith("toothline: no sharpening was interrupted; begin one: toothline start RECIPE; not finished,")
    assert f"for reading only: {log.name} (" in told
    assert "(byte " in told


def test_a_till_without_logs_names_none(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--till", str(tmp_path), "resume", "--plain"]) == 2
    assert capsys.readouterr().err == "toothline: no sharpening was interrupted; begin one: toothline start RECIPE\n"
