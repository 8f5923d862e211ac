"""The line tells what was done on the side in hand alone: the other side's teeth are none of it, nor are stumps."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from session.walk import acts
from session.walk.line_states import line_states
from session.walk.measurables import Measurable
from session.walk.place import Place, Standing
from session.walk.stages import Stage
from session.walk.state import State


def _comes_to(wanted: tuple[Stage, int], state: State) -> bool:
    return state.place is not None and (state.place.stage, state.place.side) == wanted


def _own(state: State) -> list[int]:
    leg, _ = state.route.leg_at(state.here)
    return [place.tooth for place in leg.places]


def test_teeth_of_the_other_side_have_no_state_whatever_was_done_there(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(12)
    for side in (1, 2):
        hand.until(partial(_comes_to, (Stage.FILE, side)))
        own = _own(hand.state)
        hand.to_place(Place(Stage.FILE, side, own[2]))
        states = line_states(hand.state)
        assert {tooth for tooth in range(1, 13) if states[tooth - 1] is not None} == set(own)
        assert [states[tooth - 1] for tooth in own] == [
            Standing.DONE,
            Standing.DONE,
            Standing.IN_HAND,
            *[Standing.AHEAD] * (len(own) - 3),
        ]


def test_a_stump_is_left_out_on_its_own_side_and_not_done(hand_of: Callable[..., Any]) -> None:
    hand = hand_of(12)
    hand.to_place(Place(Stage.LOOK_OVER, step="broken teeth"))
    hand.make(acts.measure, Measurable.BROKEN_TEETH, "1, 2", unit="from the heel", entered="1, 2")
    for side in (1, 2):
        hand.until(partial(_comes_to, (Stage.SET, side)))
        assert [line_states(hand.state)[tooth - 1] for tooth in (1, 2)].count(Standing.LEFT_OUT) == 1
        assert Standing.DONE not in line_states(hand.state)
