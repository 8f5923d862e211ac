from __future__ import annotations

from dataclasses import FrozenInstanceError, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from made_saws import panel_saw
from session.trade.lengths import parse_length

PANEL = panel_saw()


def test_tooth_one_stands_at_the_heel_end_of_the_rule() -> None:
    assert PANEL.from_heel_mm(1) == 0
    assert PANEL.from_heel_mm(155) == pytest.approx(22 * 25.4)
    assert PANEL.from_heel(155) == "22 in"


@pytest.mark.parametrize(
    ("length", "tooth", "text"),
    [
        ("22 in", 47, "6 9/16 in"),
        ("22000 thou", 47, "6 9/16 in"),
        ("560 mm", 47, "167 mm"),
        ("56 cm", 47, "16.7 cm"),
        ("0.56 m", 47, "0.167 m"),
    ],
)
def test_a_place_is_told_in_the_owners_unit(length: str, tooth: int, text: str) -> None:
    saw = replace(PANEL, toothed_length=parse_length(length))
    assert saw.unit == parse_length(length).unit
    assert saw.from_heel(tooth) == text


@given(st.integers(1, 154))
def test_neighbors_stand_one_pitch_apart(tooth: int) -> None:
    assert PANEL.from_heel_mm(tooth + 1) - PANEL.from_heel_mm(tooth) == pytest.approx(PANEL.pitch_mm)


def test_a_saw_is_never_changed_in_place() -> None:
    with pytest.raises(FrozenInstanceError):
        PANEL.points = 154  # type: ignore[misc]
