"""What mottled cloth, shadows, low teeth at an end and a second saw do to a scan: nothing wrong is told."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from known_line import KnownLine, even_line, faulty
from made_scan import Optics, scan
from session.machine.refusal import Refusal
from session.scan.edge_noise import restated, told_apart
from session.scan.end_stumps import stump_beyond
from session.scan.flank_lines import Flank, fit_flank
from session.scan.line_count import counted
from session.scan.line_reading import read_picture
from session.scan.most_points import off_most_points
from session.scan.saw_scan import scan_saw
from session.trade.scanned_line import ScannedLine, ToothState

PITCH = 25.4 / 8
DOT = 25.4 / 1200


def flatted(line: KnownLine, width: float) -> KnownLine:
    """``line`` with flats of that width at the same height, mm."""
    teeth = [replace(one, a=one.place - width / 2.0, b=one.place + width / 2.0) for one in line.teeth]
    return replace(line, teeth=tuple(teeth))


def lowered(line: KnownLine, tooth: int, by: float) -> KnownLine:
    """``line`` with a tooth's straight flat that much lower."""
    teeth = list(line.teeth)
    teeth[tooth - 1] = replace(teeth[tooth - 1], v=teeth[tooth - 1].v - by)
    return replace(line, teeth=tuple(teeth))


def told(line: KnownLine, optics: Optics, folder: Path) -> ScannedLine:
    path = folder / "scan.png"
    Image.fromarray(scan(line, optics)[0]).save(path, dpi=(optics.dpi, optics.dpi))
    return scan_saw([path]).line


def mottled(dots: np.ndarray, share: float) -> np.ndarray:
    """A picture whose light goes up and down by that share, from place to place some dots apart."""
    dice = np.random.default_rng(3)
    blobs = np.kron(dice.normal(0.0, share, (dots.shape[0] // 6 + 1, dots.shape[1] // 6 + 1)), np.ones((6, 6)))
    light: np.ndarray = np.clip(dots * (1.0 + blobs[: dots.shape[0], : dots.shape[1]]), 0, 255).astype(np.uint8)
    return light


def test_flats_under_a_mottled_light_cloth_are_told_by_their_edge(tmp_path: Path) -> None:
    line = flatted(even_line(PITCH, 12, rake=5.0), 0.4)
    dots, _ = scan(line, Optics(steel=0.2, cloth=0.8, shadow=0.3))
    path = tmp_path / "scan.png"
    Image.fromarray(mottled(dots, 0.05)).save(path, dpi=(1200, 1200))
    found = scan_saw([path]).line
    assert [one.state for one in found.teeth] == [ToothState.WHOLE] * 12
    for one in found.teeth:
        assert one.flat_mm == pytest.approx(0.4, abs=0.05)
        assert one.height_mm == pytest.approx(0.0, abs=0.02)


def test_a_straight_flat_that_lies_low_is_a_low_tooth_and_a_ragged_one_is_a_break(tmp_path: Path) -> None:
    line = lowered(flatted(even_line(PITCH, 14, rake=5.0), 0.4), 5, 0.3)
    teeth = list(line.teeth)
    teeth[9] = faulty(teeth[9], "broken", random.Random(1), line.depth)
    found = told(replace(line, teeth=tuple(teeth)), Optics(), tmp_path)
    assert (found.those(ToothState.LOW), found.those(ToothState.BROKEN)) == ((5,), (10,))


def test_low_teeth_at_the_toe_do_not_pull_the_line_down(tmp_path: Path) -> None:
    line = flatted(even_line(PITCH, 14, rake=5.0), 0.3)
    found = told(lowered(lowered(line, 14, 0.23), 13, 0.35), Optics(), tmp_path)
    assert found.those(ToothState.LOW) == (13, 14)
    assert len(found.those(ToothState.WHOLE)) == 12


def test_of_a_few_points_none_is_left_out_of_the_line(tmp_path: Path) -> None:
    line = flatted(even_line(PITCH, 9, rake=5.0), 0.2)
    teeth = list(lowered(lowered(line, 5, 0.18), 7, 0.2).teeth)
    teeth[2] = faulty(teeth[2], "broken", random.Random(1), line.depth)
    found = told(replace(line, teeth=tuple(teeth)), Optics(), tmp_path)
    assert (found.those(ToothState.LOW), found.those(ToothState.HIGH)) == ((5, 7), ())


def test_a_third_of_the_points_may_stand_anywhere_and_moves_no_line() -> None:
    u = np.linspace(0.0, 60.0, 18)
    bowed = 1.0 + 0.01 * u - 0.0002 * (u - 30.0) ** 2
    v = bowed.copy()
    v[-5:] -= 0.3
    off = off_most_points(u, v)
    assert np.abs(off[:-5]).max() < 1e-9
    assert off[-5:] == pytest.approx(-0.3)


def test_teeth_that_rise_but_that_the_spacing_does_not_count_are_not_left_out() -> None:
    line = flatted(even_line(PITCH, 13, rake=5.0), 0.4)
    picture = read_picture(scan(line, Optics())[0], (1200 / 25.4, 1200 / 25.4))
    # Were every other point not to be told, the rest would be a line of half as many teeth.
    gone = [replace(one, fit="covered") if at % 2 else one for at, one in enumerate(picture.teeth)]
    with pytest.raises(Refusal, match="cannot be told how many stand"):
        counted(replace(picture, teeth=tuple(gone)))


def test_a_gap_of_two_or_of_three_spaces_is_not_one() -> None:
    line = flatted(even_line(PITCH, 9, rake=5.0), 0.4)
    picture = read_picture(scan(line, Optics())[0], (1200 / 25.4, 1200 / 25.4))
    seen = [tooth for at, tooth in enumerate(picture.teeth) if at in (0, 2, 5, 6, 7)]
    # The middle one of the gaps is of two spaces.
    with pytest.raises(Refusal, match="cannot be told how many stand"):
        counted(replace(picture, teeth=tuple(seen)))


def edge(*corners: tuple[float, float]) -> tuple[np.ndarray, np.ndarray]:
    """An edge through those places, from a gullet at 0 outward."""
    u = np.arange(0.0, corners[-1][0], 0.02)
    return u, np.interp(u, [one for one, _ in corners], [height for _, height in corners])


@pytest.mark.parametrize(
    ("corners", "stands"),
    [
        (((0, 0), (0.3, 0.2), (1.8, 0.2), (2.0, -0.1), (6, -0.1)), True),
        (((0, 0), (0.3, 0.2), (6, 0.2)), False),  # an edge that was never filed, over its last gullet
        (((0, 0), (6, 0)), False),
        (((0, 0), (0.3, 0.2), (1.8, 0.2), (2.0, -3), (6, -3)), False),  # the plate's end
        (((0, 0), (0.9, 0), (1.0, 0.3), (1.3, 0.3), (1.4, 0), (6, 0)), False),  # a grain
    ],
)
def test_a_low_stump_beside_the_unfiled_edge_is_seen(corners: tuple[tuple[float, float], ...], stands: bool) -> None:
    assert stump_beyond(edge(*corners), 0.0, 2.2, 1.0) is stands


def test_a_line_of_three_centimeters_on_a_wide_glass_is_found(tmp_path: Path) -> None:
    dots, _ = scan(even_line(PITCH, 10, rake=5.0), Optics(dpi=600, below=30.0))
    glass = np.full((2400, 4000), int(np.median(dots[:20])), dtype=np.uint8)
    glass[600 : 600 + dots.shape[0], 1000 : 1000 + dots.shape[1]] = dots
    path = tmp_path / "scan.png"
    Image.fromarray(glass).save(path, dpi=(600, 600))
    assert scan_saw([path]).line.count == 10


def test_two_saws_in_one_picture_are_refused(tmp_path: Path) -> None:
    one = scan(even_line(PITCH, 12, rake=5.0), Optics(dpi=600, below=12.0))[0]
    path = tmp_path / "two.png"
    Image.fromarray(np.concatenate([one, one])).save(path, dpi=(600, 600))
    with pytest.raises(Refusal, match="two lines of teeth"):
        scan_saw([path])


def strayed(alike: int) -> tuple[Flank, np.ndarray]:
    """A flank of 200 dots whose places stray together over so many."""
    dice = np.random.default_rng(5)
    off = np.convolve(dice.normal(0.0, 0.002, 200 + alike), np.ones(alike) / np.sqrt(alike), mode="valid")[:200]
    points = np.column_stack([DOT * np.arange(200), off])
    flank = fit_flank(points, 2.0 * DOT)
    assert flank is not None
    return flank, points


def test_places_that_stray_together_are_worth_less() -> None:
    alone, together = told_apart([strayed(1)], DOT, DOT), told_apart([strayed(8)], DOT, DOT)
    assert alone < 2.0 * DOT
    assert 4.0 * DOT < together < 14.0 * DOT
    flank = strayed(8)[0]
    assert restated(flank, 2.0 * DOT, together).se_off > 1.5 * flank.se_off
