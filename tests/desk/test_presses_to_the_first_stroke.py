"""Presses from opening a saw to its first stroke, of a known saw that needs only filing; no caution is dropped."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.stages import FACTS, PLAN_STEP, Stage
from session.walk.work_plan import make_plan

#: What is told by one digit of a saw that was filed lately; what is known from last time is passed over.
BY_DIGIT = {"bright points": 2, "last cut": 1, "all round": 1, "line": 1}

#: Fewer than so many presses (ours).
MOST = 25


def test_a_known_saw_that_needs_only_filing_takes_few_presses(tmp_path: Path) -> None:
    clock = SetClock(datetime(2025, 4, 5, 10, 0, tzinfo=UTC))
    found = load_recipe(find_recipe("crosscut-panel", []))
    found = replace(found, saw=replace(found.saw, points=64))
    sitting = Sitting.start(tmp_path / "till", found, make_plan(found.saw), clock)
    desk = Desk(sitting, guard_s=0.0, idle_s=9e9)
    presses = 0
    while True:
        front, place = desk.moment.front, desk.moment.place
        assert place is not None
        if front.ask is Ask.WORK and place.stage is Stage.FILE:
            break
        clock.pass_s(2.0)
        if front.ask is not Ask.WORK:
            reply = desk.act(Act.AGREE if front.ask.holds else Act.DONE)
        elif place.step == PLAN_STEP:
            reply = desk.act(Act.AGREE if desk.moment.against else Act.DONE)
        elif place.step in BY_DIGIT:
            reply = desk.act(Act.STROKES, BY_DIGIT[place.step])
        else:
            reply = desk.act(Act.DONE)
        assert not reply.refused, (place, reply.note)
        presses += 1
    cautions = [mark.what for mark in sitting.state.marks if mark.did is Did.ACKNOWLEDGED]
    for stage in (Stage.LOOK_OVER, Stage.FILE):
        assert set(FACTS[stage].cautions) <= set(cautions)
    sitting.close()
    assert presses < MOST, presses
