"""Teeth that the last record told broken or low are offered in one key; a stump grows no tooth while nobody looks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from session.advice.saw_records import NO_HISTORY, SawRecords
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.log_reader import read_log
from session.log.sitting import Sitting
from session.machine.clock import SystemClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.known_teeth import known_teeth
from session.walk.measurables import NOT_LOOKED, Measurable
from session.walk.seen_marks import teeth_answer
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

At = Callable[..., Desk]


def to(desk: Desk, step: str, all_round: str = "something") -> Desk:
    """Pass over the looks before ``step``."""
    for _ in range(60):
        front = desk.moment.front
        assert front.place is not None
        if front.ask is Ask.WORK and front.place.step == step:
            return desk
        if front.ask is Ask.WORK and front.place.step == "all round":
            desk.act(Act.STROKES, desk.moment.said.choices.index(all_round) + 1)
        else:
            desk.act(Act.AGREE if front.ask.holds else Act.DONE)
    raise AssertionError(f"never came to {step}")


@pytest.fixture
def at(tmp_path: Path) -> Iterator[At]:
    desks: list[Desk] = []

    def begin(told: SawRecords = NO_HISTORY) -> Desk:
        recipe = load_recipe(find_recipe("crosscut-panel", []))
        sitting = Sitting.start(tmp_path / str(len(desks)), recipe, make_plan(recipe.saw), SystemClock())
        desks.append(Desk(sitting, guard_s=0.0, idle_s=9e9, records=lambda: told))
        return desks[-1]

    yield begin
    for desk in desks:
        desk.sitting.close()


@pytest.mark.parametrize(
    ("step", "told"),
    [
        ("broken teeth", SawRecords(broken=(12,))),
        ("broken teeth", SawRecords(broken=(12, 40, 41, 42))),
        ("low teeth", SawRecords(low=(7, 15))),
    ],
)
def test_known_teeth_are_taken_by_one_key(at: At, step: str, told: SawRecords) -> None:
    teeth = told.broken or told.low
    desk = to(at(told), step)
    said = desk.moment.said
    assert len(said.choices) == 1
    assert said.lines[0] == f"Expected: {said.choices[0]} by the records."
    assert not desk.act(Act.STROKES, 1).refused
    known = known_teeth(desk.sitting.state)
    assert (known.broken | known.low) == set(teeth)
    assert desk.sitting.state.measured[step].value == ", ".join(map(str, teeth))


def test_a_look_for_broken_teeth_passed_over_mends_none(at: At) -> None:
    desk = to(at(SawRecords(broken=(12,))), "broken teeth")
    assert "Skipped, they stay broken by the records." in desk.moment.said.lines
    assert desk.act(Act.DONE).note == "Skipped, not answered: find broken teeth. Broken stays 12 by the records."
    state = desk.sitting.state
    assert state.stumps == {12}
    assert known_teeth(state).broken == {12}
    assert state.passed_steps()[Stage.LOOK_OVER][-1] == "broken teeth"
    assert state.marks[-1].reason == NOT_LOOKED
    read = State.replay(desk.sitting.plan, read_log(desk.sitting.journal.path).marks)
    assert (read.broken, read.measured[Measurable.BROKEN_TEETH].entered) == ((12,), "12 by the records")
    # One answer, taken back as one; and whoever looks and finds none is believed.
    desk.act(Act.TAKE_BACK)
    assert desk.sitting.state.broken == ()
    assert desk.moment.place is not None
    assert desk.moment.place.step == "broken teeth"
    desk.steps.answer([teeth_answer(Measurable.BROKEN_TEETH, ())])
    assert desk.sitting.state.broken == ()


def test_left_out_as_known_it_mends_none_either(at: At) -> None:
    desk = to(at(SawRecords(broken=(12,))), "broken teeth")
    assert desk.leave_out("known from last time").note.endswith("known from last time. Broken stays 12 by the records.")
    assert desk.sitting.state.stumps == {12}
    desk.act(Act.TAKE_BACK)
    assert desk.sitting.state.broken == ()
    assert not to(at(), "broken teeth").leave_out("known from last time").note.endswith(".")


@pytest.mark.parametrize("left_out", [False, True])
def test_a_look_for_low_teeth_gone_past_keeps_those_of_the_record(at: At, left_out: bool) -> None:
    desk = to(at(SawRecords(low=(7, 15))), "low teeth")
    assert "Skipped, they stay low by the records." in desk.moment.said.lines
    reply = desk.leave_out("no light") if left_out else desk.act(Act.DONE)
    assert reply.note.endswith(f"{'no light' if left_out else 'find low teeth'}. Low stays 7, 15 by the records.")
    state = State.replay(desk.sitting.plan, read_log(desk.sitting.journal.path).marks)
    assert known_teeth(state).low == {7, 15}
    assert state.measured[Measurable.LOW_TEETH].entered == "7, 15 by the records"
    desk.act(Act.TAKE_BACK)
    assert Measurable.LOW_TEETH not in desk.sitting.state.measured
    # Whoever looks and finds none is believed.
    desk.steps.answer([teeth_answer(Measurable.LOW_TEETH, ())])
    assert known_teeth(desk.sitting.state).low == set()


def test_nothing_to_see_all_round_mends_none_either(at: At) -> None:
    desk = to(at(SawRecords(broken=(12,))), "line", all_round="nothing to see")
    assert desk.sitting.state.stumps == {12}


def test_without_records_nothing_is_offered_or_kept(at: At) -> None:
    desk = to(at(), "broken teeth")
    assert desk.moment.said.choices == ()
    desk.act(Act.DONE)
    assert Measurable.BROKEN_TEETH not in desk.sitting.state.measured
