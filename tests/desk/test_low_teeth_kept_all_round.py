"""A look all round that finds nothing new mends no tooth that the records tell low."""

from __future__ import annotations

from pathlib import Path

from bench_shed import Shed, works_at
from session.advice.saw_records import SawRecords
from session.desk.desk import Desk
from session.sentences.offers import Act
from session.walk.known_teeth import known_teeth


def test_nothing_to_see_all_round_leaves_low_teeth_low(tmp_path: Path) -> None:
    shed = Shed(tmp_path)
    sitting = shed.answered(shed.at("look over"), works_at("look over", step="all round"))
    desk = Desk(sitting, guard_s=0.0, idle_s=9e9, records=lambda: SawRecords(low=(7, 8)))
    assert not known_teeth(sitting.state).low
    assert desk.act(Act.STROKES, 1).note == "Noted all round: nothing to see, low teeth: 7, 8 by the records."
    assert known_teeth(sitting.state).low == {7, 8}
    sitting.close()
