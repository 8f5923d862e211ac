"""Take back, right after going back to a flagged place, leads to where one was, the flag as it was."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from bench_shed import Shed, works_at
from session.desk.desk import Desk
from session.log.log_reader import read_log
from session.sentences.glance import glance
from session.sentences.offers import Act
from session.walk.flagged_places import flags_asked
from session.walk.front_question import Ask
from session.walk.mark import Did
from session.walk.stages import LEFT_OUT_STEP
from session.walk.state import State


@pytest.fixture
def closing(tmp_path: Path) -> Iterator[Desk]:
    """A desk at the list before the close, with gullets 5 and 9 flagged."""
    shed = Shed(tmp_path)
    desk = Desk(shed.at("file", side=1), guard_s=0.0, idle_s=9e9)
    for _ in range(9):
        place = desk.moment.place
        assert place is not None
        if place.tooth in (5, 9):
            assert not desk.act(Act.FLAG).refused
        shed.clock.pass_s(5.0)
        assert not desk.act(Act.DONE).refused
        shed.answered(desk.sitting, works_at("file"))
    shed.answered(desk.sitting, works_at("close", step=LEFT_OUT_STEP))
    yield desk
    desk.sitting.close()


def test_one_take_back_after_look_again_leads_back(closing: Desk) -> None:
    before, flags = closing.sitting.state, flags_asked(closing.sitting.state)
    assert [place.tooth for place in flags] == [5, 9]
    closing.act(Act.STROKES, 1)
    assert closing.moment.place == flags[0]
    reply = closing.act(Act.TAKE_BACK)
    assert reply.note == "Not looked at again: done gullet 5."
    state = closing.sitting.state
    assert (state.place, dict(state.outcomes)) == (before.place, dict(before.outcomes))
    assert flags_asked(state) == flags
    assert state.marks[-1].did is Did.PUT_BACK
    # The next one takes back what was marked before, as ever.
    closing.act(Act.TAKE_BACK)
    assert before.last_act is not None
    assert closing.sitting.state.marks[-1].of == before.last_act.seq


def test_read_from_disk_it_is_the_same(closing: Desk) -> None:
    closing.act(Act.STROKES, 2)
    closing.act(Act.TAKE_BACK)
    state = closing.sitting.state
    found = State.replay(closing.sitting.plan, read_log(closing.sitting.journal.path).marks)
    assert (found.place, dict(found.outcomes), flags_asked(found)) == (
        state.place,
        dict(state.outcomes),
        flags_asked(state),
    )
    assert found.marks[-1].did is Did.PUT_BACK


@pytest.mark.parametrize(
    ("stage", "told"),
    [
        ("set", "Look: it was bent. Bend it again only if it is short of its neighbors."),
        ("file", "Look: it was filed. File it again only where a flat still shines."),
    ],
)
def test_a_place_gone_back_to_is_not_worked_twice_unseen(tmp_path: Path, stage: str, told: str) -> None:
    shed = Shed(tmp_path)
    desk = Desk(shed.at(stage, side=1), guard_s=0.0, idle_s=9e9)
    for _ in range(5):
        assert desk.moment.said.instruction != told
        assert not desk.act(Act.FLAG).refused
        assert desk.moment.said.instruction != told
        shed.clock.pass_s(5.0)
        desk.act(Act.DONE)
    shed.answered(desk.sitting, lambda sitting: bool(flags_asked(sitting.state)))
    desk.act(Act.STROKES, 1)
    if desk.moment.front.ask is Ask.SHIFT:
        desk.act(Act.DONE)
    assert desk.moment.said.instruction == told
    seen = glance(desk.moment)
    assert seen is not None
    assert "only" in seen.stop[0]
    assert seen.strokes is None
    # The next one is worked as ever, once this one is marked anew.
    assert not desk.act(Act.DONE).refused
    assert desk.moment.said.instruction != told
    desk.sitting.close()
