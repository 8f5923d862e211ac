"""After a silence what was begun is gone on with: nothing is recorded of a part, and a tooth is never half bent."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from as_asked import as_asked
from made_saws import small_saw
from session.desk.desk import Desk
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.sentences.offers import Act
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.stages import Kind, Stage
from session.walk.work_plan import make_plan


def silent_at(tmp_path: Path, stage: Stage, kind: Kind) -> tuple[Desk, Place]:
    """The desk after an hour's silence at the first place of ``stage`` of that kind, a press asked about."""
    saw, clock = small_saw(24, 3.0), SetClock(datetime(2026, 11, 25, 21, tzinfo=UTC))
    plan = make_plan(saw)
    journal = Journal.create(tmp_path, {"session": {"started": clock.now(), "saw": saw.name}}, started=clock.now())
    desk = Desk(Sitting(saw, plan, journal, clock))
    while True:
        now, place = desk.sitting.state.front, desk.sitting.state.place
        assert place is not None
        if now.ask is Ask.WORK and (place.stage, place.kind) == (stage, kind):
            break
        clock.pass_s(5)
        desk.sitting.make(as_asked(desk.sitting.state, clock.now()))
    desk.touched()
    clock.pass_s(3600)
    assert "without a key" in desk.act(Act.DONE).note
    clock.pass_s(5)
    return desk, place


@pytest.mark.parametrize(
    ("stage", "kind", "then"),
    [
        (Stage.FILE, Kind.GULLET, "finish it, and count all its strokes."),
        (Stage.LEVEL, Kind.PASS, "push on to the end of the line."),
    ],
)
def test_what_was_begun_stays_in_hand_and_nothing_is_recorded_of_it(
    tmp_path: Path, stage: Stage, kind: Kind, then: str
) -> None:
    desk, place = silent_at(tmp_path, stage, kind)
    assert desk.moment.said.choices[2] == f"begun: {then.removesuffix('.')}"
    assert "or begun?" in desk.moment.said.instruction
    done = dict(desk.sitting.state.outcomes)
    note = desk.act(Act.STROKES, 3).note
    assert note == f"Nothing was marked. Begun: {place}: {then}"
    assert desk.sitting.state.outcomes == done
    assert desk.sitting.state.place == place
    assert desk.sitting.state.front.ask is Ask.WORK
    desk.sitting.close()


def test_a_tooth_is_bent_or_it_is_not(tmp_path: Path) -> None:
    desk, place = silent_at(tmp_path, Stage.SET, Kind.TOOTH)
    assert desk.moment.said.instruction == f"Look at the saw: {place}: bent, or not yet?"
    assert len(desk.moment.said.choices) == 2
    reply = desk.act(Act.STROKES, 3)
    assert reply.refused
    assert reply.note == "3: allowed: 1 or 2; 1 bent, 2 not yet."
    desk.sitting.close()
