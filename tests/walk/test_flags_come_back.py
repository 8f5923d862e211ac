"""Flags come back at the end of the side and before the close, and one key goes to each flagged place."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from session.walk import acts
from session.walk.flagged_places import flags_asked, looked_again, open_flags, strokes_before
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.rules import why_not
from session.walk.stages import LEFT_OUT_STEP, Stage
from session.walk.state import State


def flagged(hand: Any, place: Place) -> Place:
    hand.to_place(place)
    hand.make(acts.flag)
    hand.make(acts.done)
    return place


def side_end(state: State) -> bool:
    place = state.front.place
    if state.front.ask is not Ask.CHECK or place is None:
        return False
    leg, _ = state.route.leg_at(state.route.index[place])
    return leg.stage is Stage.FILE and place == leg.places[-1]


def test_a_flag_is_asked_about_where_its_side_ends_and_again_before_the_close(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(8)
    one = flagged(hand, Place(Stage.FILE, 1, 3))
    hand.until(side_end)
    assert flags_asked(hand.state) == (one,)
    other = flagged(hand, Place(Stage.FILE, 2, 4))
    hand.until(side_end)
    assert flags_asked(hand.state) == (other,), "of this side alone"
    hand.to_place(Place(Stage.CLOSE, step=LEFT_OUT_STEP))
    assert flags_asked(hand.state) == (one, other)
    hand.until(lambda state: state.front.ask is Ask.END)
    assert open_flags(hand.state) == (one, other), "where the end is decided they are open still"


def test_gone_back_to_only_that_place_is_open_and_then_the_flag_is_settled(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(8)
    one = flagged(hand, Place(Stage.FILE, 1, 3))
    hand.to_place(Place(Stage.CLOSE, step=LEFT_OUT_STEP))
    before = dict(hand.state.outcomes)
    hand.make(acts.look_again, one)
    assert set(before) - set(hand.state.outcomes) == {one}
    assert hand.state.place == one
    hand.to_place(Place(Stage.CLOSE, step=LEFT_OUT_STEP))
    assert flags_asked(hand.state) == ()
    assert open_flags(State.replay(hand.plan, hand.state.marks)) == ()
    hand.until(lambda state: state.finished)


def test_strokes_of_a_look_again_are_added_to_those_counted_there(hand_of: Callable[..., Any]) -> None:
    for more, told in ((None, 2), (1, 3)):
        hand = hand_of(8)
        one = Place(Stage.FILE, 1, 3)
        hand.to_place(one)
        hand.make(acts.flag)
        hand.make(acts.done, strokes=2)
        hand.to_place(Place(Stage.CLOSE, step=LEFT_OUT_STEP))
        hand.make(acts.look_again, one)
        hand.until(lambda state: state.front.ask is Ask.WORK)
        assert strokes_before(hand.state) == 2
        assert hand.make(acts.done, strokes=more).strokes == told
        assert hand.state.outcomes[one].strokes == told
        assert hand.state.tally.stages[Stage.FILE].teeth[3] == told
        assert strokes_before(hand.state) == 0, "of the next place"


def test_a_slip_taken_back_does_not_settle_a_flag(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(8)
    one = flagged(hand, Place(Stage.FILE, 1, 3))
    hand.make(acts.take_back)
    hand.make(acts.done)
    assert open_flags(hand.state) == (one,)


def test_going_back_is_put_back_and_all_is_as_it_was(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(8)
    one = flagged(hand, Place(Stage.FILE, 1, 3))
    hand.to_place(Place(Stage.CLOSE, step=LEFT_OUT_STEP))
    before = hand.state
    assert looked_again(before) is None
    again = hand.make(acts.look_again, one)
    assert looked_again(hand.state) == again
    hand.make(acts.put_back, again)
    for state in (hand.state, State.replay(hand.plan, hand.state.marks)):
        assert (state.place, dict(state.outcomes), state.taken) == (before.place, dict(before.outcomes), before.taken)
        assert flags_asked(state) == (one,)
        assert state.last_act == before.last_act, "what is taken back next is what was before"
    assert looked_again(hand.state) is None
    assert why_not(hand.state, acts.put_back(hand.state, hand.at, again)) is not None


def test_what_was_marked_since_is_taken_back_before_going_back_is(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(8)
    one = flagged(hand, Place(Stage.FILE, 1, 3))
    hand.to_place(Place(Stage.CLOSE, step=LEFT_OUT_STEP))
    again = hand.make(acts.look_again, one)
    hand.to_place(one)
    hand.make(acts.done)
    assert looked_again(hand.state) is None
    while looked_again(hand.state) is None:
        hand.make(acts.take_back)
    assert looked_again(hand.state) == again
    assert one not in hand.state.outcomes
