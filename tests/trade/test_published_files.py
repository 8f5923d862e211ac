from __future__ import annotations

import pytest

from session.trade.file_choice import face_needs
from session.trade.pitch import from_points_per_inch
from session.trade.printed_rows import ROWS, agreements, rows_for
from session.trade.tooth import tooth
from session.trade.trade_error import TradeError


def found(kind: str, points: float, rake: float, unit: str = "in") -> dict[tuple[str, str], tuple[bool | None, str]]:
    needs = face_needs(tooth(from_points_per_inch(points), rake))
    return {(a.row.source, a.row.file): (a.agrees, a.words) for a in agreements(kind, needs, unit)}


def test_rows_bear_on_the_kinds_they_name() -> None:
    """GOR p. 150 names 150 mm double-ended for dovetail, tenon and panel; 200 or 225 mm for crosscut and rip."""
    gor = {
        kind: [row.file for row in rows_for(kind) if row.source == "GOR p. 150"] for kind in ("panel", "rip", "carcass")
    }
    assert gor["panel"] == ["150 mm double-ended slim taper"]
    assert gor["rip"] == ["200 or 225 mm double-ended slim taper"]
    assert gor["carcass"] == []
    assert {row.source for row in rows_for("other")} == {"KING art. 63", "NOYES", "SHEAR", "SICK"}


def test_a_six_inch_slim_agrees_at_eight_points_and_asks_for_less_at_five() -> None:
    assert found("panel", 8, 15)["NOYES", "6 in slim taper"][0] is True
    agrees, words = found("rip", 5, 0)["KING art. 63", "6 in slim taper"]
    assert agrees is False
    assert "covers the flank of 0.289 in" in words
    agrees, words = found("rip", 4, 0)["NOYES", "6 in slim taper"]
    assert agrees is False
    assert "does not cover the flank of 0.385 in" in words


def test_a_row_for_finer_saws_is_not_held_against_a_coarse_one() -> None:
    assert found("rip", 5, 0)["KING art. 63", "4 in slim taper"][0] is None
    assert found("dovetail", 15, 5)["KING art. 63", "4 in slim taper"][0] is True


def test_rows_without_a_face_cannot_be_compared() -> None:
    rows = found("panel", 8, 15)
    for key in (("GOR p. 150", "150 mm double-ended slim taper"), ("SHEAR", "just large enough for the teeth")):
        assert rows[key][0] is None


def test_a_remembered_face_is_said_to_be_remembered() -> None:
    for agreement in agreements("hand", face_needs(tooth(4.0, 15))):
        assert ("from memory" in agreement.words) == (agreement.row.length_in is not None)


def test_every_row_names_its_source() -> None:
    assert all(row.source.split()[0] in {"KING", "GOR", "NOYES", "SHEAR", "SICK"} for row in ROWS)


def test_an_unknown_unit_is_refused() -> None:
    with pytest.raises(TradeError, match="allowed: mm or in"):
        agreements("hand", face_needs(tooth(4.0, 15)), "furlong")
