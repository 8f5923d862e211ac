"""A check that ends a side is about that side: what was miscounted there is put right there."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from own_plan import keep_plan
from session.desk.act_questions import questions
from session.desk.act_reply import QuestionKind
from session.desk.desk import Desk
from session.files.recipe import load_recipe
from session.files.supplied import find_recipe
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.stages import FACTS, Stage
from session.walk.work_plan import make_plan


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A desk at which only filing is asked for, at its very first front."""
    found = load_recipe(find_recipe("crosscut-panel", []))
    out = frozenset(stage for stage, facts in FACTS.items() if facts.optional and stage is not Stage.FILE)
    clock = SetClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))
    sitting = Sitting.start(tmp_path, found, make_plan(found.saw, leave_out=out), clock)
    yield Desk(keep_plan(sitting), guard_s=0.0, idle_s=9e9)
    sitting.close()


@pytest.mark.parametrize("side", [1, 2])
def test_an_earlier_gullet_of_the_side_just_worked_can_be_named(desk: Desk, side: int) -> None:
    clock = desk.sitting.clock
    assert isinstance(clock, SetClock)
    for _ in range(900):
        front, state = desk.moment.front, desk.sitting.state
        ends = front.ask is Ask.CHECK and front.place is not None and front.place.side == side
        if ends and (state.place is None or (state.place.stage, state.place.side) != (Stage.FILE, side)):
            break
        clock.pass_s(3.0)
        asked = front.ask in (Ask.CAUTION, Ask.TURN, Ask.CHECK, Ask.CONFIRM, Ask.FIT)
        assert not desk.act(Act.AGREE if asked else Act.DONE).refused
    last = desk.moment.front.place
    assert last is not None
    done = len(desk.sitting.state.outcomes)
    clock.pass_s(3.0)
    assert desk.act(Act.DIFFER).opens is QuestionKind.SET_PLACE
    question = questions(desk, QuestionKind.SET_PLACE, {})
    earlier = last.tooth - 2
    assert question.check is not None
    assert question.check(str(earlier)) is None
    assert "not worked on this side" in (question.check(str(last.tooth - 1)) or "")
    assert question.then is not None
    assert not question.then(str(earlier)).refused
    state = desk.sitting.state
    assert state.place is not None
    assert (state.place.stage, state.place.side, state.place.tooth) == (Stage.FILE, side, earlier)
    assert len(state.outcomes) == done - 2, "the two that were marked and not filed are taken back"
