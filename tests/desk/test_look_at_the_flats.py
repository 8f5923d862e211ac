"""One pass, then a look: what is told of the flats is answered: more, enough, or reshaping, which comes in itself."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import pytest

from leveling_desk import LOOK, Leveling
from named_works import works
from session.advice.flats_verdict import GO_ON, LEAVE_OUT
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.desk import Desk
from session.sentences.offers import Act
from session.walk import acts
from session.walk.mark import Did
from session.walk.measurables import ANOTHER_PASS, BIG_AND_SMALL, GRADE_ON_STRIP, GRADE_THEM, WIDE, Measurable
from session.walk.place import Place
from session.walk.stages import Stage


@pytest.fixture
def at(tmp_path: Path) -> Iterator[Leveling]:
    leveling = Leveling(tmp_path).go_on(LOOK)
    yield leveling
    leveling.sitting.close()


def passes(at: Leveling) -> list[Place]:
    return [p for p in at.sitting.state.route.places if p.stage is Stage.LEVEL and p.number and p.round == 1]


def test_one_pass_is_planned_and_then_comes_the_look(at: Leveling) -> None:
    assert [place.number for place in passes(at)] == [1]
    assert "One more pass" not in at.told
    assert "Enough" not in at.told


@pytest.mark.parametrize(("untouched", "more"), [(0, False), (1, False), (3, False), (4, True), (30, True)])
def test_the_points_without_a_flat_are_answered_with_more_or_enough(at: Leveling, untouched: int, more: bool) -> None:
    before = dict(at.sitting.state.outcomes)
    note = at.type(str(untouched)).note
    # The look is over, so that the line says what going on does.
    does = "another pass" if more else "these flats will do"
    assert at.desk.moment.said.instruction == f"Go on: {does}. Or pick another answer."
    for words in (note, at.told):
        assert ("One more pass." in words) is more
        assert ("Enough." in words) is not more
    assert dict(at.sitting.state.outcomes) == before, "told is not done"
    assert at.sitting.state.place == LOOK, "the person says what is done of it"
    assert at.sitting.state.measured[Measurable.UNTOUCHED].value == untouched


def test_another_pass_makes_what_was_told_of_the_flats_void(at: Leveling) -> None:
    at.type("30")
    at.choose(ANOTHER_PASS)
    assert [place.number for place in passes(at)] == [1, 2]
    at.press(Act.DONE)
    assert at.sitting.state.place == LOOK
    assert Measurable.UNTOUCHED not in at.sitting.state.measured
    assert "One more pass" not in at.told
    at.type("2")
    assert "2 low" in at.told
    assert "Enough." in at.told


def test_after_as_many_passes_as_print_has_it_the_rest_may_wait(at: Leveling) -> None:
    for _ in range(2):
        at.type("20")
        assert "the next sharpenings" not in at.told
        at.choose(ANOTHER_PASS)
        at.press(Act.DONE)
    at.type("20")
    assert "One more pass." in at.told
    assert "leave the rest to the next sharpenings" in at.told


def test_few_low_teeth_wait_once_as_many_passes_were_made_as_print_has(at: Leveling) -> None:
    """Up to one in twenty may wait; a pass for them takes steel off all the others."""
    few = at.sitting.state.plan.points // 20
    for _ in range(2):
        at.type(str(few))
        assert "One more pass." in at.told
        at.choose(ANOTHER_PASS)
        at.press(Act.DONE)
    at.type(str(few))
    assert f"{few} low after 3 passes: left until the next sharpenings" in at.told
    assert "Enough." in at.told
    at.type(str(few + 1))
    assert "One more pass." in at.told


def _seen(at: Leveling, *told: tuple[Measurable, str | float, str | None]) -> None:
    for what, value, unit in told:
        sitting = at.sitting
        sitting.make(acts.measure(sitting.state, at.clock.now(), what, value, unit=unit, entered=str(value)))


SLOW_AND_DULL = ((Measurable.BRIGHT_POINTS, "most", None), (Measurable.LAST_CUT, "slow", None))


@pytest.mark.parametrize(("more", "comes_in"), [(0, False), (3, True)])
def test_setting_comes_in_where_the_passes_made_leave_too_little(tmp_path: Path, more: int, comes_in: bool) -> None:
    """The dovetail saw, 0.022 in thick, has 1.6 thou a side and needs 1.5: it outlives one pass and not four."""
    at = Leveling(tmp_path, frozenset({Stage.SET})).go_on(Place(Stage.LOOK_OVER, step="bright points"))
    _seen(at, *SLOW_AND_DULL, (Measurable.OVER_POINTS, 0.0252, "in"))
    at.go_on(LOOK)
    for _ in range(more):
        at.choose(ANOTHER_PASS)
        at.press(Act.DONE)
    at.type("0")
    note = at.choose("good").note
    assert (Stage.SET in at.sitting.state.taken_in) is comes_in
    assert ("Setting comes in. After 4 passes: today's work leaves" in note) is comes_in
    if comes_in:
        # The person may decide otherwise, and it does not come back.
        at.press(Act.TAKE_BACK)
        at.press(Act.TAKE_BACK)
        assert Stage.SET not in at.sitting.state.taken_in
    at.sitting.close()


def test_a_set_that_nobody_measured_brings_no_setting_in(tmp_path: Path) -> None:
    at = Leveling(tmp_path, frozenset({Stage.SET})).go_on(Place(Stage.LOOK_OVER, step="bright points"))
    _seen(at, *SLOW_AND_DULL)
    at.go_on(LOOK)
    at.choose(ANOTHER_PASS)
    at.press(Act.DONE)
    at.choose("good")
    assert Stage.SET not in at.sitting.state.taken_in
    at.sitting.close()


def test_where_high_teeth_alone_are_leveled_sharp_ones_need_no_flat(tmp_path: Path) -> None:
    at = Leveling(tmp_path).go_on(Place(Stage.LOOK_OVER, step="bright points"))
    for what, value in ((Measurable.BRIGHT_POINTS, "none"), (Measurable.HIGH_TEETH, "12, 13")):
        sitting = at.sitting
        sitting.make(acts.measure(sitting.state, at.clock.now(), what, value, entered=value))
    at.go_on(LOOK).type("40")
    assert "Enough when teeth 12, 13 agree with their neighbors" in at.told
    assert "One more pass" not in at.told
    at.sitting.close()


@pytest.mark.parametrize(
    "text", ["-1", "1.5", "5000", "9" * 5000, "many", "²"], ids=["below", "half", "over", "long", "word", "raised"]
)
def test_what_no_count_of_points_can_be_is_refused_in_words(at: Leveling, text: str) -> None:
    question = questions(at.desk, QuestionKind.ANSWER, {})
    wrong = question.check(text)
    assert wrong is not None
    assert "\n" not in wrong
    assert len(wrong) < 200


@pytest.mark.parametrize("told", [BIG_AND_SMALL, WIDE])
@pytest.mark.parametrize("typed", [False, True])
def test_reshaping_comes_in_by_what_is_told_of_the_flats(at: Leveling, told: str, typed: bool) -> None:
    before = dict(at.sitting.state.outcomes)
    note = (at.type if typed else at.choose)(told).note
    assert "Reshaping comes in." in note
    assert at.reshaping
    assert dict(at.sitting.state.outcomes) == before, "nothing is marked by it"
    last = at.sitting.state.marks[-1]
    assert (last.did, last.stage, last.value) == (Did.DECIDED, Stage.RESHAPE, True)
    assert last.reason
    assert last.reason in at.told
    source = at.told.split("(")[1].split(")")[0]
    assert works(source.replace(",", ";"))
    assert "off the line" in at.told
    assert "gullets" in at.told
    assert "min" in at.told
    assert (at.choices[0], at.choices[-1]) == (GO_ON, LEAVE_OUT)


def test_reshaping_that_came_in_is_left_out_by_one_key_and_does_not_come_back(at: Leveling) -> None:
    at.choose(BIG_AND_SMALL)
    at.choose(LEAVE_OUT)
    assert not at.reshaping
    assert "Left out today" in at.told
    at.press(Act.GUIDANCE)
    assert not at.reshaping
    at.press(Act.DONE)
    place = at.sitting.state.place
    assert place is not None
    assert place.stage not in (Stage.LEVEL, Stage.RESHAPE)


def test_taken_back_it_does_not_come_back_for_the_same_flats(at: Leveling) -> None:
    at.choose(WIDE)
    at.press(Act.TAKE_BACK)
    assert not at.reshaping
    at.press(Act.GUIDANCE)
    at.press(Act.GUIDANCE)
    assert not at.reshaping


def test_reshaping_is_followed_by_leveling_again_and_its_own_look(at: Leveling) -> None:
    at.choose(BIG_AND_SMALL)
    at.choose(GO_ON)
    assert at.sitting.state.place is not None
    assert at.sitting.state.place.stage is Stage.RESHAPE
    at.go_on(Place(Stage.LEVEL, step="flats", round=2))
    assert at.choices == ("good", ANOTHER_PASS, GRADE_THEM, GRADE_ON_STRIP), "it is done once"
    at.type("9")
    assert "One more pass." in at.told


GRADED: Mapping[str, tuple[Callable[[int], int], str]] = {
    "even": (lambda tooth: 2, "Enough."),
    "by chance": (lambda tooth: (3, 2, 2, 4, 1, 3, 3)[tooth % 7], "Enough."),
    "by turns": (lambda tooth: 4 if tooth % 2 else 2, "Reshaping is in the plan now"),
    "some low": (lambda tooth: 0 if tooth % 9 == 0 else 3, "One more pass."),
    "one row untouched": (lambda tooth: 0 if tooth % 2 else 3, "One more pass."),
}


@pytest.mark.parametrize("name", GRADED)
def test_graded_flats_say_it_by_themselves(at: Leveling, name: str) -> None:
    grades, words = GRADED[name]
    at.grade(grades)
    assert words in at.told
    assert at.reshaping is (name == "by turns")
    stage = [place for place in at.sitting.state.outcomes if place.stage is Stage.RESHAPE]
    assert stage == []


def test_leveling_taken_in_brings_the_filing_of_its_flats_and_marks_nothing(tmp_path: Path) -> None:
    out = frozenset({Stage.LEVEL, Stage.FILE})
    at = Leveling(tmp_path, out).go_on(Place(Stage.LOOK_OVER, step="plan"))
    before = dict(at.sitting.state.outcomes)
    at.choose("level: out")
    assert {Stage.LEVEL, Stage.FILE} <= at.sitting.state.taken_in
    assert dict(at.sitting.state.outcomes) == before
    # What the person leaves out all the same stays out.
    at.choose("file: in")
    assert Stage.FILE not in at.sitting.state.taken_in
    at.sitting.close()


def _space(at: Leveling) -> str:
    return next(offer.word for offer in at.desk.moment.offers if offer.act is Act.DONE)


def test_going_on_does_what_the_flats_ask_for_and_the_row_of_places_says_so(at: Leveling) -> None:
    assert _space(at) == "skip it"
    at.type("30")
    assert _space(at) == ANOTHER_PASS
    assert at.desk.moment.said.next == "pass 2"
    before = dict(at.sitting.state.outcomes)
    at.press(Act.DONE)
    assert [place.number for place in passes(at)] == [1, 2]
    assert dict(at.sitting.state.outcomes) == before, "work is added, and none is marked"
    assert Measurable.FLATS not in at.sitting.state.measured
    at.press(Act.DONE)
    at.type("1")
    assert _space(at) == "go on"
    assert at.desk.moment.said.next != "pass 3"
    at.press(Act.DONE)
    assert at.sitting.state.passed_steps().get(Stage.LEVEL) is None, "what was told is no question passed over"
    place = at.sitting.state.place
    assert place is not None
    assert place.stage is not Stage.LEVEL


def test_going_on_reshapes_where_the_sizes_ask_for_it(at: Leveling) -> None:
    at.choose(BIG_AND_SMALL)
    assert _space(at) == GO_ON
    at.press(Act.DONE)
    assert at.sitting.state.place is not None
    assert at.sitting.state.place.stage is Stage.RESHAPE


def test_graded_flats_are_not_offered_to_be_graded_before_another_pass(at: Leveling) -> None:
    at.grade(lambda tooth: 0 if tooth % 9 == 0 else 3)
    assert _space(at) == ANOTHER_PASS
    assert not {GRADE_THEM, GRADE_ON_STRIP} & set(at.choices)
    at.press(Act.DONE)
    at.press(Act.DONE)
    assert {GRADE_THEM, GRADE_ON_STRIP} <= set(at.choices)


def test_an_answer_that_brings_reshaping_says_so_and_is_recorded_in_its_own_words(at: Leveling) -> None:
    assert "over 1/3 of the pitch: reshape" in at.choices
    at.type("over 1/3 of the pitch: reshape")
    assert at.sitting.state.measured[Measurable.FLATS].value == WIDE


def test_a_second_press_in_a_hurry_does_not_mark_the_pass_that_the_first_one_added(tmp_path: Path) -> None:
    at = Leveling(tmp_path).go_on(LOOK)
    at.desk = Desk(at.sitting)
    at.type("30")
    at.press(Act.DONE)
    at.clock.pass_s(0.5)
    assert at.desk.act(Act.DONE).refused
    assert at.sitting.state.place == Place(Stage.LEVEL, number=2)
    at.sitting.close()
