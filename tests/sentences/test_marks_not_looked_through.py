"""What a moment costs does not grow with the marks behind it: none of them is looked through for a gullet in hand."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from as_asked import as_asked
from made_saws import small_saw
from session.sentences.moment import Moment
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.mark import Mark
from session.walk.place import Place
from session.walk.shared_maps import GrownList, GrownMap
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

AT = datetime(2025, 4, 5, 10, 0, tzinfo=UTC)
SAW = small_saw(24, 3.0)


def filing(rounds: int) -> State:
    """The tenth gullet of the last of so many filings of all the line, no flat ever graded."""

    def work(state: State, at: datetime) -> Mark:
        place = state.place
        if place is not None and place.stage is Stage.CLOSE:
            return acts.add(state, at, Stage.FILE)
        return acts.done(state, at, strokes=2 if place is not None and place.stage is Stage.FILE else None)

    state, last = State.start(make_plan(SAW)), 0
    while True:
        place = state.place
        if state.front.ask is Ask.WORK and place is not None and place.stage is Stage.FILE and place.round == rounds:
            last += 1
            if last == 10:
                return state
        state = state.after(as_asked(state, AT + timedelta(seconds=5 * state.next_seq), work))


def test_a_gullet_looks_at_as_many_marks_after_ten_filings_as_after_two(monkeypatch: pytest.MonkeyPatch) -> None:
    looked = [0]
    item, value = GrownList.__getitem__, GrownMap.__getitem__

    def counted_item(self: GrownList[Mark], index: int) -> Mark:
        looked[0] += 1
        return item(self, index)

    def counted_value(self: GrownMap[Place, Mark], key: Place) -> Mark:
        looked[0] += 1
        return value(self, key)

    monkeypatch.setattr(GrownList, "__getitem__", counted_item)
    monkeypatch.setattr(GrownMap, "__getitem__", counted_value)
    found = []
    for rounds in (2, 10):
        state = filing(rounds)
        looked[0] = 0
        moment = Moment(state, SAW)
        assert moment.said.ask is Ask.WORK
        assert moment.line.hand is not None
        assert moment.offers
        found.append((looked[0], len(state.marks)))
    (few, short), (many, long) = found
    assert long > 3 * short
    assert many <= few
