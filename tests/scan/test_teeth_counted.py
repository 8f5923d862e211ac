"""A count is told where spacing, gullets and the plate's ends bear it out, whatever lies on the glass; else refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

from known_line import KnownLine, KnownTooth, even_line
from made_scan import Frame, Optics, scan
from session.machine.refusal import Refusal
from session.scan.saw_scan import scan_saw
from session.trade.scanned_line import ScannedLine, ToothState

PITCH = 25.4 / 6
OPTICS = Optics(dpi=300)
LINE = replace(even_line(PITCH, 12, rake=5.0), toe_ledge=3.0)

#: The tone of the steel in the picture: what lies on the glass and is as light as that cannot be told from it.
STEEL = 195


def moved(tooth: KnownTooth, by: float) -> KnownTooth:
    """``tooth`` so many mm toward the toe."""
    return replace(tooth, a=tooth.a + by, b=tooth.b + by)


def read(line: KnownLine, folder: Path, *things: tuple[str, list[tuple[float, float]]]) -> ScannedLine:
    """``line`` with hairs and grains on it of the steel's own tone, through places in its own mm."""
    picture, frame = Image.fromarray(scan(line, OPTICS)[0]), Frame.of(line, OPTICS)
    drawing = ImageDraw.Draw(picture)
    for kind, places in things:
        at = [frame.dots(*place) for place in places]
        if kind == "hair":
            drawing.line(at, fill=STEEL, width=3)
        else:
            drawing.ellipse([(x - 4, y - 5) for x, y in at] + [(x + 4, y + 5) for x, y in at], fill=STEEL)
    path = folder / "scan.png"
    picture.save(path, dpi=(OPTICS.dpi, OPTICS.dpi))
    return scan_saw([path]).line


def test_a_grain_on_the_plate_beyond_the_last_tooth_is_none(tmp_path: Path) -> None:
    end = LINE.teeth[-1].place
    line = read(LINE, tmp_path, ("grain", [(end + 0.6 * PITCH, -LINE.depth + 0.8)]))
    assert line.count == 12
    assert {tooth.state for tooth in line.teeth} == {ToothState.WHOLE}


def test_a_hair_over_the_last_point_hides_it_and_takes_no_tooth_away(tmp_path: Path) -> None:
    end = LINE.teeth[-1].place
    hair = [(end - 0.6 * PITCH, 1.0), (end, -0.3), (end + 0.9 * PITCH, 0.2)]
    line = read(LINE, tmp_path, ("hair", hair))
    assert line.count == 12
    assert line.those(ToothState.NOT_SEEN) == (12,)


def test_a_hair_that_stands_far_out_of_the_line_loses_no_tooth_beyond_it(tmp_path: Path) -> None:
    foot = LINE.teeth[9].place + 0.4 * PITCH
    line = read(LINE, tmp_path, ("hair", [(foot, -LINE.depth), (foot + 0.3, 0.0), (foot + 1.5, 3.8)]))
    assert line.count == 12
    assert line.those(ToothState.BROKEN) == ()


def test_a_stump_whose_last_peak_is_far_to_one_side_is_one_tooth(tmp_path: Path) -> None:
    tooth = LINE.teeth[5]
    low = -0.75 * LINE.depth
    foot = 0.75 * LINE.depth
    torn = ((tooth.a - 1.5 * foot, low), (tooth.a + 0.1 * PITCH, low - 0.3), (tooth.a + 0.3 * PITCH, low + 0.6))
    stump = KnownTooth(torn[0][0], tooth.b + 0.1 * foot, low, tooth.front, tooth.back, "broken", torn)
    line = read(replace(LINE, teeth=(*LINE.teeth[:5], stump, *LINE.teeth[6:])), tmp_path)
    assert line.count == 12
    assert line.those(ToothState.BROKEN) == (6,)


def test_a_gap_that_fits_no_whole_number_of_teeth_is_refused_with_its_place(tmp_path: Path) -> None:
    teeth = (*LINE.teeth[:6], *(moved(tooth, 0.5 * PITCH) for tooth in LINE.teeth[6:]))
    with pytest.raises(Refusal, match=r"near column \d+, row \d+ and column \d+, row \d+ .* cannot be told how many"):
        read(replace(LINE, teeth=teeth), tmp_path)
