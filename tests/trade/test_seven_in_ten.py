"""How wide a range has to be that holds seven times in ten, against Student's t of another library."""

from __future__ import annotations

import math

import pytest
from scipy.special import ndtri, stdtrit  # scipy.stats gives the same of them, and takes a second to be imported

from session.trade.seven_in_ten import KNOWN_SPREAD, either_side


def test_a_known_spread_is_that_of_the_normal_law() -> None:
    assert pytest.approx(ndtri(0.85), abs=5e-5) == KNOWN_SPREAD
    assert either_side(math.inf) == KNOWN_SPREAD


@pytest.mark.parametrize(("free", "off"), [(3, 0.04), (4, 0.02), (9, 0.005), (39, 0.001)])
def test_a_learned_spread_is_that_of_students_law(free: int, off: float) -> None:
    assert either_side(free) == pytest.approx(stdtrit(free, 0.85), abs=off)
