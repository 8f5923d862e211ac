"""A plan that nobody decided on is taken as advised by the key that goes on, and one take-back undoes that answer."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.advice.look_over import advice
from session.desk.act_reply import Reply
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.measurables import Measurable
from session.walk.stages import PLAN_STEP, Stage, facts_of
from session.walk.state import State
from session.walk.work_plan import make_plan

AtThePlan = Callable[..., Desk]


@pytest.fixture
def at_the_plan(tmp_path: Path) -> Iterator[AtThePlan]:
    """A desk at the plan, the looks before it passed over or answered by digit."""
    made: list[Sitting] = []

    def begin(digits: tuple[int, ...] = (), *, kept: bool = False) -> Desk:
        found, clock = load_recipe(find_recipe("crosscut-panel", [])), SetClock(datetime(2026, 11, 26, 8, tzinfo=UTC))
        made.append(Sitting.start(tmp_path, found, make_plan(found.saw), clock))
        desk = Desk(keep_plan(made[-1]) if kept else made[-1], guard_s=0.0, idle_s=9e9)
        left = list(digits)
        while (place := desk.moment.place) is None or place.step != PLAN_STEP:
            work = desk.moment.front.ask is Ask.WORK
            reply = desk.act(Act.STROKES, left.pop(0)) if work and left else desk.act(Act.DONE if work else Act.AGREE)
            assert not reply.refused
        return desk

    yield begin
    for one in made:
        one.close()


def go_on(desk: Desk) -> Reply:
    reply = desk.act(Act.DONE)
    assert not reply.refused
    return reply


def followed(desk: Desk) -> bool:
    """Whether the plan is as advised, stage by stage."""
    state = desk.sitting.state
    return all(one.take_in == (one.stage in state.taken_in) for one in advice(state, desk.moment.saw))


def test_the_key_that_goes_on_takes_no_more_steel_than_is_advised(at_the_plan: AtThePlan) -> None:
    desk = at_the_plan()
    assert desk.moment.against
    assert Stage.LEVEL in desk.sitting.state.taken_in
    assert "Go on: the plan that is advised: touch up." in desk.moment.said.instruction
    assert go_on(desk).note == "Taken as advised: file."
    assert followed(desk)
    assert Stage.LEVEL not in desk.sitting.state.taken_in


def test_what_somebody_decided_by_hand_stays(at_the_plan: AtThePlan) -> None:
    desk = at_the_plan(kept=True)
    before = desk.sitting.state.taken_in
    assert "Go on: your plan, as it stands." in desk.moment.said.instruction
    # Less and more are told of the advice, and no longer as if they were of the plan that stands.
    assert any(row.startswith("more than advised: ") for row in desk.moment.said.choices)
    assert not any(row.startswith(("less work: ", "more work: ")) for row in desk.moment.said.choices)
    go_on(desk)
    assert desk.sitting.state.taken_in == before
    assert not followed(desk)


@pytest.mark.parametrize("act", [Act.DONE, Act.AGREE])
def test_one_take_back_undoes_the_whole_answer(at_the_plan: AtThePlan, act: Act) -> None:
    desk = at_the_plan()
    before, here = desk.sitting.state, desk.moment.place
    assert not desk.act(act).refused
    made = [mark for mark in desk.sitting.state.marks if mark.seq >= before.next_seq]
    assert len(made) > 2, "it takes several marks"
    assert {mark.of for mark in made[1:]} == {made[0].seq}
    desk.act(Act.TAKE_BACK)
    after = desk.sitting.state
    assert (after.taken_in, after.added, dict(after.measured)) == (before.taken_in, before.added, dict(before.measured))
    assert desk.moment.place == here
    assert after.last_act == before.last_act


def test_a_log_whose_marks_name_no_first_is_taken_back_mark_by_mark(at_the_plan: AtThePlan) -> None:
    desk = at_the_plan()
    go_on(desk)
    state = desk.sitting.state
    # As an earlier version wrote it.
    old = State.replay(state.first, [replace(mark, of=None) for mark in state.marks])
    assert (old.taken_in, old.route.places, old.front) == (state.taken_in, state.route.places, state.front)
    (taken,) = acts.take_back_whole(old, state.marks[-1].at)
    assert taken.of == old.marks[-1].seq
    assert old.marks[-1].did is Did.DONE


def test_the_table_shows_what_going_on_takes(at_the_plan: AtThePlan) -> None:
    desk = at_the_plan()
    rows = desk.moment.said.choices
    assert rows[:4] == ("level: out, as advised", "reshape: out", "set: out, as advised", "file: in")
    shown = {row.partition(":")[0] for row in rows if ": in" in row}
    go_on(desk)
    state = desk.sitting.state
    assert shown == {str(stage) for stage in state.plan.order if facts_of(stage).optional and stage in state.taken_in}


def test_a_digit_moves_a_stage_against_what_its_row_shows(at_the_plan: AtThePlan) -> None:
    desk = at_the_plan()
    before = desk.sitting.state.taken_in
    assert desk.act(Act.STROKES, 3).note == "set: in."
    assert desk.moment.said.choices[:5] == (
        "level: out",
        "reshape: out",
        "set: in, not as advised",
        "file: in",
        "dress: out",
    )
    # The stage moved is in the plan that is gone on with, and so are the tools for it; the rest is as was shown.
    assert "saw set" in next(line for line in desk.moment.said.lines if line.startswith("Lay out:"))
    assert desk.sitting.state.taken_in & {Stage.LEVEL, Stage.SET, Stage.DRESS} == {Stage.SET}
    desk.act(Act.STROKES, 3)
    assert desk.moment.said.choices[2] == "set: out"
    for _ in range(2):
        desk.act(Act.TAKE_BACK)
    assert desk.sitting.state.taken_in == before
    assert desk.moment.said.choices[2] == "set: out, as advised"
    desk.act(Act.STROKES, 3)
    go_on(desk)
    assert Stage.SET in desk.sitting.state.taken_in


def test_what_is_done_without_a_screen_is_said_and_not_recorded_as_declined(at_the_plan: AtThePlan) -> None:
    desk = at_the_plan()
    plate = acts.measure(desk.sitting.state, desk.sitting.clock.now(), Measurable.PLATE, "rusty", entered="rusty")
    desk.sitting.make(plate)
    there = desk.moment
    assert any(str(one.what) == "clean" for one in there.judged.work)
    assert any(line.startswith("Before you go on, yourself: clean") for line in there.said.lines)
    assert not desk.act(Act.STROKES, 4).refused
    go_on(desk)
    assert desk.sitting.state.measured[Measurable.CHOSEN].value == "file; without a screen: clean"


def test_wax_waits_for_the_filing_where_the_plan_has_any(at_the_plan: AtThePlan) -> None:
    desk = at_the_plan()
    for what, told in ((Measurable.PLATE, "rusty"), (Measurable.LAST_CUT, "binds"), (Measurable.BRIGHT_POINTS, "none")):
        desk.sitting.make(acts.measure(desk.sitting.state, desk.sitting.clock.now(), what, told, entered=told))
    while (place := desk.sitting.state.place) is not None and place.step != PLAN_STEP:
        go_on(desk)
    assert {"clean", "wax"} <= {str(one.what) for one in desk.moment.judged.work}
    assert "Before you go on, yourself: clean, wax. No screen follows for that." in desk.moment.said.lines
    assert not desk.act(Act.STROKES, 4).refused, "all the same the saw is filed"
    waits = "Before you go on, yourself: clean. Wax it yourself when the filing is done, before a cut."
    assert f"{waits} No screen follows for that." in desk.moment.said.lines


def test_one_key_takes_all_that_the_recipe_asks_and_one_takes_it_back(at_the_plan: AtThePlan) -> None:
    desk = at_the_plan()
    before, wanted = desk.sitting.state.taken_in, desk.sitting.state.plan.taken_in
    rows = desk.moment.said.choices
    assert rows[-1].startswith("all of the recipe: level, set, file, dress")
    assert not desk.act(Act.STROKES, len(rows)).refused
    assert desk.sitting.state.taken_in == wanted
    assert [line for line in desk.moment.said.choices if line.startswith("all of the recipe")] == [], "it is that now"
    assert go_on(desk).note.startswith("The plan: level, set, file, dress")
    assert desk.sitting.state.taken_in == wanted, "going on takes what was chosen, and not the advice"
    assert desk.sitting.state.place is not None
    assert desk.sitting.state.place.step != PLAN_STEP
    desk.act(Act.TAKE_BACK)
    desk.act(Act.TAKE_BACK)
    assert desk.sitting.state.taken_in == before
    assert desk.moment.said.choices == rows


def test_rows_that_take_whole_plans_are_told_from_those_that_move_a_stage(at_the_plan: AtThePlan) -> None:
    desk = at_the_plan()
    rows, lines = desk.moment.said.choices, desk.moment.said.lines
    assert not any(row.endswith("work: nothing") for row in rows)
    stages = sum(facts_of(stage).optional for stage in desk.sitting.state.plan.order)
    (told,) = [line for line in lines if "moves a stage" in line]
    assert told == f"1 to {stages} moves a stage in or out; {stages + 1} or {stages + 2} takes that whole plan."
    assert "Advised: touch up, then prove." in lines


def test_looks_that_tell_whether_a_file_may_touch_the_saw_are_named_where_they_were_passed_over(
    at_the_plan: AtThePlan,
) -> None:
    named = "Not looked for today: a crack or hard teeth. Look before the first stroke."
    assert named in at_the_plan().moment.said.lines
    looked = at_the_plan((1, 1, 1)).moment
    assert not any(line.startswith("Not looked for today") for line in looked.said.lines)
