"""Work that is added: nothing is marked by it, and leveling brings the filing of the flats that it leaves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from made_saws import small_saw
from random_walks import onward, plans
from session.walk import acts
from session.walk.added_stages import FIRST_LATER, Added
from session.walk.added_work import CUT_IS_GOOD, fault_of_cut
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.measurables import Measurable
from session.walk.place import Place, Standing
from session.walk.route import route
from session.walk.rules import why_not
from session.walk.stages import FACTS, TRIAL_CUT_STEP, Stage
from session.walk.state import State
from session.walk.work_plan import Plan, make_plan

AT = datetime(2024, 3, 4, 18, 0, tzinfo=UTC)
AGAIN = [stage for stage, facts in FACTS.items() if facts.again]


def gone_on(plan: Plan, steps: int) -> State:
    state = State.start(plan)
    for _ in range(steps):
        for mark in onward(state, AT):
            state = state.after(mark)
    return state


@given(plan=plans(), steps=st.integers(0, 400), stage=st.sampled_from(AGAIN), passes=st.integers(0, 3))
def test_adding_work_changes_no_outcome(plan: Plan, steps: int, stage: Stage, passes: int) -> None:
    state = gone_on(plan, steps)
    mark = acts.add(state, AT, stage, passes=passes)
    if why_not(state, mark) is not None:
        return
    after = state.after(mark)
    assert dict(after.outcomes) == dict(state.outcomes)
    assert not any(after.standing(place) is Standing.DONE for place in set(after.route.places) - set(state.outcomes))
    assert set(state.route.places) <= set(after.route.places)


@given(plan=plans(), steps=st.integers(0, 400), more=st.integers(1, 3))
def test_leveling_after_filing_began_brings_the_filing_of_its_flats(plan: Plan, steps: int, more: int) -> None:
    state = gone_on(plan, steps)
    if not state.tally.begun(Stage.FILE):
        return
    for _ in range(more):
        mark = acts.add(state, AT, Stage.LEVEL)
        if why_not(state, mark) is not None:
            return
        state = state.after(mark)
    legs = [leg for leg in state.route.legs if leg.stage is Stage.LEVEL and leg.round >= FIRST_LATER]
    assert [len(leg.places) for leg in legs] == [more, 1], "all passes belong to one leveling, then its flats are seen"
    at = state.route.legs.index(legs[-1])
    filed = [leg for leg in state.route.legs[at + 1 :] if leg.flats == legs[-1].round]
    gullets = sorted(place.tooth for leg in filed for place in leg.places)
    assert gullets == list(range(1, plan.points + 1)), "ungraded, every gullet is looked at"
    assert state.route.legs[at + 1 : at + 1 + len(filed)] == tuple(filed), "its filing follows at once"


@given(plan=plans(), steps=st.integers(0, 400), stage=st.sampled_from(AGAIN), passes=st.integers(1, 3))
def test_what_is_added_before_the_trial_cut_is_proved_by_it(plan: Plan, steps: int, stage: Stage, passes: int) -> None:
    state = gone_on(plan, steps)
    cuts = [place for place in state.route.places if place.stage is Stage.PROVE]
    mark = acts.add(state, AT, stage, passes=passes)
    if not cuts or state.tally.begun(Stage.PROVE) or stage is Stage.PROVE or why_not(state, mark) is not None:
        return
    after = state.after(mark)
    assert [place for place in after.route.places if place.stage is Stage.PROVE] == cuts, "one cut proves it all"
    new = set(after.route.places) - set(state.route.places)
    assert new
    assert all(after.route.index[place] < after.route.index[cuts[0]] for place in new)
    assert State.replay(plan, after.marks).route.places == after.route.places


DRESSED = make_plan(small_saw(6, 2.0, dressing_passes=1))


def later_legs(*added: Added) -> list[tuple[Stage, int]]:
    legs = route(DRESSED, DRESSED.taken_in, added).legs
    first = next(n for n, leg in enumerate(legs) if leg.stage is Stage.PROVE)
    return [(leg.stage, leg.side) for leg in legs[first:]]


def test_what_goes_with_an_addition_is_done_before_the_cut() -> None:
    filed, dressed = [(Stage.FILE, 1), (Stage.FILE, 2)], [(Stage.DRESS, 2), (Stage.DRESS, 1)]
    cut, close = [(Stage.PROVE, 0)], [(Stage.CLOSE, 0)]
    file, dress = Added(Stage.FILE, seq=40), Added(Stage.DRESS, seq=41)
    joined = replace(dress, goes_with=40)
    assert later_legs(file, joined) == [*cut, *filed, *dressed, *cut, *close]
    # As logs have it that were begun before anything went with an addition: a cut after each.
    assert later_legs(file, dress) == [*cut, *filed, *cut, *dressed, *cut, *close]
    # What it went with was taken back: then it stands for itself, and the addition before keeps its cut.
    set_anew = Added(Stage.SET, seq=30)
    assert later_legs(set_anew, joined) == later_legs(set_anew, dress)


def test_a_log_that_names_no_addition_to_go_with_is_read_as_before(hand_of: Callable[..., Any]) -> None:
    hand = proved(hand_of(6))
    hand.make(acts.done)
    hand.make(acts.add, Stage.FILE)
    hand.make(acts.add, Stage.SET)
    assert [(one.stage, one.goes_with) for one in hand.state.added] == [(Stage.FILE, 0), (Stage.SET, 0)]
    rounds = [place.round for place in hand.state.route.places if place.step == TRIAL_CUT_STEP]
    assert rounds == [1, 2, 3]


def test_dressing_goes_with_filing_whatever_is_asked_before_the_filing(hand_of: Callable[..., Any]) -> None:
    hand = proved(hand_of(6, dressing_passes=1))
    hand.make(acts.done)
    first, dressed = acts.add_work(hand.state, AT, Stage.FILE)
    hand.state = hand.state.after(first)
    assert hand.state.front.ask in (Ask.TURN, Ask.SHIFT, Ask.FIT), "no place to work at yet"
    assert why_not(hand.state, dressed) is None
    later = replace(dressed, seq=dressed.seq + 1)
    hand.make(acts.pause)
    assert "paused" in (why_not(hand.state, later) or "")


@pytest.mark.parametrize("of", [1, 999])
def test_only_the_last_addition_has_something_go_with_it(hand_of: Callable[..., Any], of: int) -> None:
    hand = proved(hand_of(6))
    hand.make(acts.done)
    hand.make(acts.add, Stage.SET)
    wrong = replace(acts.add(hand.state, AT, Stage.FILE), of=of)
    assert why_not(hand.state, wrong) == f"mark {of} is not the last that added something, so nothing goes with it"


def test_only_what_was_added_and_not_begun_is_spared(hand_of: Callable[..., Any]) -> None:
    hand = proved(hand_of(6, dressing_passes=1))
    hand.make(acts.done)
    assert acts.spare(hand.state, AT) == ()
    hand.make(acts.add, Stage.DRESS)
    hand.make(acts.add, Stage.SET)
    both = acts.spare(hand.state, AT)
    assert [mark.of for mark in both] == [one.seq for one in reversed(hand.state.added)]
    hand.until(lambda state: state.place is not None and state.place.stage is Stage.SET)
    [mark] = acts.spare(hand.state, AT)
    assert (mark.did, mark.of, mark.reason) == (Did.TOOK_BACK, hand.state.added[1].seq, CUT_IS_GOOD)
    assert why_not(hand.state, mark) is None
    after = hand.state.after(mark)
    assert [one.stage for one in after.added] == [Stage.DRESS]
    assert dict(after.outcomes) == dict(hand.state.outcomes)
    assert acts.spare(after, AT) == ()


def proved(hand: Any) -> Any:
    """A hand before the trial cut."""
    hand.to_place(Place(Stage.PROVE, step=TRIAL_CUT_STEP))
    return hand


def test_only_the_gullets_beside_a_flat_are_filed_again(hand_of: Callable[..., Any]) -> None:
    hand = proved(hand_of(8))
    hand.make(acts.measure, Measurable.TRIAL_CUT, "jumps", entered="jumps")
    hand.make(acts.done)
    hand.make(acts.add, Stage.LEVEL)
    hand.to_place(Place(Stage.LEVEL, number=1, round=FIRST_LATER))
    hand.make(acts.done)
    hand.make(acts.add, Stage.LEVEL, passes=0)
    for tooth in range(1, 9):
        assert hand.state.place == Place(Stage.LEVEL, tooth=tooth, round=FIRST_LATER)
        hand.make(acts.grade, 1 if tooth == 4 else 0)
    hand.until(lambda state: state.place is not None and state.place.stage is Stage.CLOSE)
    filed = {p.tooth for p, mark in hand.state.outcomes.items() if p.stage is Stage.FILE and p.round == 2}
    assert filed == {3, 4}, "the back of tooth 4 lies in gullet 3, its front in gullet 4"
    standing = hand.state.standing(Place(Stage.FILE, 1, 2, round=2)), hand.state.alone(Place(Stage.FILE, 1, 2, round=2))
    assert standing == (Standing.LEFT_OUT, "no flat")
    assert Place(Stage.PROVE, step=TRIAL_CUT_STEP, round=2) in hand.state.outcomes, "and then it was cut again"
    assert State.replay(hand.plan, hand.state.marks).here == hand.state.here


def test_a_second_cut_takes_the_place_of_the_first_and_both_stand_in_the_log(hand_of: Callable[..., Any]) -> None:
    hand = proved(hand_of(8))
    hand.make(acts.measure, Measurable.CUT_LENGTH, 12.0, unit="in")
    hand.make(acts.measure, Measurable.TRIAL_CUT, "binds", entered="binds")
    hand.make(acts.done)
    assert fault_of_cut(hand.state) == "binds"
    hand.make(acts.add, Stage.SET)
    assert fault_of_cut(hand.state) == "", "something is being done about it"
    hand.to_place(Place(Stage.PROVE, step=TRIAL_CUT_STEP, round=2))
    assert Measurable.CUT_LENGTH in hand.state.measured
    hand.make(acts.measure, Measurable.TRIAL_CUT, "good", entered="good")
    assert Measurable.CUT_LENGTH not in hand.state.measured, "that was the length of the cut that bound"
    told = [mark.value for mark in hand.state.marks if mark.what == Measurable.TRIAL_CUT]
    assert told == ["binds", "good"]


def test_flats_are_graded_anew_after_another_pass(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(6)
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=0)
    for _ in range(6):
        hand.make(acts.grade, 2)
    hand.make(acts.check, 6)
    assert len(hand.state.flats) == 6
    hand.make(acts.add, Stage.LEVEL)
    hand.make(acts.done)
    assert hand.state.tally.flats_of(1) == {}, "a pass has widened them"
    assert hand.state.place == Place(Stage.LEVEL, step="flats")
    hand.make(acts.add, Stage.LEVEL, passes=0)
    assert hand.state.place == Place(Stage.LEVEL, tooth=1, number=2)
    for _ in range(6):
        hand.make(acts.grade, 3)
    assert set(hand.state.tally.flats_of(1)) == set(range(1, 7))
    passes = [p for p in hand.state.outcomes if p.stage is Stage.LEVEL and p.number and not p.tooth]
    assert hand.state.tally.rounds[1].passes == len(passes), "a flat graded anew is no pass"


def test_a_pass_in_the_middle_of_grading_ends_that_grading(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(6)
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=0)
    hand.make(acts.grade, 2)
    hand.make(acts.add, Stage.LEVEL)
    hand.make(acts.done)
    assert hand.state.place == Place(Stage.LEVEL, step="flats")
    assert hand.state.front.ask is Ask.WORK
    assert {mark.did for mark in hand.state.marks} >= {Did.ADDED}
