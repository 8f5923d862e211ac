"""The check after a place set by hand asks about the place before the one in hand, and its dialog agrees with it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.acts import pause
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.stages import FACTS, Stage
from session.walk.work_plan import make_plan

CLOCK = SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))


@pytest.fixture
def open_at(tmp_path: Path) -> Iterator[Callable[[str, Stage], Desk]]:
    """Opens a desk on a supplied saw, of whose optional stages only one is asked for."""
    opened: list[Sitting] = []

    def begin(recipe: str, stage: Stage) -> Desk:
        found = load_recipe(find_recipe(recipe, []))
        out = frozenset(one for one, facts in FACTS.items() if facts.optional and one is not stage)
        opened.append(Sitting.start(tmp_path, found, make_plan(found.saw, leave_out=out), CLOCK))
        return Desk(keep_plan(opened[-1]), guard_s=0.0, idle_s=9e9)

    yield begin
    for sitting in opened:
        sitting.close()


def go_on(desk: Desk, reached: Callable[[], bool]) -> None:
    for _ in range(900):
        if reached():
            return
        CLOCK.pass_s(3.0)
        assert not desk.act(Act.AGREE if desk.moment.front.ask.holds else Act.DONE).refused
    raise AssertionError("never came there")


def asked(desk: Desk) -> Ask:
    return desk.moment.front.ask


def works_in(desk: Desk, stage: Stage) -> bool:
    place = desk.moment.front.place
    return desk.moment.front.ask is Ask.WORK and place is not None and place.stage is stage and place.tooth > 0


@pytest.mark.parametrize(
    ("recipe", "further"), [("crosscut-panel", 20), ("crosscut-panel", 30), ("rip", 33), ("rip", 12)]
)
def test_the_check_asks_about_the_place_before_the_one_set_by_hand(
    open_at: Callable[[str, Stage], Desk], recipe: str, further: int
) -> None:
    desk = open_at(recipe, Stage.FILE)
    go_on(desk, lambda: works_in(desk, Stage.FILE))
    state = desk.moment.state
    target, before = state.route.places[state.here + further], state.route.places[state.here + further - 1]
    assert not desk.set_place(target).refused
    assert desk.moment.front.ask is Ask.CHECK
    assert desk.moment.said.numeral == str(target.tooth)
    assert f"was {before} the last one worked?" in desk.moment.said.instruction
    assert desk.moment.said.lines[0] == f"Last worked here: {before}."
    shown = questions(desk, QuestionKind.SET_PLACE, {}).lines[0]
    assert shown.startswith(f"On screen: {target}, ")
    assert shown.endswith(f"last worked {before}.")
    assert desk.act(Act.AGREE).note == f"Checked: {before} agrees."
    checked = desk.moment.state.marks[-1]
    assert (checked.did, checked.value) == (Did.CHECKED, before.tooth)
    assert desk.moment.front.ask is not Ask.CHECK


def test_after_a_pause_the_check_still_asks_about_the_place_before(open_at: Callable[[str, Stage], Desk]) -> None:
    desk = open_at("rip", Stage.FILE)
    go_on(desk, lambda: works_in(desk, Stage.FILE))
    state = desk.moment.state
    target, before = state.route.places[state.here + 35], state.route.places[state.here + 34]
    desk.making.make(pause(state, CLOCK.now()))
    desk.act(Act.PAUSE)
    assert asked(desk) is Ask.CONFIRM
    assert not desk.set_place(target).refused
    assert asked(desk) is Ask.CHECK
    assert f"was {before} the last one worked?" in desk.moment.said.instruction


def test_at_a_check_met_in_order_the_dialog_shows_what_the_large_numeral_shows(
    open_at: Callable[[str, Stage], Desk],
) -> None:
    desk = open_at("rip", Stage.FILE)
    go_on(desk, lambda: desk.moment.front.ask is Ask.CHECK)
    last, place = desk.moment.front.place, desk.moment.state.place
    assert last is not None
    assert place is not None
    assert desk.moment.said.numeral == str(place.tooth)
    lines = questions(desk, QuestionKind.SET_PLACE, {}).lines
    assert lines[0].startswith(f"On screen: {place}, ")
    assert lines[0].endswith(f"last worked {last}.")


def test_in_grading_a_later_tooth_is_refused_at_once_in_words(open_at: Callable[[str, Stage], Desk]) -> None:
    desk = open_at("crosscut-panel", Stage.LEVEL)
    for _ in range(60):
        CLOCK.pass_s(3.0)
        place = desk.moment.front.place
        if works_in(desk, Stage.LEVEL):
            break
        grading = desk.moment.front.ask is Ask.WORK and place is not None and place.step == "flats"
        choice = next((n for n, one in enumerate(desk.moment.said.choices, 1) if "grade" in one), 0) if grading else 0
        act = Act.AGREE if desk.moment.front.ask.holds else Act.STROKES if choice else Act.DONE
        assert not desk.act(act, choice).refused
    assert works_in(desk, Stage.LEVEL)
    for _ in range(4):
        CLOCK.pass_s(3.0)
        desk.act(Act.STROKES, 2)
    question = questions(desk, QuestionKind.SET_PLACE, {})
    assert "together" not in " ".join(question.lines)
    wrong = question.check("20") or ""
    assert wrong.startswith("tooth 5 to tooth 19: each flat is graded on its own")
    assert question.check("2") is None
    assert question.check("5") is None
    assert question.then is not None
    assert not question.then("2").refused
    assert str(desk.moment.place) == "tooth 2"


def test_the_place_can_be_set_before_the_saw_is_shifted(open_at: Callable[[str, Stage], Desk]) -> None:
    desk = open_at("crosscut-panel", Stage.FILE)
    go_on(desk, lambda: works_in(desk, Stage.FILE))
    go_on(desk, lambda: asked(desk) is Ask.SHIFT)
    state, here = desk.moment.state, desk.moment.place
    assert here is not None
    target = state.route.places[state.here - 3]
    CLOCK.pass_s(3.0)
    assert desk.act(Act.SET_PLACE).opens is QuestionKind.SET_PLACE
    question = questions(desk, QuestionKind.SET_PLACE, {})
    assert question.check(str(target.tooth)) is None
    assert question.then is not None
    assert question.then(str(target.tooth)).note == f"The place is now {target}."
    assert desk.moment.place == target
    assert here not in desk.moment.state.outcomes


def test_before_a_question_is_answered_the_place_is_not_set_and_says_so(open_at: Callable[[str, Stage], Desk]) -> None:
    desk = open_at("crosscut-panel", Stage.FILE)
    go_on(desk, lambda: asked(desk) is Ask.FIT)
    CLOCK.pass_s(3.0)
    reply = desk.act(Act.SET_PLACE)
    assert (reply.opens, reply.refused) == (None, True)
    assert "First answer this" in reply.note


def test_rule_32_after_a_silence_at_a_check_the_place_is_asked_for_once(open_at: Callable[[str, Stage], Desk]) -> None:
    desk = open_at("crosscut-panel", Stage.FILE)
    go_on(desk, lambda: asked(desk) is Ask.CHECK)
    impatient = Desk(desk.sitting, guard_s=0.0, idle_s=60.0)
    impatient.touched()
    CLOCK.pass_s(3600.0)
    reply = impatient.act(Act.AGREE)
    assert reply.note.startswith("Checked: ")
    assert desk.sitting.state.marks[-1].did is Did.CHECKED
    assert desk.sitting.state.front.ask is not Ask.CONFIRM
