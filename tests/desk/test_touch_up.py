"""A touch up: without a leveling pass there is no flat, and no gullet is filed until one is gone."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.work_plan import make_plan


def instructions(folder: Path, recipe: str, left_out: frozenset[Stage]) -> set[str]:
    """What is said at every gullet of a sharpening filed by the advance key."""
    found, clock = load_recipe(find_recipe(recipe, [])), SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))
    sitting = Sitting.start(folder, found, make_plan(found.saw, leave_out=left_out), clock)
    desk, said = Desk(keep_plan(sitting), guard_s=0.0, idle_s=9e9), set()
    while (place := desk.moment.place) is None or place.stage is not Stage.PROVE:
        if desk.moment.front.ask is Ask.WORK and place is not None and place.stage is Stage.FILE:
            said.add(desk.moment.said.instruction)
        clock.pass_s(1.0)
        asked = desk.moment.front.ask.holds
        assert not desk.act(Act.AGREE if asked else Act.DONE).refused
    sitting.close()
    return said


@pytest.mark.parametrize("recipe", ["carcass", "dovetail"])
def test_without_leveling_every_gullet_gets_the_same_and_none_is_filed_until_a_flat_is_gone(
    recipe: str, tmp_path: Path
) -> None:
    (said,) = instructions(tmp_path, recipe, frozenset({Stage.LEVEL, Stage.RESHAPE, Stage.SET, Stage.DRESS}))
    assert said.startswith("Light strokes, the same one or two in every gullet")
    assert "flat" not in said


def test_after_leveling_the_flats_say_when_to_stop(tmp_path: Path) -> None:
    said = instructions(tmp_path, "carcass", frozenset({Stage.RESHAPE, Stage.SET, Stage.DRESS}))
    assert said
    assert all("flat" in one for one in said)
