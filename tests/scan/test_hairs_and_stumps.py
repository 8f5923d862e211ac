"""What lies across teeth is not taken for steel or for a break, and a stump lays no line."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

from known_line import KnownLine, even_line, faulty
from made_scan import Frame, Optics, scan
from session.machine.refusal import Refusal
from session.scan.saw_scan import scan_saw
from session.trade.scanned_line import COVERED, IN_DOUBT, OFF_LINE_MM, ScannedLine, ToothState

PITCH = 25.4 / 6
OPTICS = Optics(dpi=300)


class Haired:
    """A scan of twelve even teeth, to draw hairs on in dots beside a tooth."""

    def __init__(self, folder: Path) -> None:
        self.line = even_line(PITCH, 12, rake=5.0)
        self.picture = Image.fromarray(scan(self.line, OPTICS)[0])
        self.frame, self.path = Frame.of(self.line, OPTICS), folder / "hair.png"

    def hair(self, *points: tuple[int, float, float], width: int = 2) -> Haired:
        """A dark one through places that lie so many mm beside a tooth and under its point."""
        teeth = self.line.teeth
        at = [self.frame.dots(teeth[tooth - 1].place + along, -under) for tooth, along, under in points]
        ImageDraw.Draw(self.picture).line(at, fill=5, width=width)
        return self

    def read(self) -> ScannedLine:
        self.picture.save(self.path, dpi=(OPTICS.dpi, OPTICS.dpi))
        return scan_saw([self.path]).line


def test_a_tip_cut_off_by_a_hair_was_not_seen(tmp_path: Path) -> None:
    line = Haired(tmp_path).hair((6, -3.0, 1.0), (6, 3.0, 1.0)).read()
    assert line.those(ToothState.NOT_SEEN) == (6,)
    assert line.teeth[5].why == COVERED
    assert line.teeth[5].height_mm is None, "of what a hair hides nothing is told"
    assert line.those(ToothState.BROKEN) == ()


def test_a_hair_down_over_the_plate_loses_no_teeth(tmp_path: Path) -> None:
    line = Haired(tmp_path).hair((4, 1.2, 2.0), (6, 0.0, 9.0)).read()
    assert line.count == 12
    assert line.those(ToothState.BROKEN) == ()


def test_teeth_that_a_hair_cuts_off_from_their_plate_are_refused_with_the_place(tmp_path: Path) -> None:
    under = Haired(tmp_path).hair((1, -7.5, 3.3), (2, 0.0, 3.3), (3, 1.0, 1.0))
    with pytest.raises(Refusal, match=r"cuts teeth off from their plate, near column \d+, row \d+"):
        under.read()


def test_a_stump_lays_no_line(tmp_path: Path) -> None:
    even = even_line(10.0, 9, rake=7.0)
    stump = faulty(even.teeth[2], "broken", random.Random(3), 5.0)
    line: KnownLine = replace(even, teeth=(*even.teeth[:2], stump, *even.teeth[3:]))
    path = tmp_path / "stump.png"
    Image.fromarray(scan(line, OPTICS)[0]).save(path, dpi=(OPTICS.dpi, OPTICS.dpi))
    found = scan_saw([path]).line
    assert found.those(ToothState.BROKEN) == (3,)
    assert max(abs(tooth.height_mm or 0.0) for tooth in found.teeth if tooth.state is not ToothState.BROKEN) < 0.04


def test_a_tooth_so_near_the_limit_that_it_may_be_either_keeps_its_figures_and_says_why(tmp_path: Path) -> None:
    even = even_line(PITCH, 12, rake=5.0, flat=0.3)
    near = replace(even.teeth[5], v=-OFF_LINE_MM)
    path = tmp_path / "near.png"
    Image.fromarray(scan(replace(even, teeth=(*even.teeth[:5], near, *even.teeth[6:])), OPTICS)[0]).save(
        path, dpi=(OPTICS.dpi, OPTICS.dpi)
    )
    tooth = scan_saw([path]).line.teeth[5]
    assert (tooth.state, tooth.why) == (ToothState.NOT_SEEN, IN_DOUBT)
    assert tooth.height_mm == pytest.approx(OFF_LINE_MM, abs=0.03)
    assert tooth.flat_mm == pytest.approx(0.3, abs=0.1)
    assert tooth.se_flat_mm is not None


def test_a_hair_over_gullets_on_white_paper_is_no_plate_seen_from_behind(tmp_path: Path) -> None:
    even, optics = even_line(PITCH, 14, rake=5.0, flat=0.3), Optics(dpi=300, steel=0.12, cloth=0.75)
    window = even.teeth[1].place + 0.4 * PITCH, even.teeth[12].place + 0.4 * PITCH
    dots, frame = scan(even, optics, window)
    picture = Image.fromarray(dots)
    under = even.teeth[5].place - 0.6 * PITCH, even.teeth[7].place + 0.9 * PITCH
    ImageDraw.Draw(picture).line([frame.dots(along, -0.35 * even.depth) for along in under], fill=5, width=3)
    path = tmp_path / "paper.png"
    picture.save(path, dpi=(optics.dpi, optics.dpi))
    found = scan_saw([path])
    assert not found.light_steel
    assert found.line.count == 11
    assert found.line.those(ToothState.BROKEN) == ()
