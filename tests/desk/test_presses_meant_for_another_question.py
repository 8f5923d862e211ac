"""A press that is meant for one question does not answer the next, which asks something else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
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
from session.walk.measurables import Measurable
from session.walk.stages import LEAN_ITEM, MEASURE_STEP, NEAR_ITEM, Stage
from session.walk.work_plan import make_plan

CLOCK = SetClock(datetime(2026, 11, 26, 8, 0, tzinfo=UTC))


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A desk at the first caution of setting, the saw clamped as in a log of before: the lean is asked next."""
    found = load_recipe(find_recipe("crosscut-panel", []))
    plan = make_plan(found.saw)
    plan = replace(plan, fit_items=tuple(item for item in plan.fit_items if item != NEAR_ITEM))
    sitting = Sitting.start(tmp_path, found, plan, CLOCK)
    at = Desk(keep_plan(sitting))
    while (place := at.moment.place) is None or place.stage is not Stage.SET:
        CLOCK.pass_s(5.0)
        assert not at.act(Act.AGREE if at.moment.front.ask.holds else Act.DONE).refused
    CLOCK.pass_s(5.0)
    yield at
    sitting.close()


def test_rule_19_yes_pressed_on_through_cautions_does_not_say_how_tooth_1_leans(desk: Desk) -> None:
    assert desk.moment.front.ask is Ask.CAUTION
    refused = 0
    for _ in range(12):
        refused += desk.act(Act.AGREE).refused
        CLOCK.pass_s(0.5)
    assert (desk.moment.front.ask, desk.moment.front.name) == (Ask.FIT, LEAN_ITEM)
    assert Measurable.FIRST_LEANS not in desk.sitting.state.measured
    assert refused == 10, "two cautions are agreed to, however quickly"
    CLOCK.pass_s(1.0)
    assert not desk.act(Act.AGREE).refused
    assert Measurable.FIRST_LEANS in desk.sitting.state.measured


def test_another_key_is_no_press_meant_for_the_question_before(desk: Desk) -> None:
    while desk.moment.front.ask is Ask.CAUTION:
        desk.act(Act.AGREE)
        CLOCK.pass_s(0.5)
    assert desk.act(Act.DIFFER).opens is not None


def test_rule_19_once_refused_no_other_key_answers_unread_either(desk: Desk) -> None:
    while desk.moment.front.ask is Ask.CAUTION:
        assert not desk.act(Act.AGREE).refused
        CLOCK.pass_s(0.5)
    asked = desk.moment.said.title
    for act in (Act.AGREE, Act.DONE, Act.STROKES, Act.AGREE):
        reply = desk.act(act, 1)
        assert (reply.refused, reply.unread) == (True, True), act
        assert asked in reply.note
        CLOCK.pass_s(0.5)
    CLOCK.pass_s(0.5)
    assert not desk.act(Act.AGREE).refused
    assert Measurable.FIRST_LEANS in desk.sitting.state.measured


@pytest.mark.parametrize(("gap_s", "asked"), [(1.3, True), (5.0, False)])
def test_rule_19_a_measure_is_not_skipped_by_the_press_after_the_work(desk: Desk, gap_s: float, asked: bool) -> None:
    while (place := desk.moment.front.place) is None or (desk.moment.front.ask, place.step) != (Ask.WORK, MEASURE_STEP):
        CLOCK.pass_s(5.0)
        assert not desk.act(Act.AGREE if desk.moment.front.ask.holds else Act.DONE).refused
    state = desk.sitting.state
    CLOCK.pass_s(gap_s)
    reply = desk.act(Act.DONE)
    assert reply.refused is asked
    if asked:
        assert reply.note == f"Not answered yet: {desk.moment.said.title}. Once more skips it."
        assert desk.sitting.state is state, "neither skipped nor marked"
        CLOCK.pass_s(gap_s)
        assert not desk.act(Act.DONE).refused
    assert desk.moment.place != place
