"""The drawing of a measured line: every tooth where it stands, ten times in height, each state told by a letter."""

from __future__ import annotations

import pytest

from session.prints.drawn_shapes import Ink, Lettering, Trace
from session.prints.page_sheets import Paper, PaperStock
from session.prints.record_matter import RecordMatter
from session.prints.record_sheets import record_sheets
from session.trade.scanned_line import ScannedLine, ToothState
from told_line import told_line


def drawn(line: ScannedLine) -> tuple[list[Trace], list[str], int]:
    """The traces of a line's drawing, its letters of one sign, and on how many pages."""
    matter = RecordMatter("Netloft", "measured", (), (), (), (), (("The line", line),))
    sheets = record_sheets(matter, PaperStock(Paper.A4))
    shapes = [shape for sheet in sheets for shape in sheet.shapes]
    letters = [shape.text for shape in shapes if isinstance(shape, Lettering) and shape.text in ("L", "H", "B", "?")]
    return [shape for shape in shapes if isinstance(shape, Trace) and not shape.name], letters, len(sheets)


def test_heights_stand_ten_times_as_high_as_places_are_wide() -> None:
    traces, letters, _ = drawn(told_line(12, 4.6, {4: (ToothState.LOW, 0.2)}))
    steel = max((one for one in traces if one.ink is Ink.LINE), key=lambda one: len(one.spots)).spots
    under = min(y for _, y in steel)
    points = [spot for spot in steel if spot[1] == pytest.approx(under)]
    assert len(points) == 2 * 11, "both ends of each flat on the line"
    [low] = [spot for spot in steel if spot[0] == pytest.approx(3 * 4.6)]
    assert low[1] - under == pytest.approx(2.0)
    assert letters == ["L"]


def test_a_long_line_goes_on_below_and_what_was_not_seen_is_dashed() -> None:
    odd = {10: (ToothState.NOT_SEEN, 0.0), 20: (ToothState.HIGH, -0.2), 30: (ToothState.BROKEN, 1.5)}
    traces, letters, pages = drawn(told_line(155, 3.63, odd))
    assert sum(one.ink is Ink.DASHED for one in traces) == 1
    assert letters == ["?", "H", "B"]
    assert pages == 1
    foot = PaperStock(Paper.A4).room(False)[1]
    spots = [spot for one in traces for spot in one.spots]
    assert all(0.0 <= y <= foot for _, y in spots)
    assert max(x for x, _ in spots) <= PaperStock(Paper.A4).room(False)[0] + 3.63
