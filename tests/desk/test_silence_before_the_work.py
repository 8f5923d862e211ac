"""A silence that began at what comes before the work: "filed" marks nothing there, and says so."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from as_asked import as_asked
from made_saws import small_saw
from session.desk.desk import Desk
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.work_plan import make_plan


def test_filed_at_a_turn_marks_nothing_and_says_so(tmp_path: Path) -> None:
    saw, clock = small_saw(24, 3.0), SetClock(datetime(2026, 11, 25, 21, tzinfo=UTC))
    header = {"session": {"started": clock.now(), "saw": saw.name}}
    plan = make_plan(saw, leave_out=frozenset({Stage.LEVEL, Stage.SET, Stage.DRESS}))
    with Journal.create(tmp_path, header, started=clock.now()) as journal:
        desk = Desk(Sitting(saw, plan, journal, clock))
        while (now := desk.sitting.state.front).ask is not Ask.TURN or now.place is None or now.place.side != 2:
            clock.pass_s(5)
            desk.sitting.make(as_asked(desk.sitting.state, clock.now()))
        desk.touched()
        clock.pass_s(3600)
        assert "without a key" in desk.act(Act.AGREE).note
        clock.pass_s(5)
        done = sum(mark.did == "done" for mark in desk.sitting.state.marks)
        assert desk.act(Act.STROKES, 1).note == "Nothing was marked: what is asked here comes before it."
        assert desk.sitting.state.front.ask is Ask.TURN
        assert sum(mark.did == "done" for mark in desk.sitting.state.marks) == done
