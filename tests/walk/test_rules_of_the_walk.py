"""What is asked, what may be made, and the sentence for what may not."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from session.trade.grades import SHARES
from session.trade.lengths import Length
from session.trade.pitch import MOST_POINTS
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.mark import Did, Mark
from session.walk.measurables import IN_THE_LINE, Measurable
from session.walk.place import Place
from session.walk.rules import MOST_STROKES, allowed, begun, can_take_back, why_not
from session.walk.stages import FACTS, Stage
from session.walk.state import State

HandOf = Callable[..., Any]
BACK = {Did.PAUSED, Did.RESUMED, Did.TOOK_BACK}
AT_WORK = {Did.DONE, Did.LEFT_OUT, Did.FLAGGED, Did.MEASURED, Did.DECIDED, Did.ADDED}


def asks_of(hand: Any) -> list[tuple[Ask, Stage | None]]:
    found = []
    while not hand.state.finished:
        now = hand.state.front
        found.append((now.ask, now.place.stage if now.place else None))
        hand.answer()
    return found


def test_a_whole_walk_asks_for_each_thing(hand_of: HandOf) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0), check_spacing=4)
    asked = asks_of(hand)
    assert {ask for ask, _ in asked} == {Ask.CAUTION, Ask.WORK, Ask.CHECK, Ask.TURN, Ask.SHIFT, Ask.FIT, Ask.END}
    assert asked[-1] == (Ask.END, None)
    assert hand.state.front.ask is Ask.FINISHED
    assert hand.dids()[-1] is Did.FINISHED


def test_a_caution_stands_before_the_first_step_it_concerns(hand_of: HandOf) -> None:
    # Bench rules 1 and 3: before the step, and once for as long as it applies.
    hand = hand_of(4)
    asked: dict[str, Stage] = {}
    while not hand.state.finished:
        now = hand.state.front
        if now.ask is Ask.CAUTION:
            assert now.name not in asked
            assert now.place is not None
            assert not begun(hand.state, now.place.stage)
            asked[now.name] = now.place.stage
        hand.answer()
    assert set(asked) == {name for facts in FACTS.values() for name in facts.cautions}
    assert asked["eyes"] is Stage.LEVEL
    assert asked["low in the vise"] is Stage.FILE


def test_the_advance_key_alone_passes_no_hold_point() -> None:
    assert {ask for ask in Ask if ask.holds} == {Ask.CONFIRM, Ask.CHECK, Ask.CAUTION, Ask.TURN, Ask.FIT}


def test_an_interruption_stands_before_a_check_and_a_check_before_a_caution(hand_of: HandOf) -> None:
    hand = hand_of(4)
    hand.to_ask(Ask.CHECK)
    hand.make(acts.resume, after="restart", seconds=1.0)
    order = []
    for _ in range(3):
        order.append(hand.state.front.ask)
        hand.answer()
    assert order == [Ask.CONFIRM, Ask.CHECK, Ask.CAUTION]


@pytest.mark.parametrize(
    ("ask", "stage", "may"),
    [
        (Ask.CAUTION, Stage.FILE, BACK | {Did.ACKNOWLEDGED, Did.DECIDED, Did.ADDED}),
        (Ask.WORK, Stage.FILE, BACK | AT_WORK),
        (Ask.CHECK, Stage.FILE, BACK | {Did.CHECKED, Did.DONE, Did.ADDED}),
        (Ask.TURN, Stage.FILE, BACK | {Did.ACKNOWLEDGED}),
        (Ask.SHIFT, Stage.FILE, BACK | {Did.SHIFTED, Did.DONE}),
        (Ask.FIT, Stage.SET, BACK | {Did.MEASURED}),
    ],
)
def test_what_may_be_made(hand_of: HandOf, ask: Ask, stage: Stage, may: set[Did]) -> None:
    assert allowed(hand_of(12, vise_jaw=Length.of(18.0)).to_ask(ask, stage)) == may


def test_what_may_be_made_at_the_hold_points_of_the_whole_walk(hand_of: HandOf) -> None:
    hand = hand_of(4)
    assert Did.TOOK_BACK not in allowed(hand.state), "there is nothing to take back"
    hand.to_ask(Ask.WORK)
    hand.make(acts.pause)
    assert allowed(hand.state) == {Did.RESUMED}
    hand.make(acts.resume, after="pause", seconds=1.0)
    assert allowed(hand.state) == {Did.PAUSED, Did.RESUMED, Did.CONFIRMED, Did.DONE}
    hand.until(lambda state: state.front.ask is Ask.TURN and not state.front.name)
    assert allowed(hand.state) == BACK | {Did.TURNED}
    hand.to_ask(Ask.END)
    assert allowed(hand.state) == BACK | {Did.FINISHED}
    hand.make(acts.resume, after="restart", seconds=1.0)
    assert allowed(hand.state) == BACK | {Did.CONFIRMED}
    hand.answer()
    hand.make(acts.finish)
    assert allowed(hand.state) == frozenset()


def test_closing_steps_are_neither_left_out_nor_decided(hand_of: HandOf) -> None:
    # Bench rule 16: explicit closing steps; something may be added until the first of them is done.
    hand = hand_of(4)
    hand.to_place(Place(Stage.CLOSE, step="left out"))
    assert allowed(hand.state) == BACK | {Did.DONE, Did.FLAGGED, Did.MEASURED, Did.ADDED}
    hand.make(acts.done)
    assert allowed(hand.state) == BACK | {Did.DONE, Did.FLAGGED, Did.MEASURED}


def test_nothing_is_left_to_decide_once_every_optional_stage_has_begun(hand_of: HandOf) -> None:
    hand = hand_of(4)
    hand.to_ask(Ask.WORK)
    hand.make(acts.decide, Stage.RESHAPE, True, "dog teeth")
    hand.to_place(Place(Stage.PROVE, step="sight"))
    assert Did.DECIDED in allowed(hand.state)
    hand.make(acts.done)
    assert Did.DECIDED not in allowed(hand.state)


def test_what_can_be_taken_back(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.SET, 1, 5))
    outcomes = {mark.seq for mark in hand.state.outcomes.values()}
    assert can_take_back(hand.state) == outcomes
    flag = hand.make(acts.flag)
    assert can_take_back(hand.state) == outcomes | {flag.seq}
    hand.make(acts.take_back, of=max(outcomes))
    assert can_take_back(hand.state) == outcomes - {max(outcomes)} | {flag.seq}


def test_at_least_ten_can_be_taken_back_after_the_last_place(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_ask(Ask.END)  # bench rule 11: at least ten, and on the closing screen
    for _ in range(10):
        hand.make(acts.take_back)
    assert hand.state.place is not None


def in_hand(state: State) -> Place:
    """The place in hand, which there is."""
    assert state.place is not None
    return state.place


REFUSALS: list[tuple[Ask, Callable[[State, Any], Mark], str]] = [
    (Ask.WORK, lambda s, at: Mark(seq=s.next_seq + 1, at=at, did=Did.DONE), r"the next mark is \d+, not \d+"),
    (Ask.CAUTION, acts.done, r"“done” is not possible here: a caution has to be acknowledged first"),
    (Ask.TURN, acts.done, r"“done” is not possible here: the saw has to be turned first"),
    (Ask.SHIFT, acts.done, r"“done” is not possible here: the saw has to be shifted first"),
    (Ask.CHECK, acts.done, r"“done” is not possible here: a check point is open"),
    (Ask.CONFIRM, acts.done, r"“done” is not possible here: the place has to be confirmed on the saw first"),
    (Ask.PAUSED, acts.done, r"“done” is not possible here: the work is paused"),
    (Ask.PAUSED, acts.pause, r"“paused” is not possible here: the work is paused"),
    (
        Ask.PAUSED,
        lambda s, at: acts.take_back(s, at, of=1),
        r"“took back” is not possible here: the work is paused",
    ),
    (Ask.FINISHED, acts.pause, r"“paused” is not possible here: the sharpening is finished"),
    (Ask.FINISHED, lambda s, at: acts.take_back(s, at), r"“took back” is not .*: the sharpening is finished"),
    (Ask.END, acts.acknowledge, r"“acknowledged” is not possible here: only the end is left"),
    (Ask.WORK, acts.finish, r"“finished” is not possible here: [\w ]+ is in hand"),
    (Ask.WORK, acts.acknowledge, r"“acknowledged” is not possible here: [\w ]+ is in hand"),
    (Ask.WORK, acts.shift, r"“shifted” is not possible here: [\w ]+ is in hand"),
    (Ask.WORK, lambda s, at: acts.confirm(s, at, "yes"), r"“confirmed” is not possible here: [\w ]+ is in hand"),
    (Ask.TURN, acts.turn, r"“turned” is not possible here: the saw has to be turned first"),
    (Ask.TURN, lambda s, at: acts.decide(s, at, Stage.DRESS, False, ""), r"“decided” is not possible here"),
    (Ask.WORK, lambda s, at: replace(acts.done(s, at), step="wipe"), r"the place in hand is bright points, not wipe"),
    (Ask.WORK, lambda s, at: acts.make(s, Did.FLAGGED, at), r"the place in hand is bright points, not None"),
    (Ask.WORK, lambda s, at: acts.leave_out(s, at, " \t"), r"leaving a place out needs a reason"),
    (Ask.WORK, lambda s, at: acts.make(s, Did.LEFT_OUT, at, **in_hand(s).fields()), r"leaving a place out needs"),
    (Ask.WORK, lambda s, at: acts.done(s, at, strokes=2), r"strokes are counted in gullets and at teeth only"),
    (Ask.CHECK, lambda s, at: acts.take_back(s, at, of=1), r"mark 1 is not one that can be taken back"),
    (Ask.CHECK, lambda s, at: acts.make(s, Did.TOOK_BACK, at), r"mark None is not one that can be taken back"),
    (Ask.CAUTION, lambda s, at: replace(acts.acknowledge(s, at), what="rust"), r"asked is “\w+”, not “rust”"),
    (Ask.CAUTION, lambda s, at: replace(acts.acknowledge(s, at), side=2), r"“[\w ]+” belongs to side 0"),
    (Ask.TURN, lambda s, at: replace(acts.acknowledge(s, at), what="low"), r"asked is “saw”, not “low”"),
    (Ask.TURN, lambda s, at: replace(acts.acknowledge(s, at), side=None), r"“saw” belongs to side 2"),
    (Ask.SHIFT, lambda s, at: replace(acts.shift(s, at), tooth=6), r"shifted to the reach of the place in hand"),
    (
        Ask.SHIFT,
        lambda s, at: replace(acts.shift(s, at), tooth=999),
        r"shifted to the reach of the place in hand",
    ),
    (
        Ask.SHIFT,
        lambda s, at: replace(acts.shift(s, at), tooth=None),
        r"shifted to the reach of the place in hand",
    ),
    (Ask.CHECK, lambda s, at: replace(acts.check(s, at, 3), tooth=2), r"that check point is not the one asked"),
    (Ask.WORK, lambda s, at: acts.measure(s, at, "", 3), r"a measured mark needs what and value"),
    (Ask.WORK, lambda s, at: replace(acts.measure(s, at, "set", 3), value=None), r"needs what and value"),
    (
        Ask.WORK,
        lambda s, at: acts.make(s, Did.DECIDED, at, value=True),
        r"a decision names a stage and says true",
    ),
    (
        Ask.WORK,
        lambda s, at: acts.make(s, Did.DECIDED, at, stage=Stage.SET, value=1),
        r"names a stage and says true",
    ),
    (Ask.WORK, lambda s, at: acts.decide(s, at, Stage.CLOSE, False, ""), r"the stage close always belongs"),
    (Ask.WORK, lambda s, at: acts.add(s, at, Stage.CLOSE), r"can be added to level, set, file, dress and prove"),
    (Ask.WORK, lambda s, at: acts.make(s, Did.ADDED, at), r"can be added to level, set, file, dress and prove"),
    (Ask.WORK, lambda s, at: acts.add(s, at, Stage.PROVE), r"no trial cut was made yet"),
    (Ask.WORK, lambda s, at: acts.add(s, at, Stage.DRESS, passes=0), r"0 passes; allowed: 1 to 20"),
    (Ask.WORK, lambda s, at: acts.add(s, at, Stage.LEVEL, passes=21), r"21 passes; allowed: 0 to 20"),
    (Ask.WORK, lambda s, at: acts.add(s, at, Stage.LEVEL, passes=True), r"True passes; allowed: 0 to 20"),
    (Ask.WORK, lambda s, at: acts.add(s, at, Stage.DRESS, side=3), r"side 3 cannot be added; allowed: 1 or 2"),
    (Ask.FIT, acts.done, r"“done” is not possible here: “lean” has to be answered first"),
    (Ask.FIT, acts.acknowledge, r"“acknowledged” is not possible here: “lean” has to be answered first"),
    (Ask.FIT, lambda s, at: acts.measure(s, at, "needle", "stops"), r"how tooth 1 leans; allowed: away, toward, unset"),
    (Ask.FIT, lambda s, at: acts.measure(s, at, "first leans", "up"), r"how tooth 1 leans; allowed: away, toward, uns"),
    (
        Ask.WORK,
        lambda s, at: acts.add(s, at, Stage.SET, side=1),
        r"side 1 cannot be added; .* dressing one side",
    ),
]


@pytest.mark.parametrize(("ask", "maker", "sentence"), REFUSALS)
def test_each_refusal_is_one_sentence(
    hand_of: HandOf, ask: Ask, maker: Callable[[State, Any], Mark], sentence: str
) -> None:
    hand = hand_of(12, vise_jaw=Length.of(18.0))
    if ask in (Ask.PAUSED, Ask.CONFIRM):
        hand.to_ask(Ask.WORK)
        hand.make(acts.pause)
        if ask is Ask.CONFIRM:
            hand.answer()
    elif ask is Ask.FINISHED:
        hand.until(lambda state: state.finished)
    elif ask is Ask.TURN:
        hand.to_ask(Ask.TURN, Stage.SET)
    elif ask is Ask.SHIFT:
        hand.to_ask(Ask.SHIFT, Stage.FILE)
    else:
        hand.to_ask(ask)
    state = hand.state
    assert state.front.ask is ask
    reason = why_not(state, maker(state, hand.at))
    assert reason is not None
    assert re.search(sentence, reason), reason
    assert "\n" not in reason


def test_strokes_have_a_limit(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.FILE, 1, 1))
    for strokes, fine in ((0, False), (1, True), (MOST_STROKES, True), (MOST_STROKES + 1, False), (-1, False)):
        reason = why_not(hand.state, acts.done(hand.state, hand.at, strokes=strokes))
        assert reason == (None if fine else f"{strokes} strokes; allowed: 1 to {MOST_STROKES}")


def test_a_stage_that_has_begun_is_not_decided(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.SET, 1, 3))
    for take_in in (True, False):
        reason = why_not(hand.state, acts.decide(hand.state, hand.at, Stage.SET, take_in, ""))
        assert reason == "the stage set has begun; leave its places out one by one, with a reason"


def test_the_saw_is_turned_to_the_side_asked(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.until(lambda state: state.front.ask is Ask.TURN and not state.front.name)
    wrong = replace(acts.turn(hand.state, hand.at), side=1)
    assert why_not(hand.state, wrong) == "the saw has to be turned to side 2"


def test_a_pass_is_not_added_to_leveling_that_is_not_in_the_plan(hand_of: HandOf) -> None:
    hand = hand_of(8, leave_out=frozenset({Stage.LEVEL}))
    hand.to_ask(Ask.WORK)
    reason = why_not(hand.state, acts.add(hand.state, hand.at, Stage.LEVEL))
    assert reason == "the stage level is not in the plan; take it in first, then add passes"
    hand.make(acts.decide, Stage.LEVEL, True, "two high teeth")
    hand.make(acts.add, Stage.LEVEL)


def test_the_points_of_the_line_are_counted_before_any_tooth_is_worked(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_ask(Ask.WORK)

    def counted(value: Any) -> str | None:
        return why_not(hand.state, acts.measure(hand.state, hand.at, Measurable.POINTS, value, unit=IN_THE_LINE))

    for wrong in (1, MOST_POINTS + 1, 9.0, "9", True):
        assert counted(wrong) == f"{wrong} points in the line; allowed: a whole number from 2 to {MOST_POINTS}"
    hand.make(acts.measure, Measurable.POINTS, 9, unit=IN_THE_LINE)
    hand.to_place(Place(Stage.SET, 1, 1))
    assert counted(10) is None
    hand.make(acts.done)
    assert counted(10) == "teeth of this line have been worked, so its count stays 9"
    assert counted(9) is None, "counted again and found the same"


def test_points_counted_over_an_inch_say_nothing_of_the_line(hand_of: HandOf) -> None:
    hand = hand_of(8)
    hand.to_place(Place(Stage.SET, 1, 3))
    hand.make(acts.measure, Measurable.POINTS, 9.5, unit="in an inch")
    assert hand.state.plan.points == 8


@pytest.mark.parametrize("value", [None, -1, len(SHARES), "2"])
def test_a_flat_is_graded_on_the_scale(hand_of: HandOf, value: Any) -> None:
    hand = hand_of(4)
    hand.to_place(Place(Stage.LEVEL, step="flats"))
    hand.make(acts.add, Stage.LEVEL, passes=0)
    assert hand.state.place == Place(Stage.LEVEL, tooth=1)
    reason = why_not(hand.state, acts.at_place(hand.state, Did.DONE, hand.at, value=value))
    assert reason == f"a flat is graded 0 to {len(SHARES) - 1}"
    hand.make(acts.grade, 3)
    assert hand.state.flats == {1: SHARES[3]}
