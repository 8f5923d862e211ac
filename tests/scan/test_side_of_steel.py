"""Which side of an edge is steel: told by ends of the plate and by teeth, and not at all where neither tells."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from known_line import even_line
from made_scan import Frame, Optics, scan
from session.machine.refusal import Refusal
from session.scan.light_levels import Floats
from session.scan.saw_scan import scan_saw
from session.scan.steel_side import told_upside_down

DOT = 25.4 / 1200
PITCH, DEPTH = 3.0, 2.0


def teeth(points: float, gullets: float) -> Floats:
    """An edge of twelve teeth whose points and gullets are cut off level, so many mm wide, and scatter alike."""
    dice = np.random.default_rng(2)
    corners = []
    for at in range(12):
        low, high = dice.normal(0.0, 0.01, 2)
        middle = at * PITCH
        corners += [(middle - gullets / 2.0, low), (middle + gullets / 2.0, low)]
        corners += [(middle + 2.0 - points / 2.0, DEPTH + high), (middle + 2.0 + points / 2.0, DEPTH + high)]
    u = np.arange(0.0, 11.0 * PITCH, DOT)
    return np.column_stack([u, np.interp(u, [at for at, _ in corners], [v for _, v in corners])])


@pytest.mark.parametrize(("points", "gullets", "upside_down"), [(0.02, 0.4, False), (0.4, 0.02, True)])
def test_sharp_points_are_told_from_round_gullets(points: float, gullets: float, upside_down: bool) -> None:
    assert told_upside_down([teeth(points, gullets)], DEPTH, DOT) is upside_down


def test_points_and_gullets_that_look_alike_are_refused() -> None:
    with pytest.raises(Refusal, match=r"which side is steel.*--steel light or --steel dark"):
        told_upside_down([teeth(0.3, 0.3)], DEPTH, DOT)


def test_a_hair_that_leaves_the_middle_of_the_line_is_no_end_of_the_plate(tmp_path: Path) -> None:
    line, optics = replace(even_line(PITCH, 14, rake=5.0), toe_ledge=3.0), Optics(dpi=600, steel=0.2, cloth=0.8)
    picture, frame = Image.fromarray(scan(line, optics)[0]), Frame.of(line, optics)
    hair = [(6.2 * PITCH, -line.depth - 0.3), (6.6 * PITCH, 0.5), (7.4 * PITCH, 3.0), (9.0 * PITCH, 3.2)]
    ImageDraw.Draw(picture).line([frame.dots(*place) for place in hair], fill=120, width=8)
    width, height = picture.size
    # The plate goes on beyond the picture at either end.
    first, last = (int(frame.dots(tooth.place, 0.0)[0]) for tooth in (line.teeth[0], line.teeth[-1]))
    path = tmp_path / "scan.png"
    picture.crop((first - 40, 0, min(width, last + 40), height)).save(path, dpi=(600, 600))
    found = scan_saw([path])
    assert not found.light_steel
    assert found.line.count == 14
