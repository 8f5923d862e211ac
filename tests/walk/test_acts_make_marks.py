"""The makers of marks: what each writes, and setting the place forward and back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from session.trade.lengths import Length
from session.walk import acts, place_moves
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.place import Place
from session.walk.rules import allowed, why_not
from session.walk.stages import Stage

HandOf = Callable[..., Any]


def keys(mark: Mark) -> dict[str, Any]:
    return {key: value for key, value in mark.to_dict().items() if key not in ("seq", "at")}


def set_place(hand: Any, target: Place) -> list[Mark]:
    return [hand.put(mark) for mark in place_moves.moves_to(hand.state, hand.at, target)]


def test_what_each_mark_says(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.FILE, 2, 4))
    state, at = hand.state, hand.at
    here = {"stage": "file", "side": 2, "tooth": 4}
    assert keys(acts.done(state, at, strokes=3)) == {"did": "done", **here, "strokes": 3, "by": "key"}
    assert keys(acts.done(state, at, by="timer"))["by"] == "timer"
    assert keys(acts.leave_out(state, at, "broken off")) == {
        "did": "left out",
        **here,
        "by": "key",
        "reason": "broken off",
    }
    assert keys(acts.flag(state, at)) == {"did": "flagged", **here}
    assert keys(acts.pause(state, at)) == {"did": "paused", **here}
    assert keys(acts.confirm(state, at, "back")) == {"did": "confirmed", **here, "what": "back"}
    assert keys(acts.measure(state, at, "flat", 0.2, unit="mm", entered=",2 mm")) == {
        "did": "measured",
        **here,
        "value": 0.2,
        "unit": "mm",
        "entered": ",2 mm",
        "what": "flat",
    }
    assert keys(acts.resume(state, at, after="pause", seconds=61.04)) == {
        "did": "resumed",
        "value": 61.0,
        "unit": "s",
        "what": "pause",
    }
    assert acts.resume(state, at, after="pause", seconds=-5.0).value == 0.0, "the clock was set back meanwhile"
    assert keys(acts.decide(state, at, Stage.DRESS, False, "fine teeth")) == {
        "did": "decided",
        "stage": "dress",
        "reason": "fine teeth",
        "value": False,
    }
    assert keys(acts.add(state, at, Stage.DRESS, side=1)) == {
        "did": "added",
        "stage": "dress",
        "side": 1,
        "value": 1,
        "unit": "passes",
    }
    assert keys(acts.take_back(state, at)) == {"did": "took back", "of": state.last_act.seq}
    assert acts.finish(state, at).seq == state.next_seq


def test_marks_of_the_hold_points(hand_of: HandOf) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0))
    assert keys(acts.acknowledge(hand.state, hand.at)) == {
        "did": "acknowledged",
        "stage": "look over",
        "what": "points",
    }
    hand.to_ask(Ask.TURN, Stage.FILE)
    assert keys(acts.acknowledge(hand.state, hand.at)) == {
        "did": "acknowledged",
        "stage": "file",
        "side": 1,
        "what": "saw",
    }
    hand.until(lambda state: not state.front.name)
    assert keys(acts.turn(hand.state, hand.at)) == {"did": "turned", "stage": "file", "side": 1, "tooth": 1}
    hand.to_ask(Ask.CHECK)
    assert keys(acts.check(hand.state, hand.at, 4)) == {
        "did": "checked",
        "stage": "file",
        "side": 1,
        "tooth": 5,
        "value": 4,
        "unit": "tooth",
    }
    hand.to_ask(Ask.SHIFT)
    assert keys(acts.shift(hand.state, hand.at)) == {"did": "shifted", "stage": "file", "side": 1, "tooth": 7}


def test_turning_for_the_setting_names_no_reach(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.until(lambda state: state.front.ask is Ask.TURN and not state.front.name)
    assert keys(acts.turn(hand.state, hand.at)) == {"did": "turned", "stage": "set", "side": 2}


def test_at_the_end_no_place_is_in_hand(hand_of: HandOf) -> None:
    hand = hand_of(4)
    hand.to_ask(Ask.END)
    for maker in (acts.done, acts.flag, acts.shift):
        with pytest.raises(ValueError, match="every place is done or left out"):
            maker(hand.state, hand.at)
    with pytest.raises(ValueError, match="no check point is open"):
        acts.check(hand.state, hand.at, 4)
    assert keys(acts.pause(hand.state, hand.at)) == {"did": "paused"}
    assert keys(acts.confirm(hand.state, hand.at, "yes")) == {"did": "confirmed", "what": "yes"}
    assert keys(acts.turn(hand.state, hand.at)) == {"did": "turned", "side": 0}
    assert why_not(hand.state, acts.turn(hand.state, hand.at)) is not None


def test_nothing_to_take_back(hand_of: HandOf) -> None:
    hand = hand_of(4)
    with pytest.raises(ValueError, match="there is nothing to take back"):
        acts.take_back(hand.state, hand.at)


def test_set_forward_marks_the_places_between(hand_of: HandOf) -> None:
    # Bench rule 9: several at once names first and last, and is logged as such.
    hand = hand_of(12)
    hand.to_place(Place(Stage.FILE, 1, 3))
    marks = set_place(hand, Place(Stage.FILE, 1, 9))
    assert [(mark.did, mark.tooth, mark.many) for mark in marks] == [(Did.DONE, k, "3-7") for k in (3, 5, 7)]
    assert hand.state.place == Place(Stage.FILE, 1, 9)


def test_set_forward_past_a_check_asks_that_check(hand_of: HandOf) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0))
    hand.to_place(Place(Stage.FILE, 1, 3))
    set_place(hand, Place(Stage.FILE, 1, 9))
    asked = hand.state.front
    assert asked.ask is Ask.CHECK
    assert asked.place == Place(Stage.FILE, 1, 5)
    hand.answer()
    asked = hand.state.front
    assert asked.reach == (7, 12)
    assert asked.ask is Ask.SHIFT


@pytest.mark.parametrize("ask", [Ask.CHECK, Ask.SHIFT])
def test_set_forward_from_a_check_and_from_a_shift(hand_of: HandOf, ask: Ask) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0))
    hand.to_place(Place(Stage.FILE, 1, 5))
    hand.to_ask(ask)
    set_place(hand, Place(Stage.FILE, 1, 11))
    assert hand.state.place == Place(Stage.FILE, 1, 11)
    hand.to_place(Place(Stage.FILE, 1, 11))


def test_set_forward_after_an_interruption(hand_of: HandOf) -> None:
    hand = hand_of(12)
    hand.to_place(Place(Stage.FILE, 1, 3))
    hand.make(acts.resume, after="restart", seconds=900.0)
    set_place(hand, Place(Stage.FILE, 1, 7))
    assert hand.state.front.ask is Ask.CONFIRM
    assert hand.state.place == Place(Stage.FILE, 1, 7)


def test_set_to_where_it_is_makes_no_mark(hand_of: HandOf) -> None:
    hand = hand_of(12)
    hand.to_place(Place(Stage.FILE, 1, 3))
    assert place_moves.moves_to(hand.state, hand.at, Place(Stage.FILE, 1, 3)) == ()


def test_set_back_takes_back_each_place_from_there(hand_of: HandOf) -> None:
    hand = hand_of(12)
    hand.to_place(Place(Stage.FILE, 1, 9))
    hand.make(acts.leave_out, "split at the root")
    marks = set_place(hand, Place(Stage.FILE, 1, 5))
    assert [mark.did for mark in marks] == [Did.TOOK_BACK] * 3
    assert hand.state.place == Place(Stage.FILE, 1, 5)
    assert hand.state.left_out() == ()
    assert Place(Stage.FILE, 1, 3) in hand.state.outcomes


def test_set_back_across_a_turn(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.FILE, 2, 4))
    set_place(hand, Place(Stage.FILE, 1, 7))
    now = hand.state.front
    assert (now.ask, now.side, now.name) == (Ask.TURN, 1, "saw"), "the saw lies turned, so it has to be turned again"
    assert hand.state.side == 2


def test_set_back_from_the_end(hand_of: HandOf) -> None:
    hand = hand_of(4)
    hand.to_ask(Ask.END)
    set_place(hand, Place(Stage.PROVE, step="trial cut"))
    assert hand.state.place == Place(Stage.PROVE, step="trial cut")


def test_set_forward_passes_over_what_is_done_and_a_shift_between(hand_of: HandOf) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0))
    hand.to_place(Place(Stage.FILE, 1, 11))
    hand.make(acts.take_back, of=hand.state.outcomes[Place(Stage.FILE, 1, 3)].seq)
    hand.to_place(Place(Stage.FILE, 1, 3))
    marks = set_place(hand, Place(Stage.FILE, 1, 11))
    assert [mark.tooth for mark in marks] == [3]
    assert hand.state.place == Place(Stage.FILE, 1, 11)


@pytest.mark.parametrize("target", [Place(Stage.FILE, 2, 2), Place(Stage.PROVE, step="sight")])
def test_forward_only_within_the_stage_and_side_in_hand(hand_of: HandOf, target: Place) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.FILE, 1, 3))
    with pytest.raises(ValueError, match="forward only within the stage and side in hand"):
        place_moves.moves_to(hand.state, hand.at, target)


@pytest.mark.parametrize("target", [Place(Stage.FILE, 1, 2), Place(Stage.FILE, 1, 99), Place(Stage.RESHAPE, 1, 1)])
def test_a_place_that_is_not_of_this_sharpening(hand_of: HandOf, target: Place) -> None:
    hand = hand_of(8)
    with pytest.raises(ValueError, match=f"^{target} is not a place of this sharpening"):
        place_moves.moves_to(hand.state, hand.at, target)


def test_a_place_is_not_set_while_paused_or_finished(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.FILE, 1, 3))
    hand.make(acts.pause)
    for target in (Place(Stage.FILE, 1, 1), Place(Stage.FILE, 1, 5)):
        with pytest.raises(ValueError, match="is not possible here: the work is paused"):
            place_moves.moves_to(hand.state, hand.at, target)
    assert allowed(hand.state) == {Did.RESUMED}
