"""Lines drawn and read: counts, states and figures, on scanners of all kinds and saws lying any way round."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from known_line import KnownLine, even_line, faulty, random_line
from made_scan import Optics, scan
from scan_judged import judged, scanned
from session.scan.saw_scan import scan_saw
from session.trade.scanned_line import ToothState
from session.trade.seen_words import LineShape

PITCH = 25.4 / 9  # 10 points to the inch


def uneven(count: int = 12) -> KnownLine:
    """A leveled line of 10 points with a low, a high and a broken tooth."""
    line = even_line(PITCH, count, flat=0.15)
    dice = random.Random(5)
    teeth = list(line.teeth)
    for k, state in ((3, "low"), (6, "broken"), (9, "high")):
        teeth[k] = faulty(teeth[k], state, dice, line.depth)
    return replace(line, teeth=tuple(teeth))


@pytest.mark.parametrize(
    "optics",
    [
        pytest.param(Optics(), marks=pytest.mark.wide),
        Optics(dpi=600, heel="right", up=False, tilt=-9.5, dust=15, hairs=1, seed=4),
        pytest.param(Optics(dpi=600, steel=0.2, cloth=0.85, shadow=0.3, tilt=1.0, jpeg=85), marks=pytest.mark.wide),
        pytest.param(Optics(dpi=600, gamma=1.9, spread=1.3, slope_of_light=0.3, bevel=0.8), marks=pytest.mark.wide),
    ],
    ids=["plain", "upside down", "on white", "coarse"],
)
def test_each_tooth_is_told_as_it_is(optics: Optics, tmp_path: Path) -> None:
    line = uneven()
    found = scanned(line, optics, tmp_path)
    told = judged(found, line)
    assert told.wrong == []
    assert told.not_seen == 0
    assert found.heel == optics.heel
    assert found.light_steel is (optics.steel > optics.cloth)
    assert found.line.those(ToothState.LOW) == (4,)
    assert found.line.those(ToothState.BROKEN) == (7,)
    assert found.line.those(ToothState.HIGH) == (10,)
    dot = 25.4 / optics.dpi
    assert told.spread("height") < 0.35 * dot
    assert told.spread("place") < 0.35 * dot
    assert told.spread("flat") < 1.4 * dot
    assert told.spread("front") < 0.5
    assert told.spread("back") < 0.5


def test_a_line_without_a_fault_is_told_so(tmp_path: Path) -> None:
    found = scanned(even_line(PITCH, 12, rake=3.0), Optics(dpi=600), tmp_path)
    assert {tooth.state for tooth in found.line.teeth} == {ToothState.WHOLE}
    assert all(tooth.a_mm == tooth.b_mm for tooth in found.line.teeth), "sharp points have no flats"
    assert found.line.shape is LineShape.STRAIGHT
    assert found.line.pitch_mm == pytest.approx(PITCH, abs=0.002)
    assert found.line.height_spread_mm < 0.006
    assert found.line.worst_spacing_error_mm < 0.02
    assert len(found.line.zones) == 1


def test_a_short_saw_on_a_wide_glass_is_read(tmp_path: Path) -> None:
    picture = scan(even_line(PITCH, 9), Optics(dpi=300))[0]
    glass = np.full((900, 2000), picture[0, 0], dtype=np.uint8)
    glass[300 : 300 + picture.shape[0], 250 : 250 + picture.shape[1]] = picture
    path = tmp_path / "wide.png"
    Image.fromarray(glass).save(path, dpi=(300, 300))
    assert scan_saw([path]).line.count == 9


def test_steel_is_told_by_its_teeth_where_no_end_of_the_plate_is_seen(tmp_path: Path) -> None:
    line = replace(random_line(33, count=14), toe_ledge=8.0, heel_ledge=8.0)
    for number, (steel, cloth) in enumerate(((0.2, 0.85), (0.6, 0.05))):
        found = scanned(line, Optics(dpi=300, steel=steel, cloth=cloth, seed=number + 1), tmp_path)
        assert found.line.count == 14
        assert found.light_steel is (steel > cloth)
        assert found.sure


def test_a_crown_is_told_with_its_amount_and_makes_no_tooth_low(tmp_path: Path) -> None:
    line = even_line(PITCH, 14, flat=0.1)
    end = line.teeth[-1].place
    teeth = tuple(replace(tooth, v=0.3 * (1.0 - (2.0 * tooth.place / end - 1.0) ** 2) - 0.3) for tooth in line.teeth)
    found = scanned(replace(line, teeth=teeth), Optics(dpi=600, tilt=2.0), tmp_path)
    assert found.line.shape is LineShape.CROWNED
    assert found.line.line_gap_mm == pytest.approx(0.3, abs=0.02)
    assert 0.0 < found.line.se_line_gap_mm < 0.03
    assert {tooth.state for tooth in found.line.teeth} == {ToothState.WHOLE}
