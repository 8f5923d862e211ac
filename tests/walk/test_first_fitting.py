"""Before the first bend or stroke: the lean of tooth 1 is held, and the first side has its guides fitted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from random_walks import onward, plans
from session.trade.saw import Leans
from session.trade.sides import gullets_of_side, teeth_leaning_away
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.rules import why_not
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import Plan

AT = datetime(2024, 3, 4, 18, 0, tzinfo=UTC)
STEEL = (Stage.SET, Stage.FILE, Stage.RESHAPE)

HandOf = Callable[..., Any]


def held(state: State) -> str:
    return state.front.name if state.front.ask is Ask.FIT else ""


def test_the_lean_is_held_before_the_first_bend_and_the_guides_before_the_first_stroke(hand_of: HandOf) -> None:
    hand, asked = hand_of(8), []
    while not hand.state.finished:
        now = hand.state.front
        if now.ask in (Ask.FIT, Ask.TURN) and now.name:
            asked.append((now.place.stage, now.side, now.name))
        hand.answer()
    assert [one for one in asked if one[0] in (Stage.SET, Stage.FILE)] == [
        (Stage.SET, 1, "lean"),
        (Stage.SET, 2, "saw"),
        # On the way back to side 1 the guides are put on, as nothing was filed before.
        *((Stage.FILE, 1, name) for name in ("saw", "guide", "rake", "fleam", "low")),
        *((Stage.FILE, 2, name) for name in ("saw", "guide", "fleam", "low")),
    ]


def test_where_nothing_is_set_the_first_side_is_fitted_with_the_saw_in_the_vise(
    hand_of: HandOf, only_filing: dict[str, Any]
) -> None:
    hand = hand_of(8, **only_filing)
    hand.to_ask(Ask.FIT)
    assert hand.state.reach is not None, "the saw is clamped first"
    found = []
    while name := held(hand.state):
        found.append(name)
        hand.answer()
    assert found == ["lean", "guide", "rake", "fleam"]
    assert hand.state.front.ask is Ask.WORK


@pytest.mark.parametrize("changes", [{"fleam": 0.0}, {"fleam": 0.0, "sides": 1}])
def test_a_saw_without_fleam_has_no_fleam_to_fit(
    hand_of: HandOf, only_filing: dict[str, Any], changes: dict[str, Any]
) -> None:
    hand = hand_of(8, **only_filing, **changes)
    hand.to_ask(Ask.FIT)
    assert hand.state.to_fit == ("lean", "guide", "rake")


def test_reshaping_is_square_across_and_filing_after_it_is_fitted_anew(hand_of: HandOf) -> None:
    hand = hand_of(8, leave_out=frozenset({Stage.SET}))
    hand.to_ask(Ask.WORK)
    hand.make(acts.decide, Stage.RESHAPE, True, "uneven")
    asked = []
    while hand.state.place is None or hand.state.place.side != 2:
        if held(hand.state):
            asked.append((hand.state.front.place.stage, held(hand.state)))
        hand.answer()
    assert asked == [
        *((Stage.RESHAPE, name) for name in ("lean", "guide", "rake")),
        *((Stage.FILE, name) for name in ("guide", "rake", "fleam")),
    ]


def test_filing_added_after_the_cut_is_fitted_anew_and_the_lean_is_not_asked_twice(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.CLOSE, step="left out"))
    hand.make(acts.add, Stage.FILE)
    asked = []
    while hand.state.place.stage is Stage.FILE:
        if hand.state.front.ask in (Ask.FIT, Ask.TURN) and hand.state.front.name:
            asked.append((hand.state.front.place.side, hand.state.front.name))
        hand.answer()
    first = asked[0][0]
    assert [name for side, name in asked if side == first and name in ("guide", "rake", "fleam")] == [
        "guide",
        "rake",
        "fleam",
    ]
    assert "lean" not in [name for _, name in asked]
    assert [name for side, name in asked if side != first] == ["saw", "guide", "fleam", "low"]


@pytest.mark.parametrize("told", [None, Leans.AWAY])
def test_it_is_held_whether_or_not_the_look_over_told_it(hand_of: HandOf, told: Leans | None) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.LOOK_OVER, step="lean"))
    if told is not None:
        hand.make(acts.measure, Measurable.FIRST_LEANS, str(told), entered=str(told))
    hand.to_ask(Ask.FIT)
    assert hand.state.front.name == "lean"
    mark = hand.answer()
    assert (mark.did, mark.what, mark.value, mark.stage) == (Did.MEASURED, "first leans", "away", Stage.SET)
    hand.make(acts.take_back)
    assert held(hand.state) == "lean", "taken back, it is asked again"


@pytest.mark.parametrize(
    ("planned", "seen", "stands"),
    [
        (Leans.AWAY, Leans.TOWARD, Leans.TOWARD),
        (Leans.TOWARD, Leans.AWAY, Leans.AWAY),
        (Leans.UNSET, Leans.TOWARD, Leans.TOWARD),
        (Leans.UNSET, Leans.AWAY, Leans.AWAY),
        (Leans.AWAY, Leans.UNSET, Leans.UNSET),
        (Leans.TOWARD, Leans.UNSET, Leans.TOWARD),
    ],
)
@pytest.mark.parametrize("at_the_look_over", [True, False])
def test_what_is_seen_turns_the_whole_walk(
    hand_of: HandOf, planned: Leans, seen: Leans, stands: Leans, at_the_look_over: bool
) -> None:
    hand = hand_of(9, first_leans=planned)
    if at_the_look_over:
        hand.to_place(Place(Stage.LOOK_OVER, step="lean"))
        hand.make(acts.measure, Measurable.FIRST_LEANS, str(seen), entered=str(seen))
    hand.to_ask(Ask.FIT)
    hand.make(acts.lean, seen)
    assert hand.state.plan.leans is stands
    while not hand.state.finished:
        hand.answer()
    by_side = {
        (stage, side): {p.tooth for p in hand.state.outcomes if (p.stage, p.side) == (stage, side) and p.tooth}
        for stage in (Stage.SET, Stage.FILE)
        for side in (1, 2)
    }
    for side in (1, 2):
        assert by_side[Stage.SET, side] == set(teeth_leaning_away(side, 9, stands))
        assert by_side[Stage.FILE, side] == set(gullets_of_side(side, 9, stands))
    assert State.replay(hand.plan, hand.state.marks) == hand.state


def test_a_log_that_planned_no_fitting_is_asked_for_none_and_goes_by_its_plan(plan_of: Callable[..., Plan]) -> None:
    before = plan_of(8, first_leans=Leans.AWAY).to_dict()
    del before["fit_items"]
    state, asked = State.start(Plan.from_dict(before)), set()
    while not state.finished:
        asked.add(state.front.ask)
        if state.place == Place(Stage.LOOK_OVER, step="lean"):
            state = state.after(acts.measure(state, AT, "first leans", "toward"))
        for mark in onward(state, AT):
            state = state.after(mark)
    assert Ask.FIT not in asked
    assert state.plan.leans is Leans.AWAY


@given(plans())
def test_no_tooth_is_bent_or_filed_before_its_lean_was_held_and_its_guides_fitted(plan: Plan) -> None:
    plan = replace(plan, taken_in=plan.taken_in | {Stage.RESHAPE})
    state, held_so_far = State.start(plan), set()
    while not state.finished:
        now, place = state.front, state.place
        if now.ask is Ask.FIT or (now.ask is Ask.TURN and now.name):
            held_so_far.add((now.name, now.place.stage if now.place else None))
        if now.ask is Ask.WORK and place is not None and place.stage in STEEL and place.tooth:
            assert "lean" in {name for name, _ in held_so_far}
            if place.stage is not Stage.SET:
                assert {("guide", place.stage), ("rake", place.stage)} <= held_so_far
            if place.stage is Stage.FILE and "fleam" in plan.fit_items:
                assert ("fleam", Stage.FILE) in held_so_far
        for mark in onward(state, AT):
            assert why_not(state, mark) is None
            state = state.after(mark)


@given(plans(), st.sampled_from(Leans), st.integers(0, 400))
def test_the_lean_told_at_any_time_moves_no_tooth_that_was_worked(plan: Plan, seen: Leans, when: int) -> None:
    state = State.start(plan)
    for _ in range(when):
        for mark in onward(state, AT):
            state = state.after(mark)
    if state.place is None:
        return
    worked = {place for place in state.outcomes if place.side and place.tooth}
    after = state.after(acts.lean(state, AT, seen))
    assert worked <= set(after.route.index)
    if worked:
        assert after.plan == state.plan
