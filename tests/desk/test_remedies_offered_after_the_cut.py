"""After the trial cut: which remedies are offered, in which order, at what cost, and until when."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from after_the_cut import FAULTS, AfterTheCut
from session.advice.cut_remedies import ALL_TRIED, TRIED, cut_remedies
from session.desk.act_reply import QuestionKind
from session.sentences.offers import Act
from session.walk import acts
from session.walk.measurables import NOT_ANSWERED, Measurable
from session.walk.stages import FACTS, TRIAL_CUT_STEP, Kind, Stage


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


@pytest.mark.parametrize(("fault", "offered"), [("good", False), ("binds", True)])
def test_more_is_offered_at_the_close_only_after_a_cut_that_was_not_good(
    after: Callable[..., AfterTheCut], fault: str, offered: bool
) -> None:
    at = after(fault)
    at.go_to(Stage.CLOSE)
    assert any(offer.act is Act.MORE for offer in at.desk.moment.offers) is offered


def test_a_second_cut_that_was_passed_over_claims_no_cut_and_the_first_fault_stays(
    after: Callable[..., AfterTheCut],
) -> None:
    at = after("wanders")
    question = at.remedies()
    assert question.then is not None
    assert not question.then(next(one for one in question.choices if "stone" in one)).refused
    at.go_to(Stage.PROVE, TRIAL_CUT_STEP)
    here = at.desk.moment.place
    assert here is not None
    assert here.round == 2
    assert not any(line.startswith("Answered") for line in at.desk.moment.said.lines), "that was the cut before"
    at.clock.pass_s(2.0)
    assert at.desk.act(Act.DONE).note == "Skipped, not answered: make a trial cut."
    assert at.outcomes[here].reason == NOT_ANSWERED
    cuts = at.sitting.state.tally.stages[Stage.PROVE]
    assert cuts.done == cuts.passed - 3, "sighted, needled and cut again without a word"
    at.go_to(Stage.CLOSE)
    assert any("not good (wanders)" in line for line in at.desk.moment.said.lines)
    at.clock.pass_s(2.0)
    assert at.desk.act(Act.MORE).opens is QuestionKind.REMEDY


@pytest.mark.parametrize("fault", FAULTS)
def test_the_rows_stand_in_one_order_however_often_they_are_opened(
    after: Callable[..., AfterTheCut], fault: str
) -> None:
    at = after(fault)
    first = at.remedies().choices
    for _ in range(2):
        at.clock.pass_s(2.0)
        assert at.desk.act(Act.MORE).opens is QuestionKind.REMEDY
        assert at.remedies().choices == first
    then = at.remedies().then
    assert then is not None
    assert not then(first[0]).refused
    at.go_to(Stage.PROVE, TRIAL_CUT_STEP)
    at.clock.pass_s(2.0)
    assert at.desk.act(Act.MORE).opens is QuestionKind.REMEDY, "before the next cut is told, another can be chosen"
    assert at.remedies().choices == first


def cut_again(at: AfterTheCut, fault: str, figures: str = "") -> None:
    """The remedy that was chosen is carried out, and the next cut told to have that fault."""
    at.go_to(Stage.PROVE, TRIAL_CUT_STEP)
    if figures:
        at.measured(figures)
    at.digit(FAULTS.index(fault) + 2)


def choose(at: AfterTheCut, words: str) -> str:
    question = at.remedies()
    assert question.then is not None
    chosen = next(one for one in question.choices if words in one)
    assert not question.then(chosen).refused
    return chosen


@pytest.mark.parametrize("second", ["rough", "slow"])
def test_a_remedy_after_which_the_cut_is_as_before_stands_last_and_says_so(
    after: Callable[..., AfterTheCut], second: str
) -> None:
    at = after("rough")
    chosen = choose(at, "Stone both sides once")
    cut_again(at, second)
    found = [one for one in at.remedies().choices[:-1] if "Stone both sides once" in one]
    if second == "rough":
        assert found == [TRIED + chosen]
        assert at.remedies().choices[-2] == TRIED + chosen
        assert ALL_TRIED in at.remedies().lines, "no other remedy of this saw takes steel"
        # Done once more all the same, it is told once more, and once.
        choose(at, TRIED)
        cut_again(at, "rough")
        assert at.remedies().choices[-2] == TRIED + chosen
    else:
        assert not any(one.startswith(TRIED) for one in at.remedies().choices)
        assert ALL_TRIED not in at.remedies().lines


@pytest.mark.parametrize(("then", "tried"), [("6 in, 3/4 in, 20 strokes, 1 mm left", False), (None, True)])
def test_a_side_stoned_is_offered_again_while_the_cut_gets_straighter(
    after: Callable[..., AfterTheCut], then: str | None, tried: bool
) -> None:
    at = after("")
    first = "6 in, 3/4 in, 20 strokes, 3 mm left"
    at.measured(first)
    at.digit(FAULTS.index("wanders") + 2)
    chosen = choose(at, "stone that side once")
    cut_again(at, "wanders", then or first)
    assert (TRIED + chosen in at.remedies().choices) is tried
    assert (chosen in at.remedies().choices) is not tried
