"""Figures of a scanned line that need no picture: its zones of pitch, and how far spacings are off."""

from __future__ import annotations

from itertools import accumulate

import pytest

from session.trade.scanned_line import pitch_zones, spacing_errors


def places(*spaces: float) -> list[float]:
    """Points with these spaces between them."""
    return [0.0, *accumulate(spaces)]


def test_an_even_line_is_one_zone() -> None:
    (zone,) = pitch_zones(places(*[3.0] * 20))
    assert (zone.first, zone.last) == (1, 21)
    assert zone.pitch_mm == pytest.approx(3.0)


def test_a_change_of_pitch_is_found_where_it_is() -> None:
    zones = pitch_zones(places(*[3.0, 3.02, 2.98] * 5, *[4.0, 3.98, 4.02] * 5))
    assert [(zone.first, zone.last) for zone in zones] == [(1, 16), (16, 31)]
    assert [zone.pitch_mm for zone in zones] == pytest.approx([3.0, 4.0])


def test_unevenness_is_no_zone() -> None:
    spaces = [3.0 + (0.15 if k % 2 else -0.15) for k in range(30)]
    assert len(pitch_zones(places(*spaces))) == 1


def test_one_wide_space_is_an_error_and_a_broken_tooth_parts_the_line() -> None:
    line: list[float | None] = [*places(3.0, 3.0, 3.0, 3.3, 3.0, 3.0, 3.0)]
    assert spacing_errors(line) == pytest.approx([0.0, 0.0, 0.0, 0.3, 0.0, 0.0, 0.0])
    line[4] = None
    assert spacing_errors(line) == pytest.approx([0.0] * 5)
