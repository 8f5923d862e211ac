"""The files of one's own at the desk: named for the saw in hand with their corner, and changed in the middle."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from session.advice.saw_advice import saw_records
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.till.till_folder import Till
from session.walk.corner_work import CornerWork, corner_work
from session.walk.front_question import Ask
from session.walk.measurables import Measurable
from session.walk.stages import Kind, Stage
from session.walk.work_plan import make_plan

#: The panel saw's flank is 0.161 in at the outer face of its plate; twice the flank in mid-plate is 0.289 in.
FILES = """
[[file]]
name = "Loft taper"
face = "0.3 in"
teeth_filed = [600, 150, 0]

[[file]]
name = "Needle"
face = "0.15 in"

[[file]]
name = "Worn out"
face = "0.33 in"
teeth_filed = [600, 600, 600]
"""


class Bench:
    """A desk over a till with a drawer."""

    def __init__(self, folder: Path, files: str) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "files.toml").write_text(files, encoding="utf-8")
        found = load_recipe(find_recipe("crosscut-panel", []))
        self.clock = SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))
        out = frozenset({Stage.LEVEL, Stage.SET, Stage.DRESS})
        self.sitting = Sitting.start(folder / "logs", found, make_plan(found.saw, leave_out=out), self.clock)
        till = Till(folder)
        records = lambda: saw_records(till, found.saw.name)  # noqa: E731
        self.desk = Desk(self.sitting, guard_s=0.0, idle_s=9e9, records=records)

    def act(self, act: Act, digit: int = 0) -> Reply:
        self.clock.pass_s(5.0)
        return self.desk.act(act, digit)

    def to(self, kind: Kind, step: str = "") -> None:
        for _ in range(900):
            front = self.desk.moment.front
            here = front.place
            if front.ask is Ask.WORK and here is not None and here.kind is kind and step in (here.step or ""):
                return
            asked = front.ask.holds
            assert not self.act(Act.AGREE if asked else Act.DONE).refused
        raise AssertionError(f"never came to {kind} {step}")

    def answer(self, text: str) -> Reply:
        assert self.act(Act.ANSWER).opens is QuestionKind.ANSWER
        question = questions(self.desk, QuestionKind.ANSWER, {})
        assert question.then is not None
        return question.then(text)


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Callable[[str], Bench]]:
    made: list[Bench] = []

    def begin(files: str) -> Bench:
        made.append(Bench(tmp_path / str(len(made)), files))
        return made[-1]

    yield begin
    for one in made:
        one.sitting.close()


def test_the_right_file_is_named_with_its_corner_and_taken_by_a_digit(bench: Callable[[str], Bench]) -> None:
    at = bench(FILES)
    at.to(Kind.STEP, "file")
    said = at.desk.moment.said
    assert said.choices == ("Loft taper, corner 2",)
    told = " ".join(said.lines)
    assert "Your best: Loft taper. Corner 2: 150 filed, 450 left to the limit of 600 (from memory)." in told
    assert "Not Needle: Its face of 0.15 in is no wider than the flank of 0.161 in at the outer face" in told
    assert "Not Worn out: Done: all three corners have come to the limit of 600" in told
    assert not at.act(Act.STROKES, 1).refused
    measured = at.sitting.state.measured
    assert (measured[Measurable.FILE].value, measured[Measurable.FILE_CORNER].value) == ("Loft taper", 2)


def test_without_a_drawer_nothing_is_said_of_one(bench: Callable[[str], Bench]) -> None:
    at = bench("")
    at.to(Kind.STEP, "file")
    assert at.desk.moment.said.choices == ()
    assert not any("your" in line.lower() and "files serves" in line for line in at.desk.moment.said.lines)


def test_where_none_serves_it_is_said(bench: Callable[[str], Bench]) -> None:
    at = bench('[[file]]\nname = "Needle"\nface = "0.15 in"\n')
    at.to(Kind.STEP, "file")
    assert "None of your files serves this saw." in at.desk.moment.said.lines
    reply = at.answer("Needle")
    assert "leaves a ridge" in reply.note
    assert at.sitting.state.measured[Measurable.FILE].value == "Needle", "the person decides"


def test_another_corner_is_taken_up_in_the_middle_and_the_gullet_stays_in_hand(bench: Callable[[str], Bench]) -> None:
    at = bench(FILES)
    at.to(Kind.STEP, "file")
    at.act(Act.STROKES, 1)
    at.to(Kind.GULLET)
    for _ in range(3):
        at.act(Act.DONE)
    here = at.desk.moment.place
    assert at.act(Act.ANSWER).opens is QuestionKind.ANSWER
    assert questions(at.desk, QuestionKind.ANSWER, {}).choices == ("Loft taper, corner 2",)
    reply = at.answer("Loft taper, corner 3")
    assert reply.note == "From here on file: Loft taper, file corner: corner 3."
    assert at.desk.moment.place == here
    for _ in range(2):
        at.act(Act.DONE)
    assert corner_work(at.sitting.state) == (
        CornerWork(file="Loft taper", corner=2, gullets=3),
        CornerWork(file="Loft taper", corner=3, gullets=2),
    )


def test_a_bad_corner_is_told_and_changes_nothing(bench: Callable[[str], Bench]) -> None:
    at = bench(FILES)
    at.to(Kind.GULLET)
    question = questions(at.desk, QuestionKind.ANSWER, {})
    assert question.check is not None
    assert question.check("Loft taper, corner 4") == 'corner "4"; allowed: 1, 2 or 3'
    assert Measurable.FILE not in at.sitting.state.measured
