from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.trade.kerf import bend_angle_deg, kerf_mm, kerf_warnings, set_from_measurement_mm
from session.trade.trade_error import TradeError

plates = st.floats(0.3, 2.0)
sets = st.floats(0.0, 0.9)


@given(plates, sets)
def test_kerf_is_never_under_the_plate_and_gives_the_set_back(plate: float, per_side: float) -> None:
    kerf = kerf_mm(plate, per_side)
    assert kerf >= plate
    assert set_from_measurement_mm(kerf, plate) == pytest.approx(per_side, abs=1e-12)


@given(plates, sets, st.floats(0.1, 10.0))
def test_kerf_scales_with_all_lengths(plate: float, per_side: float, scale: float) -> None:
    assert kerf_mm(plate * scale, per_side * scale) == pytest.approx(scale * kerf_mm(plate, per_side))


@given(st.floats(0.5, 6.0), st.floats(0.1, 1.0), st.floats(0.0, 0.99))
def test_the_bend_carries_the_point_out_by_the_set(depth: float, share: float, part: float) -> None:
    per_side = part * depth * share
    angle = bend_angle_deg(per_side, depth, share)
    assert 0.0 <= angle < 90.0
    assert depth * share * math.sin(math.radians(angle)) == pytest.approx(per_side, abs=1e-12)


def test_a_bend_of_thirty_degrees() -> None:
    assert bend_angle_deg(0.5, 2.5, 0.4) == pytest.approx(30.0)  # half the length of the bent part


@pytest.mark.parametrize(("width", "plate"), [(0.8, 0.9), (math.nan, 0.9), (1.0, 0.0), (math.inf, 0.9), (1.0, -0.9)])
def test_impossible_measurements_are_refused(width: float, plate: float) -> None:
    with pytest.raises(TradeError, match="allowed"):
        set_from_measurement_mm(width, plate)


@pytest.mark.parametrize("per_side", [-0.1, math.nan, math.inf])
def test_impossible_sets_are_refused(per_side: float) -> None:
    with pytest.raises(TradeError, match="set per side"):
        kerf_mm(0.9, per_side)


@pytest.mark.parametrize(
    ("per_side", "depth", "share"), [(1.0, 2.5, 0.4), (0.1, 2.5, 0.0), (0.1, 2.5, 1.1), (0.1, 0, 0.4)]
)
def test_impossible_bends_are_refused(per_side: float, depth: float, share: float) -> None:
    with pytest.raises(TradeError, match="allowed"):
        bend_angle_deg(per_side, depth, share)


def test_usual_set_warns_of_nothing() -> None:
    assert kerf_warnings(0.889, 0.1524, 0.4) == ()
    assert kerf_warnings(0.889, 0.1524, 0.5) == ()  # half itself is what ROSS, MTS and SHOP print


@pytest.mark.parametrize(
    ("per_side", "share", "says"),
    [
        (0.1524, 0.51, ["ROSS p. 9", "BS3159", "ZERBE"]),
        (0.030 * 25.4 + 0.01, 0.4, ["0.030 in", "FSMAN"]),
        (0.3, 0.4, ["1.67 times", "from memory"]),
    ],
)
def test_each_warning_names_its_source(per_side: float, share: float, says: list[str]) -> None:
    warnings = kerf_warnings(0.889, per_side, share)
    assert any(all(word in warning for word in says) for warning in warnings)


def test_the_largest_printed_set_is_itself_no_cause_for_a_warning() -> None:
    assert not any("FSMAN" in warning for warning in kerf_warnings(2.0, 0.030 * 25.4, 0.4))
