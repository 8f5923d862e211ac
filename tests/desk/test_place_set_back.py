"""An earlier place set by hand: undo takes it back as one, and the way forward again keeps what was recorded."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench_shed import Shed, works_at
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.desk import Desk
from session.desk.question import Question
from session.sentences.offers import Act
from session.walk import acts
from session.walk.mark import Did
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State


@pytest.fixture
def shed(tmp_path: Path) -> Shed:
    """A place of its own for logs."""
    return Shed(tmp_path)


def at_gullet_11(shed: Shed) -> Desk:
    """Five gullets: 4 strokes, none counted, left out, 2 strokes, flagged and 3 strokes."""
    desk = Desk(shed.at("file", side=1), guard_s=0.0, idle_s=9e9)
    desk.act(Act.STROKES, 4)
    desk.act(Act.DONE)
    desk.leave_out("broken tooth")
    desk.act(Act.STROKES, 2)
    desk.flag("a burr")
    desk.act(Act.STROKES, 3)
    assert desk.moment.place == gullet(11)
    return desk


def gullet(tooth: int) -> Place:
    return Place(Stage.FILE, 1, tooth)


def place_asked(desk: Desk) -> Question:
    return questions(desk, QuestionKind.SET_PLACE, {})


def set_to(desk: Desk, tooth: int) -> None:
    question = place_asked(desk)
    assert question.check(str(tooth)) is None
    assert question.then is not None
    assert not question.then(str(tooth)).refused


def stands(state: State) -> tuple[object, ...]:
    return dict(state.outcomes), dict(state.flags), state.here, state.tally, state.front


def test_the_question_says_what_going_back_takes_back(shed: Shed) -> None:
    asked = place_asked(at_gullet_11(shed)).several("1")
    assert asked.startswith("gullet 1 to gullet 9, 5 in all with 9 strokes, 1 of them left out, will be taken back;")


def test_undo_right_after_puts_all_back_as_one_and_leaves_the_flag(shed: Shed) -> None:
    desk = at_gullet_11(shed)
    before = stands(desk.moment.state)
    set_to(desk, 1)
    assert desk.moment.place == gullet(1)
    reply = desk.act(Act.TAKE_BACK)
    assert not reply.refused
    assert reply.note == "Not gone back: all stands as before, gullet 11 is next."
    assert stands(desk.moment.state) == before
    assert stands(State.replay(desk.moment.state.first, desk.moment.state.marks)) == before, "a restart tells the same"


def test_two_moves_back_are_undone_one_by_one_and_work_after_them_first(shed: Shed) -> None:
    desk = at_gullet_11(shed)
    set_to(desk, 7)
    set_to(desk, 3)
    desk.act(Act.STROKES, 1)
    for place in (3, 7):
        assert not desk.act(Act.TAKE_BACK).refused
        assert desk.moment.place == gullet(place)
    assert desk.moment.state.outcomes[gullet(3)].strokes is None


def test_the_way_forward_again_keeps_what_was_recorded(shed: Shed) -> None:
    desk = at_gullet_11(shed)
    before = dict(desk.moment.state.outcomes)
    set_to(desk, 1)
    desk.act(Act.STROKES, 5)
    assert place_asked(desk).several("15") == (
        "gullet 3 to gullet 9, 4 in all, will stand again as marked before. "
        "gullet 11 to gullet 13, 2 in all, will be marked as done together."
    )
    set_to(desk, 15)
    state = desk.moment.state
    assert state.place == gullet(15)
    assert {place: mark for place, mark in state.outcomes.items() if place in before and place != gullet(1)} == {
        place: mark for place, mark in before.items() if place != gullet(1)
    }
    assert state.outcomes[gullet(1)].strokes == 5, "what was told since stands"
    assert [state.outcomes[gullet(k)].many for k in (9, 11, 13)] == [None, "11-13", "11-13"]
    assert sum(mark.did is Did.PUT_BACK for mark in state.marks) == 4


@pytest.mark.parametrize("strip", [False, True])
def test_one_wrong_grade_is_mended_without_those_after_it(shed: Shed, strip: bool) -> None:
    desk = Desk(shed.answered(shed.at("level"), works_at("level", step="flats")), guard_s=0.0, idle_s=9e9)
    desk.sitting.make(acts.add(desk.sitting.state, shed.clock.now(), Stage.LEVEL, passes=0, strip=strip))
    while desk.moment.place is None or desk.moment.place.tooth < 6:
        assert not desk.act(Act.STROKES, 3).refused
    before = dict(desk.moment.state.outcomes)
    assert place_asked(desk).check("9") is not None, "no flat is passed over"
    assert place_asked(desk).several("3").startswith("tooth 3 to tooth 5, 3 in all, will be taken back;")
    set_to(desk, 3)
    assert desk.moment.place == (third := Place(Stage.LEVEL, tooth=3))
    desk.act(Act.STROKES, 2)
    if strip:
        assert place_asked(desk).check("6") is not None, "the new flat is not where the old one was told to lie"
        desk.act(Act.STROKES, 3)
    assert place_asked(desk).several("6") == "tooth 4 to tooth 5, 2 in all, will stand again as marked before."
    assert place_asked(desk).check("9") is not None
    set_to(desk, 6)
    after = desk.moment.state.outcomes
    assert [place for place in after if before.get(place) != after[place] and not place.on_strip] == [third]
    assert after[third].value == 2
    assert len(after) == len(before)
