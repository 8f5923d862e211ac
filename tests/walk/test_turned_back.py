"""A side that is come back to is turned to, clamped and fitted for before its stroke, and left again the same way."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from session.walk import acts
from session.walk.first_fitting import FOUND_ITEM
from session.walk.flagged_places import flags_left, open_flags
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.stages import LEFT_OUT_STEP, Stage
from session.walk.state import State

LAST = Place(Stage.CLOSE, step=LEFT_OUT_STEP)
GUIDES = ["guide", "rake", "fleam"]


def asked_until_work(hand: Any) -> list[tuple[Ask, str]]:
    """What is asked, one thing after the other, before a place is worked."""
    found = []
    while hand.state.front.ask is not Ask.WORK:
        found.append((hand.state.front.ask, hand.state.front.name))
        hand.answer()
    return found


def flag(hand: Any, *places: Place) -> None:
    for place in places:
        hand.to_place(place)
        hand.make(acts.flag)
        hand.make(acts.done)


ONE, TWO = Place(Stage.FILE, 1, 3), Place(Stage.FILE, 2, 4)


def test_a_flag_of_each_side_is_turned_clamped_and_fitted_for_anew(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(8, fleam=15.0)
    flag(hand, ONE, TWO)
    hand.to_place(LAST)
    other = 3 - hand.state.side
    for place in (ONE, TWO):
        hand.make(acts.look_again, place)
        asked = asked_until_work(hand)
        assert hand.state.place == place
        names = [name for _, name in asked]
        if place.side == other:
            assert asked[0] == (Ask.TURN, "saw")
            assert asked[-1] == (Ask.TURN, ""), "the tooth is found, and how it leans"
        else:
            assert asked[0] == (Ask.SHIFT, ""), "it was out of the vise"
            assert names[1] == FOUND_ITEM
        # They were off for the stone and the cut; from one flag to the other they are only turned.
        assert [name for name in names if name in GUIDES] == (GUIDES if place is ONE else ["guide", "fleam"])
        hand.make(acts.done)
        hand.to_place(LAST)
        other = 3 - hand.state.side


def test_from_one_flag_to_the_next_of_the_same_side_nothing_is_asked_twice(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(8)
    also = Place(Stage.FILE, 2, 6)
    flag(hand, TWO, also)
    hand.to_place(LAST)
    hand.make(acts.look_again, TWO)
    assert asked_until_work(hand)
    hand.make(acts.done)
    hand.to_place(LAST)
    hand.make(acts.look_again, also)
    assert asked_until_work(hand) == []


def at_the_turn(state: State) -> bool:
    return state.front.ask is Ask.TURN and state.front.side == 2 and state.front.name == "fleam"


@pytest.mark.parametrize("turned", [False, True])
def test_what_is_taken_back_across_a_turn_is_turned_back_to_and_turned_from_again(
    hand_of: Callable[..., Any], turned: bool
) -> None:
    hand = hand_of(8, fleam=15.0, leave_out=frozenset({Stage.LEVEL, Stage.SET}))
    hand.until(at_the_turn)
    if turned:
        hand.to_place(Place(Stage.FILE, 2, hand.state.place.tooth))
        hand.make(acts.take_back)  # the turn
    hand.make(acts.take_back)  # the check that ended side 1
    hand.make(acts.take_back)  # the last gullet of side 1
    assert hand.state.place.side == 1
    assert hand.state.side == 1
    assert hand.state.stand.seen_side == 2, "the saw itself was turned"
    asked = asked_until_work(hand)
    again = ["saw", "guide", "fleam", "low", ""] if turned else ["saw", "guide", "low", ""]
    assert asked == [(Ask.TURN, name) for name in again], "a guide that was not turned yet is not turned back"
    assert hand.state.front.place.side == 1
    hand.make(acts.done)
    asked = asked_until_work(hand)
    assert asked == [(Ask.CHECK, ""), *((Ask.TURN, name) for name in ("saw", "guide", "fleam", "low", ""))]
    assert State.replay(hand.plan, hand.state.marks).front == hand.state.front


def test_a_flag_that_was_looked_at_again_is_left_by_none(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(8)
    flag(hand, ONE, TWO)
    hand.to_place(LAST)
    assert tuple(flags_left(hand.state)) == (ONE, TWO)
    hand.make(acts.look_again, ONE)
    hand.to_place(LAST)
    assert tuple(flags_left(hand.state)) == open_flags(hand.state) == (TWO,)
