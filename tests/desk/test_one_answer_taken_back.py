"""One take-back undoes one answer, however many marks it made; and a step is gone back to by its own name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

AtStep = Callable[[str], Desk]


@pytest.fixture
def at_step(tmp_path: Path) -> Iterator[AtStep]:
    """A desk at the first step of a name, all before it passed over or done."""
    made: list[Sitting] = []

    def go(step: str) -> Desk:
        clock, found = SetClock(datetime(2026, 11, 26, 8, tzinfo=UTC)), load_recipe(find_recipe("crosscut-panel", []))
        plan = make_plan(found.saw, leave_out=frozenset({Stage.SET, Stage.FILE, Stage.DRESS}))
        made.append(Sitting.start(tmp_path, found, plan, clock))
        desk = Desk(keep_plan(made[-1]), guard_s=0.0, idle_s=9e9)
        while (place := desk.moment.place) is None or place.step != step or desk.moment.front.ask is not Ask.WORK:
            assert not desk.act(Act.AGREE if desk.moment.front.ask.holds else Act.DONE).refused
        return desk

    yield go
    for one in made:
        one.close()


def type_answer(desk: Desk, text: str) -> None:
    question = questions(desk, QuestionKind.ANSWER, {})
    assert question.check(text) is None
    assert question.then is not None
    assert not question.then(text).refused


@pytest.mark.parametrize(
    ("step", "answer", "told"),
    [
        ("over the set", "0.041, 0.042, 0.040", "0.041 in, 0.042 in, 0.040 in"),
        ("points", "155", "points = 155"),
        ("file", "6 in slim, corner 2", "file = 6 in slim"),
        ("bright points", 3, "bright points = most"),
        ("flats", 1, "flats = good"),
        ("trial cut", 1, "trial cut = good"),
        ("flats", 5, "flats = big and small"),
    ],
)
def test_one_take_back_undoes_one_answer(at_step: AtStep, step: str, answer: str | int, told: str) -> None:
    desk = at_step(step)
    before = desk.sitting.state
    if isinstance(answer, str):
        type_answer(desk, answer)
    else:
        assert not desk.act(Act.STROKES, answer).refused
    assert desk.sitting.state.next_seq > before.next_seq + 1, "it made several marks"
    reply = desk.act(Act.TAKE_BACK)
    after = desk.sitting.state
    assert told in reply.note
    assert (after.place, dict(after.measured), after.taken_in) == (before.place, dict(before.measured), before.taken_in)
    assert after.last_act == before.last_act


def test_a_step_is_gone_back_to_by_its_name_and_none_is_gone_ahead_to(at_step: AtStep) -> None:
    desk = at_step("all round")
    desk.act(Act.TAKE_BACK)
    type_answer(desk, "slow")
    step = desk.moment.place
    question = questions(desk, QuestionKind.SET_PLACE, {})
    assert question.choices[:2] == ("Recall the last cut: slow", "Look for bright points: skipped")
    assert len(question.choices) == 2, "only what was gone through"
    assert question.then is not None
    assert not question.then(question.choices[1]).refused
    assert desk.moment.place is not None
    assert desk.moment.place.step == "bright points"
    assert step is not None
    assert desk.sitting.state.measured["last cut"].value == "slow", "what was answered stands until it is told anew"


def test_at_the_first_step_there_is_none_to_go_back_to(at_step: AtStep) -> None:
    question = questions(at_step("bright points"), QuestionKind.SET_PLACE, {})
    assert question.choices == ()
    assert question.then is None
    assert "No step" in question.lines[0]
