"""Rust on the plate breaks no tooth: the outline is followed by its own light, and what that leaves open is stated."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from known_line import KnownLine, even_line
from made_scan import Frame, Optics, scan
from session.scan.light_levels import USUAL
from session.scan.saw_scan import scan_saw
from session.trade.scanned_line import ScannedLine, ToothState

PITCH = 25.4 / 6
OPTICS = Optics(dpi=600)
LINE = even_line(PITCH, 12, rake=5.0, flat=0.2)

#: The share of the steel's light that rust leaves: less than half, which the line's light takes for cloth.
LEFT = 0.38


def read(folder: Path, line: KnownLine, *blobs: tuple[float, float, float], left: float = LEFT) -> ScannedLine:
    """``line`` with round rust at places (along, under the points, radius), mm."""
    picture, frame = scan(line, OPTICS)[0], Frame.of(line, OPTICS)
    rows, columns = np.mgrid[: picture.shape[0], : picture.shape[1]]
    light = USUAL[picture]
    cloth = float(np.percentile(light, 20))
    rusty = np.zeros(light.shape)
    for along, under, radius in blobs:
        column, row = frame.dots(along, -under)
        away = np.hypot(columns - column, rows - row)
        rusty = np.maximum(rusty, np.clip((radius * OPTICS.dpi / 25.4 - away) / 3.0, 0.0, 1.0))
    duller = cloth + np.maximum(light - cloth, 0.0) * (1.0 - (1.0 - left) * rusty) + np.minimum(light - cloth, 0.0)
    path = folder / "rust.png"
    Image.fromarray(np.searchsorted(USUAL, duller).clip(0, 255).astype(np.uint8)).save(path, dpi=(OPTICS.dpi,) * 2)
    return scan_saw([path]).line


def place(tooth: int) -> float:
    return LINE.teeth[tooth - 1].place


@pytest.mark.parametrize(
    "blob",
    [
        (place(6), 2.2, 1.5),
        (place(6) + 1.5, 2.5, 2.5),
        (place(2), 2.0, 4.5),
        (place(12), 3.0, 2.5),
        (place(7), 0.3, 0.6),
    ],
    ids=["under a point", "over a gullet", "over whole teeth", "by the last one", "on a point"],
)
def test_rust_breaks_no_tooth_and_hides_none_from_the_count(tmp_path: Path, blob: tuple[float, float, float]) -> None:
    found = read(tmp_path, LINE, blob)
    assert found.count == 12
    assert {tooth.state for tooth in found.teeth} <= {ToothState.WHOLE, ToothState.NOT_SEEN}
    sound = [tooth for tooth in found.teeth if tooth.height_mm is not None and tooth.state is ToothState.WHOLE]
    assert len(sound) >= 10
    assert max(abs(tooth.height_mm or 0.0) for tooth in sound) < 0.04


def test_a_low_tooth_is_told_through_rust_with_more_doubt(tmp_path: Path) -> None:
    low = replace(LINE, teeth=(*LINE.teeth[:5], replace(LINE.teeth[5], v=-0.25), *LINE.teeth[6:]))
    clean, rusty = read(tmp_path, low).teeth[5], read(tmp_path, low, (place(6), 2.0, 2.2)).teeth[5]
    assert (clean.state, rusty.state) == (ToothState.LOW, ToothState.LOW)
    assert clean.se_mm is not None
    assert rusty.se_mm is not None
    assert rusty.se_mm > clean.se_mm


def test_rust_as_dark_as_the_cloth_under_a_point_is_no_break(tmp_path: Path) -> None:
    found = read(tmp_path, LINE, (place(6), 2.2, 2.4), left=0.02)
    assert found.count == 12
    assert found.those(ToothState.BROKEN) == ()


def test_a_line_is_found_though_rust_parts_it_at_half_light(tmp_path: Path) -> None:
    found = read(tmp_path, LINE, *((place(tooth), 1.0, 2.6) for tooth in (3, 6, 9)))
    assert found.count == 12
    assert {one.state for one in found.teeth} <= {ToothState.WHOLE, ToothState.NOT_SEEN}
