"""A desk at which the trial cut was made and one fault told of it, or still waits for its word."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.desk.question import Question
from session.files.recipe import Recipe, load_recipe
from session.files.supplied import find_recipe
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.mark import Mark
from session.walk.measurable_facts import MEASURABLES
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import TRIAL_CUT_STEP, Stage
from session.walk.state import State
from session.walk.work_plan import Plan, make_plan

#: What can be told of a trial cut but that it is good.
FAULTS = MEASURABLES[Measurable.TRIAL_CUT].choices[1:]

#: The stages that are not needed to come to the cut.
LEFT_OUT = frozenset({Stage.LEVEL, Stage.SET, Stage.DRESS})


@dataclass(frozen=True)
class Worked:
    """A sharpening that came to its trial cut before: what it was, and its log."""

    recipe: Recipe
    plan: Plan
    state: State
    name: str
    log: bytes
    now: datetime
    steady_s: float


#: By the recipe and the stages left out: nearly every test here begins at the same cut.
_WORKED: dict[tuple[str, frozenset[Stage]], Worked] = {}


class AfterTheCut:
    """A desk at which one fault was told of the trial cut; with an empty one, the cut still waits for its word."""

    def __init__(
        self, folder: Path, fault: str, recipe: str = "crosscut-panel", left_out: frozenset[Stage] = LEFT_OUT
    ) -> None:
        if (recipe, left_out) not in _WORKED:
            _WORKED[recipe, left_out] = self._worked(folder / "first", recipe, left_out)
        worked = _WORKED[recipe, left_out]
        self.clock = SetClock(worked.now, worked.steady_s)
        folder.mkdir(exist_ok=True)
        (folder / worked.name).write_bytes(worked.log)
        self.sitting = Sitting(worked.recipe.saw, worked.plan, Journal.open(folder / worked.name), self.clock)
        self.sitting.state = worked.state
        assert self.sitting.journal.marks == worked.state.marks
        self.desk = Desk(self.sitting, guard_s=0.0, idle_s=9e9)
        if fault:
            self.digit(MEASURABLES[Measurable.TRIAL_CUT].choices.index(fault) + 1)

    def measured(self, text: str) -> None:
        """Answer the cut's figures."""
        question = questions(self.desk, QuestionKind.ANSWER, {})
        assert question.check(text) is None
        assert question.then is not None
        assert not question.then(text).refused

    def good(self) -> Reply:
        """Say that the cut was good."""
        self.clock.pass_s(5.0)
        return self.desk.act(Act.STROKES, 1)

    def verdict(self) -> object:
        """The last word on a cut, None before any."""
        mark = self.sitting.state.measured.get(Measurable.TRIAL_CUT)
        return None if mark is None else mark.value

    def _worked(self, folder: Path, recipe: str, left_out: frozenset[Stage]) -> Worked:
        found = load_recipe(find_recipe(recipe, []))
        self.clock = SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))
        plan = make_plan(found.saw, leave_out=left_out)
        self.sitting = keep_plan(Sitting.start(folder, found, plan, self.clock))
        self.desk = Desk(self.sitting, guard_s=0.0, idle_s=9e9)
        self.go_to(Stage.PROVE, TRIAL_CUT_STEP)
        self.sitting.close()
        log = self.sitting.journal.path
        return Worked(
            recipe=found,
            plan=plan,
            state=self.sitting.state,
            name=log.name,
            log=log.read_bytes(),
            now=self.clock.now(),
            steady_s=self.clock.steady_s(),
        )

    def digit(self, digit: int) -> None:
        self.clock.pass_s(5.0)
        assert not self.desk.act(Act.STROKES, digit).refused

    def go_to(self, stage: Stage, step: str = "") -> None:
        for _ in range(3000):
            front = self.desk.moment.front
            place = front.place
            if (
                front.ask is Ask.WORK
                and place is not None
                and place.stage is stage
                and (not step or place.step == step)
            ):
                return
            self.clock.pass_s(1.0)
            if front.ask is Ask.CHECK and (choices := self.desk.moment.said.choices):
                # A yes would look at what was flagged; the last answer leaves it open.
                self.digit(len(choices))
                continue
            asked = front.ask.holds
            assert not self.desk.act(Act.AGREE if asked else Act.DONE).refused
        raise AssertionError(f"never came to {stage} {step}")

    @property
    def outcomes(self) -> dict[Place, Mark]:
        return dict(self.sitting.state.outcomes)

    def remedies(self) -> Question:
        return questions(self.desk, QuestionKind.REMEDY, {})


@pytest.fixture
def after(tmp_path: Path) -> Iterator[Callable[..., AfterTheCut]]:
    """Begins at the cut as often as it is asked, each time in a folder of its own."""
    made: list[AfterTheCut] = []

    def begin(fault: str, recipe: str = "crosscut-panel") -> AfterTheCut:
        made.append(AfterTheCut(tmp_path / str(len(made)), fault, recipe))
        return made[-1]

    yield begin
    for one in made:
        one.sitting.close()
