"""The scale by a steel rule: told to a few parts in ten thousand, along and down the picture, or refused."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from made_rule import rule_picture
from session.machine.refusal import Refusal
from session.scan.rule_ticks import rule_scale


def dots(picture: Image.Image) -> np.ndarray[tuple[int, int], np.dtype[np.uint8]]:
    return np.asarray(picture)


@pytest.mark.parametrize(
    ("off", "spacing", "tilt", "upright"),
    [
        (1.004, 1.0, 0.0, False),
        pytest.param(0.997, 1.0, 2.0, True, marks=pytest.mark.wide),
        pytest.param(1.002, 25.4 / 16, -1.0, False, marks=pytest.mark.wide),
    ],
)
def test_the_scale_is_that_of_the_rule(off: float, spacing: float, tilt: float, upright: bool) -> None:
    told = 300 / 25.4
    length = 45 * spacing
    found = rule_scale(
        dots(rule_picture(told * off, length, spacing, tilt=tilt, upright=upright)), (told, told), length
    )
    assert found.upright is upright
    assert found.spacing_mm == pytest.approx(spacing)
    assert found.dots_per_mm / told == pytest.approx(off, abs=3e-4)
    assert 0.0002 < found.se < 0.001
    assert found.spaces == pytest.approx(45, abs=2)


def test_a_length_that_the_ticks_do_not_have_is_refused() -> None:
    picture = dots(rule_picture(250 / 25.4, 45.0))
    with pytest.raises(Refusal, match=r"its ticks go on for 45\.0 mm at 1\.00 mm each, and --length says 100\.0 mm"):
        rule_scale(picture, (250 / 25.4,) * 2, 100.0)


def test_a_length_in_another_unit_that_the_ticks_cannot_make_is_refused() -> None:
    picture = dots(rule_picture(250 / 25.4, 50.0))
    with pytest.raises(
        Refusal, match=r"--length says 50\.8 mm, which is no whole number of such spaces; by its ticks it"
    ):
        rule_scale(picture, (250 / 25.4,) * 2, 2 * 25.4)
    assert rule_scale(picture, (250 / 25.4,) * 2, 50.0).spaces == 50


@pytest.mark.wide
def test_a_picture_without_ticks_is_refused() -> None:
    noise = np.random.default_rng(1).integers(0, 255, (60, 400), dtype=np.uint8)
    for picture in (noise, np.full((60, 400), 90, dtype=np.uint8)):
        with pytest.raises(Refusal, match="no even row of ticks"):
            rule_scale(picture, (12.0, 12.0), 60.0)
