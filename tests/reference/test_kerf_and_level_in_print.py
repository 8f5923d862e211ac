"""Kerf, set and leveling against values in print; the source stands beside each."""

from __future__ import annotations

import pytest

from session.trade.kerf import HALF_OF_TOOTH, MOST_SET_MM, kerf_mm, set_from_measurement_mm
from session.trade.leveling import flat_from_off_mm
from session.trade.saw import Cut
from session.trade.set_rules import set_advice

INCH = 25.4


@pytest.mark.parametrize(
    ("plate_in", "set_in", "kerf_in", "ratio", "within"),
    [
        (0.035, 0.010, 0.055, 1.571, 1e-9),  # FSMAN, starting figure on 20 BWG
        (0.042, 0.010, 0.062, 1.476, 1e-9),  # FSMAN, on 19 BWG
        (0.042, 0.042 / 3, 0.070, 5 / 3, 1e-9),  # MTS, a third read as per side
        (0.042, 0.042 / 6, 0.056, 4 / 3, 1e-9),  # MTS, a third read as in all
        (0.049, 0.049 / 3, 0.0817, 5 / 3, 5e-5),  # MTS per side, 18 BWG
        (0.022, 0.022 / 3, 0.0367, 5 / 3, 5e-5),  # MTS per side, 24 BWG
    ],
)
def test_kerfs_of_published_sets(plate_in: float, set_in: float, kerf_in: float, ratio: float, within: float) -> None:
    kerf = kerf_mm(plate_in * INCH, set_in * INCH)
    assert kerf / INCH == pytest.approx(kerf_in, abs=within)
    assert kerf / (plate_in * INCH) == pytest.approx(ratio, abs=5e-4)
    assert set_from_measurement_mm(kerf_in * INCH, plate_in * INCH) / INCH == pytest.approx(set_in, abs=within)


def test_limits_are_the_printed_ones() -> None:
    assert pytest.approx(0.030) == MOST_SET_MM / INCH  # FSMAN
    assert HALF_OF_TOOTH == 0.5  # ROSS p. 9, MTS, SHOP1/2


def test_flat_of_a_peg_tooth_follows_the_fundamental_triangle() -> None:
    # ISO 68-1: the 60-degree triangle is sqrt(3)/2 of the pitch high, so its width at a height is 2/sqrt(3) of that.
    assert flat_from_off_mm(0.1, 2.0, 2.0 * 3**0.5 / 2) == pytest.approx(0.2 / 3**0.5, rel=1e-12)


def test_printed_rules_for_set_stand_beside_the_proposal() -> None:
    advice = set_advice("hand", Cut.CROSSCUT, "dry hardwood", 0.042 * INCH, 25.4 / 7)
    found = {
        (rule.source, round((rule.low_mm or 0) / INCH, 4), round((rule.high_mm or 0) / INCH, 4))
        for rule in advice.rules
    }
    assert ("FSMAN", 0.010, 0.010) in found
    assert ("FSMAN", 0.0, 0.030) in found
    assert ("FSTOOL", 0.012, 0.015) in found
    assert ("MTS", 0.014, 0.014) in found  # per side
    assert ("MTS", 0.007, 0.007) in found  # in all
