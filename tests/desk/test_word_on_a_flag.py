"""Two flags are told apart by a word, put on by the flag's own key pressed again."""

from __future__ import annotations

from pathlib import Path

from bench_shed import Shed, works_at
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.desk import Desk
from session.sentences.offers import Act
from session.walk.stages import LEFT_OUT_STEP


def test_a_word_on_one_of_two_flags_stands_where_they_are_asked_about(tmp_path: Path) -> None:
    shed = Shed(tmp_path)
    desk = Desk(shed.at("file", side=1), guard_s=0.0, idle_s=9e9)
    first = desk.moment.place
    assert desk.act(Act.FLAG).opens is None
    assert desk.act(Act.FLAG).opens is QuestionKind.FLAG_WORD
    question = questions(desk, QuestionKind.FLAG_WORD, {})
    assert question.then is not None
    assert question.then("chipped tip").note == f"Flagged {first}: chipped tip"
    assert desk.moment.place == first, "a flag moves nothing"
    shed.clock.pass_s(5.0)
    assert not desk.act(Act.DONE).refused
    shed.answered(desk.sitting, works_at("file"))
    second = desk.moment.place
    assert desk.act(Act.FLAG).opens is None
    shed.clock.pass_s(5.0)
    assert not desk.act(Act.DONE).refused
    shed.answered(desk.sitting, works_at("close", step=LEFT_OUT_STEP))
    assert desk.moment.said.choices == (
        f"look again: file, side 1: {first} – chipped tip",
        f"look again: file, side 1: {second}",
    )
    desk.sitting.close()
