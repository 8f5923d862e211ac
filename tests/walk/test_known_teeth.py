"""Broken, low and high teeth, told once, stand in the line of every stage: in the strip, in words and in the record."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from session.walk import acts
from session.walk.known_teeth import Known, KnownTeeth, known_teeth
from session.walk.line_states import line_standing
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import LOOKS, Stage
from session.walk.state import State
from session.walk.work_plan import Plan

HandOf = Callable[..., Any]

TOLD = (
    (Measurable.HIGH_TEETH, "high teeth", "5"),
    (Measurable.LOW_TEETH, "low teeth", "3, 7"),
    (Measurable.BROKEN_TEETH, "broken teeth", "2, 7"),
)


def told(hand: Any) -> None:
    for what, step, text in sorted(TOLD, key=lambda one: LOOKS.index(one[1])):
        hand.to_place(Place(Stage.LOOK_OVER, step=step))
        hand.make(acts.measure, what, text, unit="from the heel", entered=text)


def test_told_once_they_stand_in_the_line_of_every_stage(hand_of: HandOf) -> None:
    hand = hand_of(8)
    told(hand)
    seen = set()
    while not hand.state.finished:
        if hand.state.place is not None:
            seen.add(hand.state.place.stage)
        known = line_standing(hand.state).known
        assert {tooth: known.of(tooth) for tooth in range(1, 9) if known.of(tooth)} == {
            2: Known.BROKEN,
            3: Known.LOW,
            5: Known.HIGH,
            7: Known.BROKEN,
        }
        hand.answer()
    assert seen >= {Stage.LEVEL, Stage.SET, Stage.FILE, Stage.DRESS, Stage.PROVE, Stage.CLOSE}


def test_a_tooth_left_out_as_broken_since_is_one_of_them(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.SET, 1, 3))
    hand.make(acts.leave_out, "broken tooth")
    assert known_teeth(hand.state).of(3) is Known.BROKEN


def test_graded_flats_say_which_are_low_until_another_pass_makes_them_void(hand_of: HandOf) -> None:
    hand = hand_of(4)
    told(hand)
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=0)
    low = []
    for tooth, grade in ((1, 0), (3, 2), (4, 2)):
        hand.to_place(Place(Stage.LEVEL, tooth=tooth))
        hand.make(acts.grade, grade)
        low.append(set(known_teeth(hand.state).low))
    # One that was told low stays so on the line until its own flat is graded.
    assert low == [{1, 3}, {1}, {1}]
    # Tooth 3 was told as low, and shows a flat now.
    assert known_teeth(hand.state) == KnownTeeth(frozenset({2}), frozenset({1}), frozenset())
    hand.make(acts.add, Stage.LEVEL, passes=1)
    hand.answer()
    assert known_teeth(hand.state).low == {3}


@pytest.mark.parametrize("kind", list(Known))
def test_the_first_of_several_is_what_is_shown(kind: Known) -> None:
    every = {Known.BROKEN: ("broken", "low", "high"), Known.LOW: ("low", "high"), Known.HIGH: ("high",)}[kind]
    known = KnownTeeth(**{name: frozenset({4}) for name in every})
    assert known.of(4) is kind
    assert known.of(5) is None
    assert known.kinds == (kind,)


def test_a_log_of_before_shows_its_line_as_it_did(plan_of: Callable[..., Plan], hand_of: HandOf) -> None:
    hand = hand_of(8)
    told(hand)
    before = plan_of(8).to_dict()
    del before["stumps"]
    assert known_teeth(State.replay(Plan.from_dict(before), hand.state.marks)) == KnownTeeth()
