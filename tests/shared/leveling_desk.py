"""A desk in front of the look at the flats, after the first pass of leveling."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from own_plan import keep_plan
from session.advice.flats_verdict import offered_as
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.measurables import GRADE_THEM
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

LOOK = Place(Stage.LEVEL, step="flats")


class Leveling:
    """A desk in front of the look at the flats, after the first pass."""

    def __init__(self, folder: Path, leave_out: frozenset[Stage] = frozenset()) -> None:
        recipe = load_recipe(find_recipe("dovetail", []))
        self.clock = SetClock(datetime(2026, 11, 26, 9, 0, tzinfo=UTC))
        self.sitting = Sitting.start(folder, recipe, make_plan(recipe.saw, leave_out=leave_out), self.clock)
        self.desk = Desk(keep_plan(self.sitting), guard_s=0.0, idle_s=9e9)

    def go_on(self, to: Place) -> Leveling:
        for _ in range(2000):
            state, place = self.sitting.state, self.sitting.state.place
            if place == to and state.front.ask is Ask.WORK:
                return self
            self.press(Act.DONE if state.front.ask in (Ask.WORK, Ask.SHIFT) else Act.AGREE)
        raise AssertionError("never came to that place")

    def press(self, act: Act, digit: int = 0) -> Reply:
        self.clock.pass_s(5.0)
        return self.desk.act(act, digit)

    def choose(self, choice: str) -> Reply:
        return self.press(Act.STROKES, self.choices.index(offered_as(choice)) + 1)

    def type(self, text: str) -> Reply:
        question = questions(self.desk, QuestionKind.ANSWER, {})
        assert question.then is not None
        assert question.check(text) is None
        self.clock.pass_s(5.0)
        return question.then(text)

    def grade(self, grades: Callable[[int], int]) -> None:
        self.choose(GRADE_THEM)
        while self.sitting.state.place != LOOK or self.sitting.state.front.ask is not Ask.WORK:
            place = self.sitting.state.place
            if self.sitting.state.front.ask is Ask.CHECK:
                self.press(Act.AGREE)
            else:
                assert place is not None
                assert not self.press(Act.STROKES, grades(place.tooth)).refused

    @property
    def choices(self) -> tuple[str, ...]:
        return self.desk.moment.said.choices

    @property
    def told(self) -> str:
        return " ".join(self.desk.moment.said.lines)

    @property
    def reshaping(self) -> bool:
        return Stage.RESHAPE in self.sitting.state.taken_in
