"""Grading may end before the last tooth: one key answers for all that are left, and one takes that back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from bench_shed import Shed, works_at
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.desk import Desk
from session.desk.question import Question
from session.log.log_reader import read_log
from session.sentences.offers import Act
from session.trade.grades import GRADE, SHARES
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.graded_flats import usable_flats
from session.walk.mark import Did
from session.walk.rules import why_not
from session.walk.stages import Stage
from session.walk.state import State

POINTS = 24


@pytest.fixture
def grading(tmp_path: Path) -> Iterator[Callable[..., Desk]]:
    """A desk at the flats of a saw of 24 teeth, so many of them graded 3."""
    made: list[Desk] = []

    def begin(graded: int, *, strip: bool = False) -> Desk:
        shed = Shed(tmp_path)
        desk = Desk(shed.answered(shed.at("level"), works_at("level", step="flats")), guard_s=0.0, idle_s=9e9)
        state = desk.sitting.state
        desk.sitting.make(acts.add(state, shed.clock.now(), Stage.LEVEL, passes=0, strip=strip))
        for _ in range(graded):
            shed.clock.pass_s(5.0)
            assert not desk.act(Act.STROKES, 3).refused
            shed.answered(desk.sitting, works_at("level"))
        shed.clock.pass_s(5.0)
        made.append(desk)
        return desk

    yield begin
    for desk in made:
        desk.sitting.close()


def _asked(desk: Desk) -> Question:
    assert desk.act(Act.ANSWER).opens is QuestionKind.REST
    return questions(desk, QuestionKind.REST, {})


def _answered(desk: Desk, choice: int) -> None:
    question = _asked(desk)
    assert question.then is not None
    assert not question.then(question.choices[choice]).refused


def test_it_names_the_first_and_the_last_and_offers_both(grading: Callable[..., Desk]) -> None:
    desk = grading(10)
    assert [offer.word for offer in desk.moment.offers if offer.act is Act.ANSWER] == ["all the rest"]
    assert desk.moment.offers[0].word == "same: grade 3"
    question = _asked(desk)
    assert question.title == "The rest of the flats: tooth 11 to tooth 24, 14 teeth"
    assert [choice.split(":")[0] for choice in question.choices] == ["as before", "not seen"]
    assert [question.several(choice) for choice in question.choices] == [
        "All at once, tooth 11 to tooth 24: grade 3.",
        "No grade at all for tooth 11 to tooth 24: not seen.",
    ], "each of them is asked about once more: its digit may have been meant for a grade"


def test_as_before_grades_all_that_are_left_and_says_that_it_was_one_act(grading: Callable[..., Desk]) -> None:
    desk = grading(10)
    _answered(desk, 0)
    state = desk.sitting.state
    assert usable_flats(state, Stage.FILE) == dict.fromkeys(range(1, POINTS + 1), SHARES[3])
    rest = [mark for mark in state.marks if mark.many]
    assert [(mark.tooth, mark.value, mark.unit, mark.many) for mark in rest] == [
        (tooth, 3, GRADE, "11-24") for tooth in range(11, POINTS + 1)
    ]
    desk.act(Act.TAKE_BACK)
    assert set(usable_flats(desk.sitting.state, Stage.FILE)) == set(range(1, 11)), "one key takes all of it back"


def test_not_seen_ends_the_grading_and_is_nothing_left_out(grading: Callable[..., Desk]) -> None:
    desk = grading(10)
    _answered(desk, 1)
    state = desk.sitting.state
    assert set(usable_flats(state, Stage.FILE)) == set(range(1, 11))
    assert state.left_out() == ()
    assert state.place is not None
    assert (state.place.stage, state.place.step) == (Stage.LEVEL, "flats")
    assert desk.moment.said.previous == "flats not seen from 11 on"
    again = State.replay(desk.sitting.plan, read_log(desk.sitting.journal.path).marks)
    assert (again.place, dict(again.outcomes)) == (state.place, dict(state.outcomes))
    desk.act(Act.TAKE_BACK)
    assert desk.sitting.state.place is not None
    assert desk.sitting.state.place.tooth == 11


def test_before_any_was_graded_there_is_no_before(grading: Callable[..., Desk]) -> None:
    question = _asked(grading(0))
    assert [choice.split(":")[0] for choice in question.choices] == ["not seen"]


def test_against_a_strip_the_rest_can_only_be_not_seen(grading: Callable[..., Desk]) -> None:
    desk = grading(0, strip=True)
    desk.act(Act.STROKES, 3)
    assert desk.moment.place is not None
    assert desk.moment.place.on_strip
    assert desk.act(Act.ANSWER).refused, "its place is told first"
    desk.act(Act.STROKES, 5)
    question = _asked(desk)
    assert [choice.split(":")[0] for choice in question.choices] == ["not seen"]
    _answered(desk, 0)
    assert set(usable_flats(desk.sitting.state, Stage.FILE)) == {1}


def test_of_the_last_tooth_there_is_no_rest(grading: Callable[..., Desk]) -> None:
    desk = grading(POINTS - 1)
    assert desk.moment.front.ask is Ask.WORK
    assert Act.ANSWER not in {offer.act for offer in desk.moment.offers}


def test_elsewhere_no_grading_is_ended(grading: Callable[..., Desk]) -> None:
    desk = grading(2)
    state, at = desk.sitting.state, desk.making.at()
    mark = acts.rest_not_seen(state, at)
    assert why_not(state, mark) is None
    assert mark.did is Did.ADDED
    _answered(desk, 1)
    state = desk.sitting.state
    late = acts.rest_not_seen(state, at)
    assert why_not(state, late) == "no flat is graded by the eye here"


def test_nothing_is_preset_before_a_flat_was_graded(grading: Callable[..., Desk]) -> None:
    desk = grading(0)
    state = desk.sitting.state
    assert desk.moment.offers[0].act is Act.STROKES, "no key beside the digits tells of the first flat"
    assert Act.DONE not in {offer.act for offer in desk.moment.offers}
    reply = desk.act(Act.DONE)
    assert reply.refused
    assert reply.note == "Nothing to repeat yet: grade tooth 1 by a digit, 0 to 5."
    assert desk.sitting.state is state, "a record tells only what was seen"


def test_a_grading_begun_anew_repeats_nothing_of_the_one_before(grading: Callable[..., Desk]) -> None:
    desk = grading(2)
    _answered(desk, 1)
    assert not desk.act(Act.MORE).refused
    assert not desk.act(Act.DONE).refused
    desk.sitting.make(acts.add(desk.sitting.state, desk.making.at(), Stage.LEVEL, passes=0))
    assert desk.moment.place is not None
    assert desk.moment.place.tooth == 1
    assert not desk.act(Act.AGREE).refused, "the check of the grading before"
    assert desk.act(Act.DONE).refused
    assert not desk.act(Act.STROKES, 4).refused
    assert desk.moment.offers[0].word == "same: grade 4"
