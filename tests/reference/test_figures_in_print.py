"""Figures of whole saws against printed values; each names its source (session/texts/sources.toml)."""

from __future__ import annotations

import dataclasses

import pytest

from every_figure import figures
from session.advice.sourced_figure import Figure
from session.trade.gauge import thickness_mm
from session.trade.lengths import Length, parse_length
from session.trade.pitch import count_points, from_points_per_inch
from session.trade.saw import Cut, Saw

INCH = 25.4


def saw(
    length_in: float, ppi: float, rake: float = 0.0, fleam: float = 0.0, gauge: int = 20, set_in: float = 0.006
) -> Saw:
    pitch = from_points_per_inch(ppi)
    return Saw(
        name="Boat-shed saw",
        kind="other",
        cut=Cut.RIP,
        toothed_length=Length.of(length_in * INCH, "in"),
        plate=Length.of(thickness_mm(gauge), "in"),
        gauge=gauge,
        points=count_points(length_in * INCH, pitch),
        pitch_mm=pitch,
        count_as=f"{ppi:g} points per inch",
        rake=rake,
        fleam=fleam,
        set_per_side=Length.of(set_in * INCH, "in"),
    )


def told(one: Saw) -> dict[str, Figure]:
    return {figure.key: figure for figure in figures(one)}


def value(one: Saw, key: str) -> float:
    found = told(one)[key].value
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("length_in", "ppi", "pitch_mm", "tips"),
    [  # NOYES p. 63, GRIF art. 11: one tooth fewer than points to the inch
        (26, 8, 3.629, 183),
        (26, 10, 2.822, 235),
        (28, 5.5, 5.644, 127),
        (22, 10, 2.822, 199),
        (14, 12, 2.309, 155),
        (8, 15, 1.814, 113),
        (30, 3.5, 10.160, 76),
    ],
)
def test_pitch_and_points(length_in: float, ppi: float, pitch_mm: float, tips: int) -> None:
    one = saw(length_in, ppi)
    assert value(one, "pitch_mm") == pytest.approx(pitch_mm, abs=5e-4)
    assert value(one, "points") == tips


@pytest.mark.parametrize(
    ("rake", "ppi", "depth_in"),
    [  # The 60° file of HOLTZ, SPON, GOR and NOYES; depths follow by the law of sines
        (15, 8, 0.1127),
        (12, 8, 0.1080),
        (0, 5.5, 0.1283),
        (0, 12, 0.0525),
        (30, 10, 0.0962),
    ],
)
def test_depths(rake: float, ppi: float, depth_in: float) -> None:
    assert value(saw(20, ppi, rake), "depth_mm") / INCH == pytest.approx(depth_in, abs=5e-5)


@pytest.mark.parametrize(
    ("rake", "back"),
    [(0, 60), (12, 48), (15, 45), (30, 30)],  # HOLTZ figs 643–645 and FIT; from square, not from the line
)
def test_backs_of_printed_teeth(rake: float, back: float) -> None:
    assert value(saw(20, 8, rake), "back_plate_deg") == pytest.approx(back)


@pytest.mark.parametrize(
    ("ppi", "rake", "doubled_in"),
    [  # Longest flank by the law of sines, doubled
        (4.5, 0, 0.660),
        (8, 0, 0.330),
        (8, 15, 0.319),
        (10, 15, 0.248),
        (5.5, 0, 0.513),
        (16, 15, 0.149),
    ],
)
def test_faces(ppi: float, rake: float, doubled_in: float) -> None:
    one = saw(20, ppi, rake)
    # No triangular file is known to be wider than 15/32 in (from memory), whatever the doubling asks for.
    assert value(one, "file_face_advised_mm") / INCH == pytest.approx(min(doubled_in, 15 / 32), abs=6e-4)
    assert value(one, "file_face_hard_minimum_mm") / INCH == pytest.approx(doubled_in / 2, abs=6e-4)


def test_a_face_of_0_266_in_files_8_points_but_not_by_the_doubling_rule() -> None:
    one = dataclasses.replace(saw(20, 8, 15), face=parse_length("0.266 in"))
    assert told(one)["file_face_ok"].value is True
    assert value(one, "file_face_advised_mm") > 0.266 * INCH


@pytest.mark.parametrize(
    ("gauge", "set_in", "kerf_in"),
    [  # FSMAN's figure to start from; MTS: a third of the plate, read per side and in all
        (20, 0.010, 0.055),
        (19, 0.010, 0.062),
        (19, 0.014, 0.070),
        (19, 0.007, 0.056),
    ],
)
def test_kerfs(gauge: int, set_in: float, kerf_in: float) -> None:
    assert value(saw(20, 8, gauge=gauge, set_in=set_in), "kerf_mm") / INCH == pytest.approx(kerf_in, abs=1e-9)


@pytest.mark.parametrize(
    ("gauge", "plate_in"),
    [(19, 0.042), (20, 0.035), (21, 0.032), (22, 0.028), (23, 0.025), (24, 0.022)],  # SPON, saw by saw
)
def test_plates(gauge: int, plate_in: float) -> None:
    figure = told(saw(20, 8, gauge=gauge))["plate_mm"]
    assert figure.value == pytest.approx(plate_in * INCH)
    assert "BWG" in figure.source


@pytest.mark.parametrize(
    ("file_to_plate", "fleam"), [(60, 30), (65, 25), (70, 20), (80, 10), (90, 0), (45, 45)]
)  # KING 64(D); FIT Fig. 60 for 45
def test_file_to_plate(file_to_plate: float, fleam: float) -> None:
    assert value(saw(20, 8, 15, fleam), "file_to_plate_deg") == file_to_plate


def test_the_spread_of_printed_set_is_told() -> None:
    """FSMAN: from almost none to 0.030 in a side."""
    assert value(saw(20, 8), "set_printed_low_mm") == 0
    assert value(saw(20, 8), "set_printed_high_mm") / INCH == pytest.approx(0.030)


def test_strokes_of_a_light_sharpening_lie_in_print() -> None:
    """SICK: 1 or 2; NOYES: 1 to 3, for the saws they describe."""
    for ppi, rake, fleam in ((8, 15, 25), (7, 12, 20), (10, 15, 20)):
        assert 1 <= value(saw(24, ppi, rake, fleam), "strokes_per_gullet") <= 3
