"""The fold: what each mark changes, and that what was taken back might as well never have been."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields
from typing import Any

import pytest

from session.trade.grades import SHARES
from session.trade.lengths import Length
from session.walk import acts, place_moves
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.measurables import IN_THE_LINE, Measurable
from session.walk.place import Place, Standing
from session.walk.stages import Stage
from session.walk.state import State

HandOf = Callable[..., Any]


def effect(state: State) -> dict[str, Any]:
    return {f.name: getattr(state, f.name) for f in fields(State) if f.name not in ("marks", "taken", "worked")}


def test_before_the_first_mark(hand_of: HandOf) -> None:
    state = hand_of().state
    assert state.place == Place(Stage.LOOK_OVER, step="bright points")
    assert (state.next_seq, state.last_act, state.side, state.reach) == (1, None, 1, None)
    assert [state.paused, state.unconfirmed, state.finished] == [False] * 3
    assert state.left_out() == ()


def test_the_four_standings_of_a_place(hand_of: HandOf) -> None:
    hand = hand_of()
    first, second, third, fourth = hand.state.route.places[:4]
    hand.to_place(first)
    hand.make(acts.done)
    hand.make(acts.leave_out, "the plate is still in its sheath")
    assert [hand.state.standing(p) for p in (first, second, third, fourth)] == [
        Standing.DONE,
        Standing.LEFT_OUT,
        Standing.IN_HAND,
        Standing.AHEAD,
    ]
    ((place, mark),) = hand.state.left_out()
    assert place == second
    assert mark.reason == "the plate is still in its sheath"


def test_flags_and_measures_keep_the_last(hand_of: HandOf) -> None:
    hand = hand_of()
    hand.to_ask(Ask.WORK)
    place = hand.state.place
    hand.make(acts.flag, "a chip?")
    hand.make(acts.flag, "no, a filing")
    hand.make(acts.measure, "over the set", 1.1, unit="mm", entered="1,1 mm")
    hand.make(acts.measure, "over the set", 1.2, unit="mm", entered="1.2 mm")
    assert hand.state.flags[place].reason == "no, a filing"
    assert hand.state.measured["over the set"].value == 1.2
    assert hand.state.place == place, "neither moves on"
    hand.make(acts.take_back)
    assert hand.state.measured["over the set"].entered == "1,1 mm"


def test_turning_puts_the_saw_at_the_reach_of_the_other_side(hand_of: HandOf) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0))
    hand.to_ask(Ask.TURN, Stage.FILE)  # side 2 was set last; the first turn of filing is back to side 1
    hand.until(lambda state: state.front.ask is Ask.TURN and not state.front.name)
    # The block is not on the file yet, so that it is put on, and its rake looked at.
    assert hand.state.stand.turn_items == {"saw", "guide", "rake", "fleam", "low"}
    hand.make(acts.turn)
    assert (hand.state.side, hand.state.reach, hand.state.stand.turn_items) == (1, (1, 6), frozenset())
    hand.to_ask(Ask.SHIFT)
    hand.make(acts.shift)
    assert hand.state.reach == (7, 12)


def test_a_check_is_asked_again_when_its_place_is_gone_through_again(hand_of: HandOf) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0))
    hand.to_place(Place(Stage.FILE, 1, 7))
    at_check = Place(Stage.FILE, 1, 5)
    assert at_check in hand.state.checked
    for mark in place_moves.moves_to(hand.state, hand.at, Place(Stage.FILE, 1, 3)):
        hand.put(mark)
    hand.to_ask(Ask.CHECK)
    assert hand.state.front.place == at_check


@pytest.mark.parametrize(("after", "asked_again"), [("pause", False), ("restart", True), ("no key", False)])
def test_resuming_asks_for_the_place_and_mostly_for_the_cautions(
    hand_of: HandOf, after: str, asked_again: bool
) -> None:
    # Bench rules 3, 12 and 13.
    hand = hand_of()
    hand.to_ask(Ask.WORK)
    place, cautions = hand.state.place, hand.state.acknowledged
    hand.make(acts.resume, after=after, seconds=100.0)
    assert hand.state.unconfirmed
    assert hand.state.place == place
    assert hand.state.acknowledged == (frozenset() if asked_again else cautions)
    hand.make(acts.confirm, "yes")
    assert not hand.state.unconfirmed
    assert hand.state.place == place


def test_pausing_holds_everything(hand_of: HandOf) -> None:
    hand = hand_of()
    hand.to_ask(Ask.WORK)
    hand.make(acts.pause)
    assert hand.state.paused
    hand.make(acts.resume, after="pause", seconds=5.0)
    assert not hand.state.paused


def test_a_stage_decided_in_and_out(hand_of: HandOf) -> None:
    hand = hand_of()
    hand.to_ask(Ask.WORK)
    hand.make(acts.decide, Stage.RESHAPE, True, "three dog teeth near the toe")
    hand.make(acts.decide, Stage.SET, False, "set enough for dry wood")
    assert hand.state.taken_in == frozenset(Stage) - {Stage.SET}
    assert not [place for place in hand.state.route.places if place.stage is Stage.SET]
    hand.make(acts.take_back)
    assert Stage.SET in hand.state.taken_in
    assert Stage.RESHAPE in hand.state.taken_in


def test_a_pass_added_after_leveling_brings_the_walk_back_to_it(hand_of: HandOf) -> None:
    hand = hand_of()
    hand.to_place(Place(Stage.SET, 1, 3))
    hand.make(acts.add, Stage.LEVEL, passes=1)
    assert hand.state.place == Place(Stage.LEVEL, number=2)
    hand.until(lambda state: state.place is not None and state.place.stage is not Stage.LEVEL)
    assert hand.state.place == Place(Stage.SET, 1, 3)


def test_points_counted_on_the_saw_override_the_computed_ones(hand_of: HandOf) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0))
    hand.to_ask(Ask.WORK)
    hand.make(acts.measure, Measurable.POINTS, 14, unit=IN_THE_LINE)
    assert (hand.state.plan.points, hand.state.plan.reaches) == (14, ((1, 5), (6, 10), (11, 14)))
    assert hand.state.first.points == 12, "the header's plan is never changed"
    assert Place(Stage.FILE, 2, 14) in hand.state.route.index
    hand.make(acts.take_back)
    assert (hand.state.plan, hand.state.route) == (hand.state.first, State.start(hand.plan).route)


def test_flats_graded_again_after_reshaping_are_the_ones_that_count(hand_of: HandOf) -> None:
    hand = hand_of(3)
    hand.to_ask(Ask.WORK)
    hand.make(acts.decide, Stage.RESHAPE, True, "dog teeth")
    for round_, grades in ((1, (4, 0, 2)), (2, (2, 1, 2))):
        hand.to_place(Place(Stage.LEVEL, step="flats", round=round_))
        hand.make(acts.add, Stage.LEVEL, passes=0)
        for tooth, grade in enumerate(grades, 1):
            hand.to_place(Place(Stage.LEVEL, tooth=tooth, round=round_))
            hand.make(acts.grade, grade)
            # Grades are of one round only: the earlier flats are gone with the reshaping.
            assert hand.state.flats == {n: SHARES[one] for n, one in enumerate(grades[:tooth], 1)}
    hand.make(acts.take_back)
    assert hand.state.flats == {1: SHARES[2], 2: SHARES[1]}


def test_taking_back_goes_all_the_way(hand_of: HandOf) -> None:
    hand = hand_of(4)
    before_act: list[dict[str, Any]] = []

    def claimed() -> dict[str, Any]:
        # What is acknowledged claims nothing about the saw, and is not taken back.
        state = hand.state
        claims = {k: v for k, v in effect(state).items() if k not in ("acknowledged", "stand")}
        return {**claims, "side": state.side, "reach": state.reach}

    while hand.state.front.ask is not Ask.END:
        before = claimed()
        hand.answer()
        if hand.state.last_act == hand.state.marks[-1]:
            before_act.append(before)
    assert len(before_act) > 30
    for before in reversed(before_act):
        hand.make(acts.take_back)
        assert claimed() == before
    assert hand.state.last_act is None
    assert hand.state.outcomes == {}


def test_a_place_taken_back_out_of_turn_is_in_hand_and_then_passed_over(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.SET, 1, 7))
    missed = hand.state.outcomes[Place(Stage.SET, 1, 3)]
    hand.make(acts.take_back, of=missed.seq)
    assert hand.state.place == Place(Stage.SET, 1, 3)
    hand.make(acts.done)
    assert hand.state.place == Place(Stage.SET, 1, 7)


def test_the_fold_passes_over_marks_it_cannot_use(hand_of: HandOf) -> None:
    hand = hand_of()
    at = hand.at
    odd = [
        Mark(seq=1, at=at, did=Did.DONE),
        Mark(seq=2, at=at, did=Did.TURNED, side=7),
        Mark(seq=3, at=at, did=Did.SHIFTED, tooth=999),
        Mark(seq=4, at=at, did=Did.TOOK_BACK),
        Mark(seq=5, at=at, did=Did.TOOK_BACK, of=4),
        Mark(seq=6, at=at, did=Did.MEASURED, value=3),
        Mark(seq=7, at=at, did=Did.ADDED),
        Mark(seq=8, at=at, did=Did.DECIDED),
        Mark(seq=9, at=at, did=Did.ACKNOWLEDGED),
    ]
    after = State.replay(hand.plan, odd)
    assert effect(after) == effect(hand.state)
    assert after.next_seq == 10


def test_an_amount_that_is_no_count_of_passes_adds_one(hand_of: HandOf) -> None:
    hand = hand_of(4)
    for value in (True, -3, 0, "two", 2.5):
        state = hand.state.after(Mark(seq=1, at=hand.at, did=Did.ADDED, stage=Stage.DRESS, value=value))
        assert [added.passes for added in state.added] == [1]


def test_earlier_states_are_not_touched(hand_of: HandOf) -> None:
    hand = hand_of(6)
    states = [(hand.state, effect(hand.state), repr(hand.state))]
    while not hand.state.finished:
        hand.answer()
        states.append((hand.state, effect(hand.state), repr(hand.state)))
    for state, was, shown in states:
        assert effect(state) == was
        assert repr(state) == shown
