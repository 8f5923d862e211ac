"""Flats that a scan measured are marks as any other: folded, read again, told anew one by one, void after a pass."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from session.trade.flats_by_scan import FlatByScan
from session.trade.grades import SHARES
from session.trade.saw import Saw
from session.trade.scan_readings import BY_SCAN
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.graded_flats import leaning, usable_flats, usable_readings
from session.walk.mark import Mark
from session.walk.place import Place
from session.walk.rules import why_not
from session.walk.scanned_marks import flats_told, scanned_places, take_scan
from session.walk.stages import Stage
from session.walk.state import State

HandOf = Callable[..., Any]
SawOf = Callable[..., Saw]
LOOK = Place(Stage.LEVEL, step="flats")
NAME = "scan of 2026-11-26 14:32"


def flat_at(tooth: int, number: int = 0) -> Place:
    return Place(Stage.LEVEL, tooth=tooth, number=number)


def flats(points: int, *, without: tuple[int, ...] = ()) -> Mapping[int, FlatByScan]:
    told = {tooth: FlatByScan(0.01 * tooth, 0.02 * (-1) ** tooth) for tooth in range(1, points + 1)}
    return {tooth: flat for tooth, flat in told.items() if tooth not in without}


def scanned(hand: Any, told: Mapping[int, FlatByScan]) -> Any:
    """The hand in front of the look at the flats, and those of a scan taken."""
    hand.to_place(LOOK)
    for mark in take_scan(hand.state, hand.at, told, NAME):
        hand.put(mark)
    return hand


def test_all_that_the_scan_tells_is_told_at_once(hand_of: HandOf) -> None:
    hand = scanned(hand_of(40), flats(40))
    assert (hand.state.place, hand.state.front.ask) == (LOOK, Ask.WORK), "no check point stands among them"
    assert usable_flats(hand.state, Stage.FILE)[7] == pytest.approx(0.07)
    assert usable_readings(hand.state, Stage.FILE)[7] == pytest.approx(-4 * 0.02 / 0.07)
    assert hand.state.marks[-40].of == hand.state.marks[-41].seq
    assert (hand.state.marks[-41].what, hand.state.marks[-41].entered) == ("by a scan", NAME)


def test_a_tooth_that_the_scan_did_not_see_is_left_to_the_eye(hand_of: HandOf) -> None:
    hand = scanned(hand_of(8), flats(8, without=(3, 6)))
    assert hand.state.place == flat_at(3)
    hand.make(acts.grade, 4)
    assert hand.state.place == flat_at(6)
    hand.make(acts.grade, 0)
    assert hand.state.place == LOOK
    assert dict(usable_flats(hand.state, Stage.FILE)) == {
        **{tooth: pytest.approx(0.01 * tooth) for tooth in (1, 2, 4, 5, 7, 8)},
        3: SHARES[4],
        6: 0.0,
    }
    assert set(usable_readings(hand.state, Stage.FILE)) == {1, 2, 4, 5, 7, 8}


def test_one_answer_is_taken_back_by_one(hand_of: HandOf) -> None:
    hand = scanned(hand_of(8), flats(8))
    for mark in acts.take_back_whole(hand.state, hand.at):
        hand.put(mark)
    assert (hand.state.place, hand.state.added) == (LOOK, ())
    assert usable_flats(hand.state, Stage.FILE) == {}
    hand.make(acts.add, Stage.LEVEL, passes=0)
    assert hand.state.place == flat_at(1)


def test_one_tooth_is_told_anew_and_put_back(hand_of: HandOf) -> None:
    hand = scanned(hand_of(8), flats(8))
    assert scanned_places(hand.state) == tuple(flat_at(tooth) for tooth in range(1, 9))
    again = hand.make(acts.look_again, flat_at(5))
    assert hand.state.place == flat_at(5)
    assert 5 not in usable_flats(hand.state, Stage.LEVEL)
    hand.make(acts.put_back, again)
    assert usable_flats(hand.state, Stage.LEVEL)[5] == pytest.approx(0.05)
    hand.make(acts.look_again, flat_at(5))
    hand.make(acts.grade, 5)
    assert hand.state.place == LOOK
    assert usable_flats(hand.state, Stage.LEVEL)[5] == SHARES[5]
    off = flats(8)[5].off
    assert usable_readings(hand.state, Stage.LEVEL)[5] == pytest.approx(4 * off / SHARES[5]), "the scan's place holds"
    hand.make(acts.look_again, flat_at(5))
    hand.make(acts.grade, 0)
    assert 5 not in usable_readings(hand.state, Stage.LEVEL), "what has no flat has no place"
    assert usable_readings(hand.state, Stage.LEVEL)[6] == pytest.approx(4 * 0.02 / 0.06)
    assert flat_at(5) not in scanned_places(hand.state)
    assert flat_at(5) in flats_told(hand.state), "what the eye told beside the scan may be told anew as well"


def test_a_later_pass_makes_them_void_and_the_next_scan_tells_them_anew(hand_of: HandOf) -> None:
    hand = scanned(hand_of(6), flats(6))
    hand.make(acts.add, Stage.LEVEL, passes=1)
    hand.to_place(Place(Stage.LEVEL, number=2))
    assert scanned_places(hand.state) == (), "at a pass no flat is told"
    assert flats_told(hand.state) == ()
    hand.make(acts.done)
    assert usable_flats(hand.state, Stage.FILE) == {}
    assert scanned_places(hand.state) == ()
    scanned(hand, {tooth: FlatByScan(0.2, 0.0) for tooth in range(1, 7)})
    assert set(usable_flats(hand.state, Stage.FILE).values()) == {0.2}
    assert scanned_places(hand.state) == tuple(flat_at(tooth, 2) for tooth in range(1, 7))


def test_the_plan_leans_by_where_the_flats_were_measured(hand_of: HandOf, saw_of: SawOf) -> None:
    told = {tooth: FlatByScan(0.04, 0.04 if tooth == 3 else 0.0) for tooth in range(1, 6)}
    hand = scanned(hand_of(5), told)
    plan = leaning(hand.state, saw_of(5), usable_flats(hand.state, Stage.FILE), usable_readings(hand.state, Stage.FILE))
    assert plan is not None
    assert plan.placed
    # Off by a whole width, all of it goes from its front.
    assert plan.share_front[2] == pytest.approx(1.0)


def test_no_flat_is_told_by_a_scan_where_none_is_asked_for(hand_of: HandOf) -> None:
    hand = hand_of(6)
    hand.to_place(LOOK)
    marks = take_scan(hand.state, hand.at, flats(6), NAME)
    assert "no scan tells" in (why_not(hand.state, replace(marks[1], seq=hand.state.next_seq)) or "")
    hand.make(acts.add, Stage.LEVEL, passes=0)
    one = replace(marks[1], seq=hand.state.next_seq)
    assert "no scan tells" in (why_not(hand.state, one) or ""), "graded by eye, no scan takes part"


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"value": 1.2}, "less than 1 of the pitch"),
        ({"value": -0.1}, "less than 1 of the pitch"),
        ({"value": True}, "less than 1 of the pitch"),
        ({"off": 1.5}, "less than a pitch off"),
        ({"off": None}, "less than a pitch off"),
        ({"tooth": 9}, "no scan tells"),
    ],
)
def test_what_no_flat_can_be_is_refused_and_of_another_log_not_believed(
    hand_of: HandOf, changes: dict[str, Any], words: str
) -> None:
    hand = hand_of(6)
    hand.to_place(LOOK)
    first, one, *rest = take_scan(hand.state, hand.at, flats(6), NAME)
    hand.put(first)
    odd = replace(one, **changes)
    assert words in (why_not(hand.state, odd) or "")
    again = State.replay(hand.plan, [*hand.state.marks, odd, *rest])
    assert 1 not in again.tally.readings_of(1)
    assert again.tally.readings_of(1)[2] == pytest.approx(4.0)


FLAT = st.builds(
    FlatByScan,
    st.just(0.0) | st.floats(0.001, 0.9, allow_nan=False),
    st.floats(-0.99, 0.99, allow_nan=False),
)


@examples(40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.dictionaries(st.integers(1, 6), FLAT), st.none() | st.integers(1, 6))
def test_a_log_read_again_tells_the_same(hand_of: HandOf, told: dict[int, FlatByScan], anew: int | None) -> None:
    hand = scanned(hand_of(6), told)
    if anew is not None and flat_at(anew) in scanned_places(hand.state):
        hand.make(acts.look_again, flat_at(anew))
    for _ in range(8):
        if hand.state.place != LOOK:
            hand.make(acts.grade, 2)
    read = [Mark.from_dict(mark.to_dict()) for mark in hand.state.marks]
    again = State.replay(hand.plan, read)
    assert (again.place, again.tally) == (hand.state.place, hand.state.tally)
    kept = {tooth: flat.share for tooth, flat in told.items() if tooth != anew}
    assert dict(again.tally.flats_of(1)) == {tooth: kept.get(tooth, SHARES[2]) for tooth in range(1, 7)}
    assert again.tally.rounds[1].scanned == frozenset(kept)


def test_a_version_that_does_not_know_the_unit_has_them_not_graded(hand_of: HandOf) -> None:
    hand = scanned(hand_of(6), flats(6))
    other = [replace(mark, unit=f"{mark.unit}s") if mark.unit == BY_SCAN else mark for mark in hand.state.marks]
    again = State.replay(hand.plan, other)
    assert (again.place, dict(again.tally.flats_of(1))) == (LOOK, {})
