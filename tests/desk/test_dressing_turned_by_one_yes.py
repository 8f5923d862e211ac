"""A saw that lies flat is turned over by one yes; where a tooth has to be found, finding it is asked besides."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from as_asked import as_asked
from made_saws import small_saw
from session.desk.desk import Desk
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.stages import Stage
from session.walk.work_plan import make_plan


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    saw, clock = small_saw(12, 3.0), SetClock(datetime(2026, 11, 27, 9, tzinfo=UTC))
    header = {"session": {"started": clock.now(), "saw": saw.name}}
    with Journal.create(tmp_path, header, started=clock.now()) as journal:
        yield Desk(Sitting(saw, make_plan(saw), journal, clock), guard_s=0.0, idle_s=9e9)


def turn_in(desk: Desk, stage: Stage) -> None:
    """Go on to the first turn of ``stage``."""
    sitting = desk.sitting
    while (now := sitting.state.front).ask is not Ask.TURN or now.place is None or now.place.stage is not stage:
        sitting.make(as_asked(sitting.state, sitting.clock.now()))


def asked(desk: Desk) -> Ask:
    """What is asked now."""
    return desk.sitting.state.front.ask


def test_turned_over_for_dressing_it_is_worked_at_once(desk: Desk) -> None:
    turn_in(desk, Stage.DRESS)
    side = desk.sitting.state.front.side
    assert f"It lies flat again: side {side} up, teeth away from you." in desk.moment.said.lines
    assert desk.act(Act.AGREE).note == f"Turned. Side {side} is in hand."
    assert asked(desk) is Ask.WORK
    assert [mark.did for mark in desk.sitting.state.marks][-2:] == [Did.ACKNOWLEDGED, Did.TURNED]
    # Taken back, the turn is asked for again, and one yes makes it.
    assert not desk.act(Act.TAKE_BACK).refused
    assert asked(desk) is Ask.TURN
    assert desk.moment.said.instruction.startswith(f"Lay the saw flat on the bench, side {side} up")
    assert desk.act(Act.AGREE).note == f"Turned. Side {side} is in hand."


def test_turned_for_setting_the_first_tooth_is_still_found(desk: Desk) -> None:
    turn_in(desk, Stage.SET)
    assert desk.act(Act.AGREE).note == "Done: saw."
    assert asked(desk) is Ask.TURN
    assert desk.moment.said.instruction.startswith("Find tooth ")
