"""The saw is held as each stage wants it: asked once where that is otherwise than it stands, and never as it stands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from session.trade.lengths import Length
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.stages import HOLD_ITEM, NEAR_ITEM, Kind, SawHold, Stage, facts_of

HandOf = Callable[..., Any]


def holds_asked(hand: Any) -> list[tuple[Stage, SawHold | None]]:
    """Each time the saw was to be held otherwise from here to the end: the stage, and how it stood before."""
    found = []
    while not hand.state.finished:
        now = hand.state.front
        if now.ask is Ask.SHIFT:
            found.append((now.place.stage, hand.state.stand.hold))
        hand.answer()
    return found


def test_it_is_clamped_for_leveling_lowered_for_setting_then_low_then_laid_flat(hand_of: HandOf) -> None:
    hand = hand_of(8)
    # Before the last of them the turn back to side 1 has it clamped low.
    assert holds_asked(hand) == [(Stage.LEVEL, None), (Stage.SET, SawHold.UP), (Stage.DRESS, SawHold.LOW)]
    assert hand.state.stand.hold is SawHold.FLAT


def test_whatever_is_added_it_is_held_as_the_work_wants_it(hand_of: HandOf) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0))
    hand.to_ask(Ask.WORK)
    hand.make(acts.decide, Stage.RESHAPE, True, "dog teeth")
    worked: set[tuple[Stage, int]] = set()
    while not hand.state.finished:
        place = hand.state.place
        if place == Place(Stage.FILE, 2, 2) and hand.state.front.ask is Ask.WORK and not hand.state.added:
            hand.make(acts.add, Stage.LEVEL)
            hand.make(acts.add, Stage.SET)
        told = place is None or place.kind is Kind.STEP or (place.stage is Stage.LEVEL and place.tooth)
        if hand.state.front.ask is Ask.WORK and not told:
            assert hand.state.stand.hold is facts_of(place.stage).hold, place
            assert (hand.state.reach is not None) == (hand.state.stand.hold is SawHold.LOW), place
            worked.add((place.stage, place.round))
        hand.answer()
    assert {(Stage.RESHAPE, 1), (Stage.LEVEL, 2), (Stage.LEVEL, 3), (Stage.FILE, 2), (Stage.SET, 2)} <= worked


def test_taken_back_it_is_asked_again(hand_of: HandOf) -> None:
    hand = hand_of(8)
    before = hand.to_ask(Ask.SHIFT, Stage.LEVEL)
    hand.make(acts.shift)
    assert (hand.state.front.ask, hand.state.stand.hold) == (Ask.WORK, SawHold.UP)
    hand.make(acts.take_back)
    assert (hand.state.front, hand.state.stand) == (before.front, before.stand)


def test_in_a_log_of_before_it_is_not_asked(hand_of: HandOf) -> None:
    hand = hand_of(8)
    old = replace(hand.plan, fit_items=tuple(item for item in hand.plan.fit_items if item != HOLD_ITEM))
    assert holds_asked(hand) != []
    assert holds_asked(type(hand)(old)) == []


def test_in_a_log_of_before_one_clamping_is_for_leveling_and_setting(hand_of: HandOf) -> None:
    hand = hand_of(8)
    old = replace(hand.plan, fit_items=tuple(item for item in hand.plan.fit_items if item != NEAR_ITEM))
    assert holds_asked(type(hand)(old)) == [(Stage.LEVEL, None), (Stage.DRESS, SawHold.LOW)]


def test_leveled_once_more_after_setting_it_is_raised_again_but_not_in_a_log_of_before(hand_of: HandOf) -> None:
    raised = []
    for left_off in ((), (NEAR_ITEM,)):
        hand = hand_of(8)
        items = tuple(item for item in hand.plan.fit_items if item not in left_off)
        hand = type(hand)(replace(hand.plan, fit_items=items))
        hand.to_ask(Ask.WORK, Stage.SET)
        hand.make(acts.add, Stage.LEVEL)
        raised.append((Stage.LEVEL, SawHold.NEAR) in holds_asked(hand))
    assert raised == [True, False]
