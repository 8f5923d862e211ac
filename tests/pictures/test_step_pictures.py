"""Every step that is done with the hands has its picture, and what cannot be drawn is refused."""

from __future__ import annotations

import pytest

from made_saws import panel_saw
from session.pictures.calipers import calipers
from session.pictures.chalk_marks import chalk_marks
from session.pictures.odd_teeth import odd_tooth
from session.pictures.picture_rows import PictureError, plain
from session.pictures.step_pictures import step_picture, step_rows
from session.pictures.stone_flat import dressing
from session.trade.tooth import tooth_of
from session.walk.known_teeth import Known
from session.walk.stages import FACTS, Stage


def test_every_step_that_is_done_with_the_hands_has_a_picture() -> None:
    saw = panel_saw(fleam=25.0)
    steel = tooth_of(saw.at(1))
    steps = [(stage, step) for stage, facts in FACTS.items() for step in facts.steps]
    without = {(stage, step) for stage, step in steps if step_picture(stage, step, saw, steel) is None}
    # What is read on screen; the lean has the view from above.
    read = {(Stage.LOOK_OVER, "plan"), (Stage.LOOK_OVER, "lean"), (Stage.CLOSE, "left out")}
    assert without == read
    for stage, step in set(steps) - without:
        drawn = step_picture(stage, step, saw, steel)
        assert drawn is not None
        rows = step_rows(step, saw.points, 30, 12)
        lines = plain(drawn(30, rows, ascii=False))
        assert {len(line) for line in lines} == {30}
        # Labeled, and with something drawn.
        assert any(word.isalpha() and len(word) > 2 for line in lines for word in line.split())
        assert sum(not char.isascii() for line in lines for char in line) > 15


def test_a_needle_has_no_trough_where_there_is_no_fleam() -> None:
    saw = panel_saw(fleam=0.0)
    assert step_picture(Stage.PROVE, "needle", saw, tooth_of(saw.at(1))) is None


def test_a_line_without_a_tooth_and_an_impossible_side_are_refused() -> None:
    with pytest.raises(PictureError, match="0 teeth"):
        chalk_marks(0, str, 40, 10)
    with pytest.raises(PictureError, match="side 3"):
        dressing(3, True, 40, 10)
    with pytest.raises(PictureError, match="set -1"):
        calipers(2.6, 0.9, -1, 0.4, 40, 10)
    with pytest.raises(PictureError, match="leave no tooth"):
        odd_tooth(Known.LOW, -50, 40, 40, 10)
