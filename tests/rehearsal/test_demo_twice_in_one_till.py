"""The unattended demo twice in one till: what the first sharpening taught is what the second begins from."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from own_plan import keep_plan
from session.cli import main
from session.desk.desk import Desk
from session.files.settings import Settings
from session.files.supplied import supplied_folder
from session.machine.clock import SetClock
from session.rehearsal.unattended import play
from session.sentences.offers import Act
from session.till.known_saws import KnownSaw
from session.till.learned_bite import bite_of, known_bites
from session.till.past_sharpening import Sharpening
from session.till.saw_history import history
from session.till.till_folder import Till
from session.till.till_list import begin
from session.walk.front_question import Ask
from session.walk.stages import Stage

NAME = "Netloft panel saw"
SLUG = "netloft-panel-saw"

#: Simulated filers that grade the flats and do not reshape, so that what they count teaches a bite.
SEEDS = (4, 6)


@pytest.fixture
def recipe(tmp_path: Path) -> Path:
    """The demo's usual saw, cut down to a few teeth: the demo drives the real screen, and that takes its time."""
    text = (supplied_folder("demo") / f"{SLUG}.toml").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith(("toothed_length", "points_counted"))]
    at = lines.index("[saw]") + 1
    short = [*lines[:at], 'toothed_length = "3 in"', *lines[at:]]
    path = tmp_path / "short.toml"
    path.write_text("\n".join(short) + "\n", encoding="utf-8")
    return path


def plan(till: Till, recipe: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    capsys.readouterr()
    assert main(["--till", str(till.path), "plan", str(recipe), "--json"]) == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    return told


def finished(till: Till) -> tuple[Sharpening, ...]:
    return history([till], KnownSaw(SLUG, NAME)).finished


def first_gullet(till: Till, recipe: Path) -> tuple[str, ...]:
    """What stands beside the first gullet to be filed of a third sharpening, its flats graded as small."""
    clock = SetClock(datetime(2026, 6, 1, 9, 0, tzinfo=UTC))
    sitting = begin(till, recipe, clock, Settings())
    hands = Desk(keep_plan(sitting), bites=lambda: known_bites(till, NAME))
    for _ in range(400):
        clock.pass_s(4)
        now, state = sitting.state.front, sitting.state
        place = now.place
        if now.ask is Ask.WORK and place is not None and place.stage is Stage.FILE:
            sitting.close()
            return hands.moment.said.lines
        if now.ask.holds:
            hands.act(Act.AGREE)
        elif now.ask is Ask.WORK and place is not None and place.stage is Stage.LEVEL and place.step:
            hands.act(Act.STROKES, 1 if state.flats else 3)
        elif now.ask is Ask.WORK and place is not None and place.stage is Stage.LEVEL and place.tooth:
            hands.act(Act.STROKES, 2)
        else:
            hands.act(Act.DONE)
    raise AssertionError("the first gullet never came")


@pytest.mark.wide
def test_the_second_plan_rests_on_the_records_of_the_first(
    tmp_path: Path, recipe: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    till = Till(tmp_path / "till")
    plans = [plan(till, recipe, capsys)]
    for seed in SEEDS:
        stages = list[str]()
        play(till, seed=seed, recipe_file=recipe, begun=stages.append)
        # Whoever waits is told each stage and side as it begins, to the last.
        assert (stages[0], stages[-1]) == (Stage.LOOK_OVER, Stage.CLOSE)
        assert {"file, side 1", "file, side 2"} <= set(stages)
        plans.append(plan(till, recipe, capsys))
    bites = [bite_of(one) for one in finished(till)]
    assert all(bite.learned for bite in bites)
    # A finished log tells it in its last block.
    assert [one.summary.bite for one in finished(till)] == bites

    sources = [told["why"]["strokes_total"]["source"] for told in plans]
    assert sources == ["derived; from memory", *["derived; your records"] * 2]
    assert f"learned from {bites[0].gullets} gullets" in plans[1]["why"]["strokes_total"]["formula"]
    assert f"learned from {bites[0].gullets + bites[1].gullets} gullets" in plans[2]["why"]["strokes_total"]["formula"]
    assert plans[0]["minutes_expected"] is None
    assert all(told["minutes_expected"] > 0 for told in plans[1:])
    # The flats of an eye's grades and a bite of whole strokes give back what was counted, to a third.
    counted = finished(till)[0].summary.strokes["file"]
    assert plans[1]["strokes_total"] == pytest.approx(counted, rel=1 / 3)

    [line] = [line for line in first_gullet(till, recipe) if line.startswith("Expect ")]
    assert line.endswith(f" by the records of {bites[0].gullets + bites[1].gullets} gullets.")
