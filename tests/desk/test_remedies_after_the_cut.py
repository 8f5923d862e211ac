"""After the trial cut: asking for more work marks nothing, whatever is chosen, and the cut is made again."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest

from session.advice.cut_remedies import cut_remedies
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind, Reply
from session.desk.cut_verdict import ALL_THE_SAME, IT_WANDERS
from session.desk.desk import Desk
from session.desk.question import Question
from session.files.recipe import Recipe, load_recipe
from session.files.supplied import find_recipe
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk import acts
from session.walk.added_work import CUT_IS_GOOD
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.measurables import GOOD, MEASURABLES, Measurable
from session.walk.place import Place
from session.walk.stages import FACTS, TRIAL_CUT_STEP, Kind, Stage
from session.walk.state import State
from session.walk.work_plan import Plan, make_plan

FAULTS = MEASURABLES[Measurable.TRIAL_CUT].choices[1:]
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
        self.sitting = Sitting.start(folder, found, plan, self.clock)
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
    made: list[AfterTheCut] = []

    def begin(fault: str, recipe: str = "crosscut-panel") -> AfterTheCut:
        made.append(AfterTheCut(tmp_path / str(len(made)), fault, recipe))
        return made[-1]

    yield begin
    for one in made:
        one.sitting.close()


@pytest.mark.parametrize("fault", FAULTS)
def test_every_remedy_only_adds_places(after: Callable[..., AfterTheCut], fault: str) -> None:
    at = after(fault)
    choices = at.remedies().choices
    assert len(choices) > 1
    for choice in choices:
        before, places = at.outcomes, len(at.sitting.state.route.places)
        question = at.remedies()
        assert question.then is not None
        assert not question.then(choice).refused
        assert at.outcomes == before, "what was asked for was marked as done"
        if len(at.sitting.state.route.places) > places:
            assert at.desk.moment.place is not None
            assert at.desk.moment.place not in before
            # Taken back one by one, so that the next remedy is asked for at the same place.
            while at.sitting.state.added:
                at.clock.pass_s(2.0)
                assert not at.desk.act(Act.TAKE_BACK).refused


def test_a_leveling_remedy_levels_then_files_only_what_shines_then_cuts_again(
    after: Callable[..., AfterTheCut],
) -> None:
    at = after("jumps")
    state = at.sitting.state
    (level,) = [choice for choice in at.remedies().choices if "Level once" in choice]
    question = at.remedies()
    assert question.then is not None
    question.then(level)
    legs = at.sitting.state.route.legs[len(state.route.legs) - 1 :]
    assert [leg.stage for leg in legs][:5] == [Stage.LEVEL, Stage.LEVEL, Stage.FILE, Stage.FILE, Stage.PROVE]
    at.go_to(Stage.FILE)
    assert at.desk.moment.said.instruction.startswith("Only where a flat shines")
    at.go_to(Stage.PROVE)
    place = at.desk.moment.place
    assert place is not None
    assert (place.step, place.round) == (TRIAL_CUT_STEP, 2)


def test_filing_a_little_more_speaks_of_no_flat(after: Callable[..., AfterTheCut]) -> None:
    at = after("slow")
    (bright,) = [choice for choice in at.remedies().choices if "point shines" in choice]
    question = at.remedies()
    assert question.then is not None
    question.then(bright)
    at.go_to(Stage.FILE)
    words = at.desk.moment.said.instruction
    assert "point shines" in words
    assert "flat" not in words


def test_the_causes_can_be_asked_for_until_the_close_has_begun(after: Callable[..., AfterTheCut]) -> None:
    at = after("binds")
    at.go_to(Stage.CLOSE)
    said = at.desk.moment.said
    assert any("binds" in line and "more" in line for line in said.lines)
    at.clock.pass_s(2.0)
    assert at.desk.act(Act.MORE).opens is QuestionKind.REMEDY
    at.clock.pass_s(2.0)
    at.desk.act(Act.DONE)
    at.clock.pass_s(2.0)
    assert at.desk.act(Act.MORE).refused, "once the close has begun nothing is added"


@pytest.mark.parametrize("fault", FAULTS)
def test_a_rip_saw_hears_nothing_of_fleam(after: Callable[..., AfterTheCut], fault: str) -> None:
    assert not any("fleam" in choice for choice in after(fault, "rip").remedies().choices)


@pytest.mark.parametrize("fault", FAULTS)
def test_each_cause_stands_beside_its_remedy_and_its_cost_least_steel_first(
    after: Callable[..., AfterTheCut], fault: str
) -> None:
    at = after(fault)
    found = cut_remedies(at.sitting.state, at.sitting.saw, fault)
    assert [one.words for one in found] == list(at.remedies().choices[:-1])
    assert [one.steel for one in found] == sorted(one.steel for one in found)
    for one in found:
        assert one.words.endswith("(no steel)") is (one.steel == 0)
        assert one.words.endswith(" min)") is (one.steel > 0)
        assert one.extras, "every remedy leads to another cut"
        for extra in one.extras:
            assert extra.stage in (Stage.LEVEL, Stage.SET, Stage.FILE, Stage.DRESS, Stage.PROVE)
            assert extra.passes == (FACTS[extra.stage].kind is Kind.PASS), "one at a time, where passes are counted"
            assert bool(extra.sides) is (extra.stage is Stage.DRESS)


def test_a_cut_that_wanders_is_answered_with_looking_first(after: Callable[..., AfterTheCut]) -> None:
    found = after("wanders").remedies().choices
    assert found[0].startswith("Technique, plate and rows first")
    assert any("left" in choice and "stone" in choice for choice in found)
    assert any("right" in choice and "stone" in choice for choice in found)


def test_a_saw_that_binds_hears_of_plate_wood_and_wax_before_set(after: Callable[..., AfterTheCut]) -> None:
    found = after("binds").remedies().choices
    where = [next(n for n, one in enumerate(found) if word in one) for word in ("gum", "wood", "set")]
    assert where == sorted(where)


def test_rows_sighted_as_even_hear_nothing_of_uneven_set(after: Callable[..., AfterTheCut]) -> None:
    at = after("jumps")
    assert any("Uneven set" in choice for choice in at.remedies().choices)
    mark = acts.measure(at.sitting.state, at.clock.now(), Measurable.TROUGH, "even", entered="even")
    even = at.sitting.state.after(mark)
    assert not any("Uneven set" in one.words for one in cut_remedies(even, at.sitting.saw, "jumps"))


def test_what_takes_no_steel_is_followed_by_another_cut_alone(after: Callable[..., AfterTheCut]) -> None:
    at = after("wanders")
    question = at.remedies()
    assert question.then is not None
    question.then(question.choices[0])
    place = at.sitting.state.place
    assert place == Place(Stage.PROVE, step=TRIAL_CUT_STEP, round=2)


def test_one_key_goes_back_to_a_flagged_place_before_the_close(after: Callable[..., AfterTheCut]) -> None:
    at = after("slow")
    (bright,) = [choice for choice in at.remedies().choices if "point shines" in choice]
    question = at.remedies()
    assert question.then is not None
    question.then(bright)
    at.go_to(Stage.FILE)
    flagged = at.sitting.state.place
    at.clock.pass_s(2.0)
    assert not at.desk.act(Act.FLAG).refused
    at.go_to(Stage.CLOSE)
    assert at.desk.moment.said.choices == (f"look again: file, side 1: {flagged}",)
    at.clock.pass_s(2.0)
    assert at.desk.act(Act.STROKES, 2).refused
    at.digit(1)
    assert at.sitting.state.place == flagged
    at.go_to(Stage.CLOSE)
    assert list(at.desk.moment.said.choices) == []


def _dressed(folder: Path, fault: str) -> AfterTheCut:
    return AfterTheCut(folder, fault, left_out=frozenset({Stage.LEVEL, Stage.SET}))


def _choose(at: AfterTheCut, words: str) -> Reply:
    question = at.remedies()
    assert question.then is not None
    return question.then(next(choice for choice in question.choices if words in choice))


@pytest.mark.parametrize(("fault", "words"), [("slow", "point shines"), ("jumps", "Level once")])
def test_added_filing_is_dressed_before_the_cut_is_made_again(tmp_path: Path, fault: str, words: str) -> None:
    at = _dressed(tmp_path, fault)
    before = at.sitting.state.route.legs
    assert not _choose(at, words).refused
    stages = [leg.stage for leg in at.sitting.state.route.legs[len(before) - 1 :]]
    # Each side is dressed, and then the set is measured as it will be used.
    dressed = [Stage.DRESS] * 3
    assert stages[-7:] == [Stage.FILE, Stage.FILE, *dressed, Stage.PROVE, Stage.CLOSE]
    assert stages.count(Stage.PROVE) == 1
    at.go_to(Stage.DRESS)
    at.go_to(Stage.PROVE)
    assert at.sitting.state.place == Place(Stage.PROVE, step=TRIAL_CUT_STEP, round=2)
    at.sitting.close()


def test_a_good_cut_leaves_out_what_was_added_and_not_begun(after: Callable[..., AfterTheCut]) -> None:
    at = after("jumps")
    _choose(at, "Uneven set")
    assert [one.stage for one in at.sitting.state.added] == [Stage.SET, Stage.DRESS]
    at.go_to(Stage.PROVE, TRIAL_CUT_STEP)
    at.digit(1)
    assert [one.stage for one in at.sitting.state.added] == [Stage.SET]
    assert (at.sitting.state.marks[-1].did, at.sitting.state.marks[-1].reason) == (Did.TOOK_BACK, CUT_IS_GOOD)
    place = at.sitting.state.place
    assert place is not None
    assert place.stage is Stage.CLOSE


def test_a_cut_that_is_still_not_good_goes_on_with_the_remedy(after: Callable[..., AfterTheCut]) -> None:
    at = after("jumps")
    _choose(at, "Uneven set")
    at.go_to(Stage.PROVE, TRIAL_CUT_STEP)
    at.digit(1 + MEASURABLES[Measurable.TRIAL_CUT].choices.index("jumps"))
    assert [one.stage for one in at.sitting.state.added] == [Stage.SET, Stage.DRESS]
    at.go_to(Stage.DRESS)


@pytest.mark.parametrize(("fault", "offered"), [("good", False), ("binds", True)])
def test_more_is_offered_at_the_close_only_after_a_cut_that_was_not_good(
    after: Callable[..., AfterTheCut], fault: str, offered: bool
) -> None:
    at = after(fault)
    at.go_to(Stage.CLOSE)
    assert any(offer.act is Act.MORE for offer in at.desk.moment.offers) is offered


def test_one_take_back_undoes_what_one_press_added(tmp_path: Path) -> None:
    at = _dressed(tmp_path, "slow")
    question = questions(at.desk, QuestionKind.MORE, {})
    assert question.then is not None
    places = at.sitting.state.route.places
    assert not question.then("file lightly once more, both sides").refused
    assert [one.stage for one in at.sitting.state.added] == [Stage.FILE, Stage.DRESS]
    at.clock.pass_s(2.0)
    reply = at.desk.act(Act.TAKE_BACK)
    assert not reply.refused
    assert reply.note.endswith("and what it went with.")
    assert at.sitting.state.added == ()
    assert at.sitting.state.route.places == places
    at.sitting.close()


@pytest.mark.parametrize(
    ("answer", "verdict", "opens"), [(IT_WANDERS, "wanders", QuestionKind.REMEDY), (ALL_THE_SAME, GOOD, None)]
)
def test_a_good_cut_far_off_its_line_is_asked_about_and_either_answer_holds(
    after: Callable[..., AfterTheCut], answer: str, verdict: str, opens: QuestionKind | None
) -> None:
    at = after("")
    at.measured("12 in, 3/4 in, 40 strokes, 3 mm right")
    place, marks = at.desk.moment.place, len(at.sitting.state.marks)
    reply = at.good()
    assert reply.opens is QuestionKind.CUT_DOUBT
    assert (at.desk.moment.place, len(at.sitting.state.marks)) == (place, marks), "nothing is marked before the answer"
    question = questions(at.desk, QuestionKind.CUT_DOUBT, {})
    # 3 mm over 12 in, which are 304.8 mm: 0.98 mm over 100 mm.
    assert question.lines[0].startswith("Told: 3 mm in 12 in to the right, 1.0 mm in 100 mm")
    assert question.choices == (IT_WANDERS, ALL_THE_SAME)
    assert question.then is not None
    assert question.then(answer).opens is opens
    assert at.verdict() == verdict
    assert at.desk.moment.place != place


@pytest.mark.parametrize("figures", ["12 in, 3/4 in, 40 strokes", "12 in, 3/4 in, 40 strokes, 1 mm right", ""])
def test_a_good_cut_near_its_line_or_without_figures_is_taken_at_its_word(
    after: Callable[..., AfterTheCut], figures: str
) -> None:
    at = after("")
    if figures:
        at.measured(figures)
    reply = at.good()
    assert reply.opens is None
    assert reply.note.startswith("Proved")
    assert at.verdict() == GOOD


def test_figures_of_an_earlier_cut_contradict_no_later_one(after: Callable[..., AfterTheCut]) -> None:
    at = after("")
    at.measured("12 in, 3/4 in, 40 strokes, 3 mm left")
    at.digit(MEASURABLES[Measurable.TRIAL_CUT].choices.index("rough") + 1)
    question = at.remedies()
    assert question.then is not None
    question.then(question.choices[0])
    at.go_to(Stage.PROVE)
    assert at.good().opens is None
    assert at.verdict() == GOOD
