"""What the records of a saw do to the advice: when it was sharp, what is broken, how much steel is left."""

from __future__ import annotations

from datetime import date
from typing import Final

import pytest

from made_saws import panel_saw
from observed import dull, over, sharp, told
from session.advice.decision import decide
from session.advice.saw_records import SawRecords
from session.advice.work import FREE, What, steel_mm, touch_up_mm
from session.trade.lengths import parse_length
from session.trade.observation import Look
from session.trade.seen_words import Bright, Cutting, LineShape

PANEL: Final = panel_saw(fleam=20.0, set_per_side=parse_length("0.006 in"), least_per_side=parse_length("0.003 in"))
TODAY: Final = date(2026, 11, 26)
LEVEL: Final = ("level", "file", "dress")


def test_a_sharpening_a_week_ago_is_believed() -> None:
    assert not decide(PANEL, dull(last_sharpened=date(2026, 11, 19)), today=TODAY).doubts
    assert not decide(PANEL, sharp(last_sharpened=date(2026, 11, 25)), today=TODAY).doubts


def test_teeth_broken_by_the_records_are_stumps_until_somebody_looks() -> None:
    records = SawRecords(broken=(40, 90))
    found = decide(PANEL, dull(over_points=over(6)), records)
    assert found.whats == LEVEL
    assert Look.BROKEN in found.looks
    assert "Leave teeth 40, 90 alone" in told(found)
    assert "Teeth 40, 90 are broken by the records" in told(found)
    more = {one.what: one.reason for one in found.more}
    assert "Leave teeth 40, 90 alone" in more[What.RESHAPE]
    # A saw that is sharp and cuts well is asked nothing.
    assert decide(PANEL, sharp(last_cut=Cutting.GOOD), records).looks == ()
    # Whoever looked and found none is believed, and three in a row stop the work by the records as well.
    assert "broken" not in told(decide(PANEL, dull(over_points=over(6), broken=()), records))
    stopped = decide(PANEL, dull(), SawRecords(broken=(40, 41, 42)))
    assert stopped.whats == (What.RETOOTH,)
    assert stopped.stop
    assert Look.BROKEN in stopped.looks


@pytest.mark.parametrize("left_mm", [0.0, 0.005, 0.014, 0.02, 0.035, 0.1, 1.0, 3.0])
@pytest.mark.parametrize("bright", [Bright.SOME, Bright.MOST])
@pytest.mark.parametrize("shape", [None, LineShape.HOLLOW])
def test_no_more_is_advised_or_offered_than_the_line_may_come_down(
    left_mm: float, bright: Bright, shape: LineShape | None
) -> None:
    gap = None if shape is None else parse_length("1/16 in")
    records = SawRecords(lost_mm=5.0, limit_mm=5.0 + left_mm)
    found = decide(PANEL, dull(bright=bright, line=shape, line_gap=gap), records)
    for work in (found.work, found.less, found.more):
        assert steel_mm(work) <= left_mm + 1e-9
    if left_mm < touch_up_mm(PANEL):
        assert FREE.issuperset(found.whats)
        assert "less than a file takes" in told(found)
