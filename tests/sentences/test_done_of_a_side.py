"""How much is done, counted apart from what was left out, by a person or by itself."""

from __future__ import annotations

from pathlib import Path

import pytest

from bench_shed import Shed, works_at
from session.desk.desk import Desk
from session.desk.line_mode_text import spoken
from session.pictures.panel_layout import places_row
from session.sentences.offers import Act
from session.walk.stages import Stage


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A desk at the second tooth to be bent, the first of all being broken."""
    return Desk(Shed(tmp_path).at("set", side=1), guard_s=0.0, idle_s=9e9)


def test_a_place_left_out_is_not_done(desk: Desk) -> None:
    total = desk.moment.said.total
    assert desk.moment.said.share == f"0 of {total} done"
    desk.leave_out("broken tooth")
    assert desk.moment.said.share == f"0 of {total} done, 1 out"
    desk.act(Act.DONE)
    said = desk.moment.said
    assert (said.done, said.out, said.total) == (1, 1, total)
    assert f"1 of {total} done, 1 out" in places_row(said, 78)
    assert f"Done: 1 of {total} in this stage, 1 left out." in spoken(said).around


def test_what_leaves_itself_out_is_not_done(tmp_path: Path) -> None:
    shed = Shed(tmp_path)
    desk = Desk(shed.at("set", side=1), guard_s=0.0, idle_s=9e9)
    for _ in range(2):
        desk.leave_out("broken tooth")
    assert len(desk.moment.state.stumps) == 2
    shed.answered(desk.sitting, works_at("file", side=1))
    alone = [place for place, _ in desk.moment.state.left_by_itself() if place.side == 1 and place.stage is Stage.FILE]
    desk.act(Act.DONE)
    said = desk.moment.said
    assert (said.done, said.out) == (1, len(alone))
    desk.sitting.close()
