"""A sitting: the saw as counted and in the units settled on, and marks that are refused."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from as_asked import as_asked
from session.files.recipe import load_recipe
from session.files.supplied import supplied_folder
from session.log.log_bytes import make_header
from session.log.log_reader import read_log
from session.log.sitting import NotNow, Sitting
from session.machine.clock import SetClock
from session.machine.refusal import Refusal
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.work_plan import make_plan

BEGUN = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)


@pytest.fixture
def clock() -> SetClock:
    return SetClock(BEGUN)


@pytest.fixture
def sitting(tmp_path: Path, clock: SetClock) -> Iterator[Sitting]:
    recipe = load_recipe(supplied_folder("recipes") / "crosscut-panel.toml")
    sitting = Sitting.start(tmp_path / "logs" / "panel", recipe, make_plan(recipe.saw), clock)
    yield sitting
    sitting.close()


def past_the_cautions(sitting: Sitting) -> None:
    while sitting.state.front.ask is Ask.CAUTION:
        sitting.make(acts.acknowledge(sitting.state, sitting.clock.now()))


def test_lengths_are_shown_in_the_unit_of_the_recipe_until_another_is_settled_on(sitting: Sitting) -> None:
    assert sitting.saw.from_heel(8) == "1 in"
    sitting.units = "mm"
    assert sitting.saw.from_heel(8) == "25.5 mm"
    assert sitting.saw.toothed_length.mm == pytest.approx(22 * 25.4)
    sitting.units = "in"
    assert sitting.saw.from_heel(8) == "1 in"


def test_points_counted_on_the_saw_make_the_line_and_the_log_keeps_the_plan(sitting: Sitting) -> None:
    past_the_cautions(sitting)
    sitting.make(acts.measure(sitting.state, BEGUN, "points", 157, unit="in the line", entered="157"))
    assert sitting.saw.points == 157
    assert sitting.saw.points_counted
    assert sitting.plan.points == 155
    assert read_log(sitting.journal.path).header["plan"]["points"] == 155


def test_a_refused_mark_is_not_written(sitting: Sitting) -> None:
    before = sitting.journal.path.read_bytes()
    with pytest.raises(NotNow, match="a caution has to be acknowledged first"):
        sitting.make(acts.done(sitting.state, BEGUN))
    assert sitting.journal.path.read_bytes() == before
    assert sitting.state.marks == ()


def test_resuming_says_how_long_the_work_rested_and_has_the_place_confirmed(sitting: Sitting, clock: SetClock) -> None:
    past_the_cautions(sitting)
    path = sitting.journal.path
    sitting.close()
    clock.pass_s(3600)
    again = Sitting.resume(path, clock)
    try:
        last = again.state.marks[-1]
        assert (last.did, last.what, last.value, last.unit) == (Did.RESUMED, "restart", 3600.0, "s")
        assert again.state.front.ask is Ask.CONFIRM
        assert again.saw == sitting.saw
    finally:
        again.close()


@pytest.mark.parametrize(
    ("wrong", "reason"),
    [
        ({"plan": None}, "holds no recipe or no plan"),
        ({"recipe": None}, "holds no recipe or no plan"),
        ({"plan": {"points": -5}}, "the plan has no sides"),
        ({"recipe": {"saw": {}}}, "the log's recipe"),
    ],
)
def test_a_sealed_log_that_makes_no_walk_is_only_to_be_looked_at(
    wrong: dict[str, Any], reason: str, sitting: Sitting, clock: SetClock, tmp_path: Path
) -> None:
    header = {name: value for name, value in sitting.journal.header.items() if name != "seal"} | wrong
    path = tmp_path / "log.toml"
    path.write_bytes(make_header({name: value for name, value in header.items() if value is not None}))
    before = path.read_bytes()
    with pytest.raises(Refusal, match=f"{reason}.*; it can be looked at, not gone on with") as refused:
        Sitting.resume(path, clock)
    assert "\n" not in str(refused.value)
    assert path.read_bytes() == before
    # Nothing holds it any longer.
    assert not path.with_name("log.toml.lock").exists()


def test_a_finished_log_ends_with_its_summary(sitting: Sitting) -> None:
    while not sitting.state.finished:
        sitting.make(as_asked(sitting.state, BEGUN))
    last = read_log(sitting.journal.path).marks[-1]
    assert last.did is Did.FINISHED
    assert last.extra["summary"]["done"]["file"] == 155
