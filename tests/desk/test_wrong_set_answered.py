"""A width measured after setting or dressing that is out of range is answered at once: which way, and what to do."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.desk import Desk
from session.desk.key_table import USUAL_KEYS
from session.desk.line_mode import Plain
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

# The supplied crosscut panel saw: plate 0.035 in, 6 thou a side wanted, 3 the least.
OVER, BARELY, UNDER, RIGHT = "0.057 in", "0.052 in", "0.037 in", "0.047 in"

DeskAt = Callable[..., Desk]


@dataclass
class Typed:
    """Lines told, and lines typed from a list."""

    typed_lines: Iterator[str]
    told: list[str] = field(default_factory=list)

    def tell(self, line: str) -> None:
        self.told.append(line)

    def typed(self, prompt: str) -> str:
        return next(self.typed_lines)


@pytest.fixture
def desk_at(tmp_path: Path) -> Iterator[DeskAt]:
    """A desk worked up to the measuring after that stage."""
    made: list[Sitting] = []

    def work(stage: Stage, *, out: frozenset[Stage] = frozenset()) -> Desk:
        found, clock = (
            load_recipe(find_recipe("crosscut-panel", [])),
            SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC)),
        )
        sitting = Sitting.start(tmp_path / str(len(made)), found, make_plan(found.saw, leave_out=out), clock)
        made.append(sitting)
        desk = Desk(keep_plan(sitting), guard_s=0.0, idle_s=9e9)
        for _ in range(3000):
            if desk.moment.place == Place(stage, step="measure") and desk.moment.front.ask is Ask.WORK:
                return desk
            clock.pass_s(1.0)
            assert not desk.act(Act.AGREE if desk.moment.front.ask.holds else Act.DONE).refused
        raise AssertionError(f"{stage} was never measured")

    yield work
    for sitting in made:
        sitting.close()


def measure(desk: Desk, text: str) -> Reply:
    question = questions(desk, QuestionKind.ANSWER, {})
    assert question.then is not None
    return question.then(text)


def test_what_a_width_says_of_the_set_is_not_cut_off(desk_at: DeskAt) -> None:
    told = "6.7 thou a side, 0.7 thou over the 6.0 thou asked for: still of use, go on."
    note = measure(desk_at(Stage.SET), "0.0484 in").note
    assert note == told
    assert measure(desk_at(Stage.SET), "0.046 in").note.endswith("under the 6.0 thou asked for: enough, go on.")


def pick(desk: Desk, words: str) -> Reply:
    question = questions(desk, QuestionKind.WRONG_SET, {})
    assert question.then is not None
    return question.then(next(choice for choice in question.choices if words in choice))


OUT = frozenset({Stage.LEVEL, Stage.FILE})


@pytest.mark.parametrize("stage", [Stage.SET, Stage.DRESS])
def test_a_right_set_ends_the_step(desk_at: DeskAt, stage: Stage) -> None:
    desk = desk_at(stage, out=OUT)
    assert measure(desk, RIGHT).opens is None
    assert desk.moment.place != Place(stage, step="measure")


@pytest.mark.parametrize("stage", [Stage.SET, Stage.DRESS])
@pytest.mark.parametrize(("width", "which"), [(OVER, "too much"), (UNDER, "too little")])
def test_a_wrong_one_says_which_way_and_is_not_silently_taken(
    desk_at: DeskAt, stage: Stage, width: str, which: str
) -> None:
    desk = desk_at(stage, out=OUT)
    assert measure(desk, width).opens is QuestionKind.WRONG_SET
    question = questions(desk, QuestionKind.WRONG_SET, {})
    assert question.title == f"The set is {which}"
    assert question.choices[0] == "Measure again, at another place."
    assert question.choices[-1] == "Leave the set as it is."
    remedy = question.choices[1]
    assert ("Stone" in remedy) == (which == "too much")
    assert ("Set once more" in remedy) == (which == "too little")
    # Until it is answered the step is not done.
    assert desk.moment.place == Place(stage, step="measure")
    pick(desk, "Measure again")
    assert desk.moment.place == Place(stage, step="measure")
    assert measure(desk, RIGHT).opens is None
    assert desk.moment.place != Place(stage, step="measure")


@pytest.mark.parametrize(("width", "asks"), [("0.0405 in", True), (".04 in", True), ("0.041 in", False)])
def test_a_set_under_the_least_by_less_than_a_caliper_errs_is_asked_about_too(
    desk_at: DeskAt, width: str, asks: bool
) -> None:
    desk = desk_at(Stage.SET, out=OUT)
    assert (measure(desk, width).opens is QuestionKind.WRONG_SET) is asks
    if asks:
        question = questions(desk, QuestionKind.WRONG_SET, {})
        assert "under the least of 3.0 thou" in question.lines[0]
        assert any("Set once more" in choice for choice in question.choices)


def test_too_little_after_setting_sets_once_more_and_measures_again(desk_at: DeskAt) -> None:
    desk = desk_at(Stage.SET, out=OUT)
    measure(desk, UNDER)
    pick(desk, "Set once more")
    place = desk.moment.place
    assert place is not None
    assert (place.stage, place.round) == (Stage.SET, 2)
    assert Place(Stage.SET, step="measure", round=2) in desk.sitting.state.route.index


@pytest.mark.parametrize("left_out", [frozenset(), frozenset({Stage.DRESS})])
def test_too_much_after_setting_goes_to_the_stone_taken_in_where_it_was_not(
    desk_at: DeskAt, left_out: frozenset[Stage]
) -> None:
    desk = desk_at(Stage.SET, out=OUT | left_out)
    measure(desk, OVER)
    pick(desk, "Stone it down in dressing")
    assert Stage.DRESS in desk.sitting.state.taken_in
    assert Place(Stage.DRESS, step="measure") in desk.sitting.state.route.index
    assert desk.moment.place == Place(Stage.DRESS, 2, number=1)


def test_too_much_after_dressing_stones_both_sides_and_measures_again(desk_at: DeskAt) -> None:
    desk = desk_at(Stage.DRESS, out=OUT)
    measure(desk, BARELY)
    pick(desk, "Stone both sides once more")
    places = [p for p in desk.sitting.state.route.places if p.stage is Stage.DRESS and p.round == 2]
    assert sorted((p.side, p.number, p.step) for p in places) == [(0, 0, "measure"), (1, 1, ""), (2, 1, "")]
    assert desk.moment.place in places


def test_far_too_much_is_given_passes_by_number_and_then_by_what_they_took(desk_at: DeskAt) -> None:
    """11 thou a side is 3.2 over the fullest useful: 16 usual passes, a third of them first. Five that took 1.6 thou, a
    third of a thou each, leave 1.6 over: five more."""
    desk = desk_at(Stage.DRESS, out=OUT)
    measure(desk, OVER)
    lines = questions(desk, QuestionKind.WRONG_SET, {}).lines
    assert any("Enough at 0.0506 in over the points: about 5 passes a side" in line for line in lines)
    pick(desk, "Stone both sides 5 passes more")
    places = [p for p in desk.sitting.state.route.places if p.stage is Stage.DRESS and p.round == 2]
    assert [sum(p.side == side and p.number > 0 for p in places) for side in (1, 2)] == [5, 5]
    for _ in range(40):
        if desk.moment.place == Place(Stage.DRESS, step="measure", round=2) and desk.moment.front.ask is Ask.WORK:
            break
        assert not desk.act(Act.AGREE if desk.moment.front.ask.holds else Act.DONE).refused
    assert measure(desk, "0.0538 in").opens is QuestionKind.WRONG_SET
    lines = questions(desk, QuestionKind.WRONG_SET, {}).lines
    assert any("about 5 passes a side, then measure (5 passes took 1.6 thou a side here)" in line for line in lines)
    pick(desk, "Stone both sides 5 passes more")


def test_left_as_it_is_the_record_says_so(desk_at: DeskAt) -> None:
    desk = desk_at(Stage.DRESS, out=OUT)
    measure(desk, OVER)
    pick(desk, "Leave the set as it is")
    last = desk.sitting.state.marks[-1]
    assert (last.did, last.step, last.reason) == (Did.DONE, "measure", "Leave the set as it is.")
    assert desk.sitting.state.measured["over the points in the end"].entered == OVER


def test_line_by_line_the_same_question_comes_after_the_width(desk_at: DeskAt) -> None:
    lines = Typed(iter([f"answer {UNDER}", "2"]))
    plain = Plain(desk_at(Stage.SET, out=OUT), USUAL_KEYS, lines)
    plain.begin()
    assert plain.hear()
    assert "The set is too little." in lines.told
    assert "2: Set once more, each tooth as it leans, and measure it." in lines.told
    assert any("under the least of" in line for line in lines.told)
    assert any("Turn the saw to side 1" in line for line in lines.told)


@pytest.mark.parametrize("stage", [Stage.SET, Stage.DRESS])
def test_a_width_that_no_saw_has_is_asked_again(desk_at: DeskAt, stage: Stage) -> None:
    desk = desk_at(stage)
    marks = len(desk.sitting.state.marks)
    question = questions(desk, QuestionKind.ANSWER, {})
    assert question.check is not None
    assert "expected" in (question.check("0.5 in") or "")
    assert question.check(RIGHT) is None
    assert len(desk.sitting.state.marks) == marks
