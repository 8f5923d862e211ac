"""Looking back: the newest marks first, and in words how many stand before them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from made_saws import panel_saw
from session.desk.act_questions import LOOKS_BACK, looking_back
from session.walk import acts, place_moves
from session.walk.front_question import Ask
from session.walk.state import State
from session.walk.work_plan import make_plan

START = datetime(2026, 11, 25, 9, 0, tzinfo=UTC)


def after_flags(count: int) -> State:
    state = State.start(make_plan(panel_saw()))
    for number in range(count):
        state = state.after(acts.flag(state, START + timedelta(seconds=number)))
    return state


@pytest.mark.parametrize(("flags", "earlier"), [(3, 0), (LOOKS_BACK, 0), (LOOKS_BACK + 1, 1), (LOOKS_BACK + 250, 250)])
def test_marks_beyond_those_told_are_counted(flags: int, earlier: int) -> None:
    rows = looking_back(after_flags(flags)).rows
    assert len(rows) == min(flags, LOOKS_BACK) + bool(earlier)
    assert int(rows[0].split()[0]) == flags
    assert (rows[-1] == f"and {earlier} earlier, in the log") is bool(earlier)


def test_what_was_taken_back_is_not_told() -> None:
    state = after_flags(2)
    state = state.after(acts.take_back(state, START + timedelta(minutes=1)))
    assert [int(row.split()[0]) for row in looking_back(state).rows] == [1]


def test_nothing_marked_is_said() -> None:
    question = looking_back(after_flags(0))
    assert question.lines == ("Nothing was marked yet.",)
    assert question.rows == ()


def test_places_marked_together_are_told_as_such() -> None:
    """Set forward by hand, nobody has counted them one by one."""
    state = State.start(make_plan(panel_saw()))
    while state.front.ask is Ask.CAUTION:
        state = state.after(acts.acknowledge(state, START))
    first, _, third = state.route.places[:3]
    for mark in place_moves.moves_to(state, START, third):
        state = state.after(mark)
    together = f"(one of {first.step}-{state.route.places[1].step}, marked together)"
    rows = looking_back(state).rows
    assert [row.endswith(together) for row in rows[:2]] == [True, True], rows
    assert together not in looking_back(state.after(acts.done(state, START))).rows[0]
