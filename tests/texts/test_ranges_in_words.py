"""Ranges of heights in words: in the owner's unit, and no finer than an eye's grades."""

from __future__ import annotations

import pytest

from session.texts.wording import within


@pytest.mark.parametrize(
    ("least_mm", "most_mm", "unit", "told"),
    [
        (0.0279, 0.0836, "in", "1 to 3 thou"),
        (0.0127, 0.0381, "thou", "0.5 to 1.5 thou"),
        (0.0064, 0.0193, "in", "0.3 to 0.8 thou"),
        (0.2334, 0.5446, "in", "9 to 21 thou"),
        (0.0279, 0.0836, "mm", "0.03 to 0.085 mm"),
        (0.0064, 0.0193, "mm", "0.006 to 0.02 mm"),
        (0.2334, 0.5446, "cm", "0.23 to 0.54 mm"),
        (0.0, 0.0, "mm", "0.000 mm"),
        (0.0508, 0.0508, "in", "2.0 thou"),
    ],
)
def test_a_range_goes_by_steps_as_fine_as_it_is(least_mm: float, most_mm: float, unit: str, told: str) -> None:
    assert within(least_mm, most_mm, unit) == told
