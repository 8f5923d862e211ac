"""Flats of a scan as shares of the pitch: neither the scanner's scale nor where the line begins matters."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np
import pytest

from session.trade.evening import Lean, plan_evening
from session.trade.flats_by_scan import flats_by_scan
from session.trade.graded_line import GradedLine
from session.trade.scan_readings import BY_SCAN, scanned_off, scanned_quarters, scanned_share
from session.trade.scanned_line import ScannedLine, ScannedTooth, ToothState, line_of_teeth, uneven_line
from session.trade.strip_plan import plan_by_strip
from session.trade.uneven_line import line_from_flats
from told_line import told_line

PITCH = 3.0


def uneven(count: int, seed: int, *, scale: float = 1.0, begin: float = 0.0) -> ScannedLine:
    """Flats of random widths, off their places at random; ``scale`` and ``begin`` are the scanner's."""
    dice, line = Random(seed), told_line(count, PITCH)
    teeth: list[ScannedTooth] = []
    for tooth in line.teeth:
        width, middle = dice.uniform(0.1, 0.5), tooth.place_mm + dice.uniform(-0.2, 0.2)
        a, b = (begin + scale * (middle + end * width) for end in (-0.5, 0.5))
        teeth.append(replace(tooth, place_mm=(a + b) / 2.0, a_mm=a, b_mm=b))
    return line_of_teeth(teeth, 0.0, 0.02, 0.002)


def test_the_plan_by_shares_is_the_plan_by_the_measured_flats_themselves() -> None:
    line = uneven(30, 7)
    flats = flats_by_scan(line, [PITCH] * 30)
    widths = [flats[tooth].share * PITCH for tooth in range(1, 31)]
    readings = {tooth: scanned_quarters(flat.share, flat.off) or 0.0 for tooth, flat in flats.items()}
    by_shares = plan_by_strip(
        GradedLine(
            widths, PITCH, 2.0, 0.9, grades=[flats[tooth].share for tooth in range(1, 31)], spaces_mm=[PITCH] * 30
        ),
        readings,
    )
    own = float(np.polyfit(range(30), [tooth.place_mm for tooth in line.teeth], 1)[0])
    measured = plan_evening(line_from_flats([(t.a_mm or 0.0, t.b_mm or 0.0) for t in line.teeth], own), 2.0, 0.9)
    assert by_shares.front_mm == pytest.approx(measured.front_mm, abs=1e-3)
    assert by_shares.back_mm == pytest.approx(measured.back_mm, abs=1e-3)


def test_scale_and_beginning_of_the_scan_change_no_share_that_is_taken() -> None:
    lines = (uneven(30, 3), uneven(30, 3, scale=1.02, begin=40.0))
    plain, other = ([flat.off for flat in flats_by_scan(line, [PITCH] * 30).values()] for line in lines)
    assert other == pytest.approx([1.02 * off for off in plain], abs=2e-5)
    assert max(map(abs, other)) < 0.15


def test_broken_and_unseen_teeth_have_no_flat_and_a_low_one_has_none_of_width() -> None:
    odd = {4: (ToothState.BROKEN, 1.0), 7: (ToothState.NOT_SEEN, 0.0), 9: (ToothState.LOW, 0.2)}
    flats = flats_by_scan(told_line(12, PITCH, odd), [PITCH] * 12)
    assert set(flats) == {1, 2, 3, 5, 6, 8, 9, 10, 11, 12}
    assert (flats[9].share, flats[9].off) == (0.0, 0.0)
    assert flats[1].share == pytest.approx(0.2 / PITCH, abs=1e-5)


def test_a_sharp_tooth_as_high_as_the_leveled_ones_is_left_to_the_eye() -> None:
    teeth = list(told_line(12, PITCH, {9: (ToothState.WHOLE, 0.03)}).teeth)
    for number in (4, 9):
        teeth[number - 1] = replace(teeth[number - 1], a_mm=(number - 1) * PITCH, b_mm=(number - 1) * PITCH)
    flats = flats_by_scan(line_of_teeth(teeth, 0.0, 0.02, 0.002), [PITCH] * 12)
    assert 4 not in flats, "its flat may be too narrow to be told"
    assert flats[9].share == 0.0, "it stands under them: the file has not touched it"


def test_a_low_tooth_is_low_whatever_flat_its_wear_has_left() -> None:
    teeth = list(told_line(12, PITCH, {9: (ToothState.LOW, 0.18), 7: (ToothState.NOT_SEEN, 0.0)}).teeth)
    teeth[8] = replace(teeth[8], a_mm=8 * PITCH - 0.025, b_mm=8 * PITCH + 0.025)
    teeth[3] = replace(teeth[3], a_mm=3 * PITCH, b_mm=3 * PITCH)
    line = line_of_teeth(teeth, 0.0, 0.02, 0.002)
    assert flats_by_scan(line, [PITCH] * 12)[9].share == 0.0
    planned = uneven_line(line)
    assert (planned.low, planned.unseen) == ((9,), (4, 7)), "one too narrow to be told is left to the eye as well"
    plan = plan_evening(planned, 2.0, 0.9)
    assert [plan.lean[gullet - 1] for gullet in (3, 4, 6, 7)] == [Lean.STRAIGHT] * 4
    usual, beside = plan.volumes_mm3[0], plan.volumes_mm3[5]
    assert beside == pytest.approx(usual, rel=1e-6), "strokes are counted as if its flat were a middle one"
    assert any(note.startswith("Not seen: grade their flats by eye") and note.endswith("4, 7.") for note in plan.notes)


def test_a_line_of_points_alone_tells_no_place() -> None:
    assert flats_by_scan(told_line(12, PITCH, flat_mm=0.0), [PITCH] * 12) == {}


@pytest.mark.parametrize("value", [-0.01, 1.0, 7, 10**400, float("nan"), float("inf"), True, "0.1", None])
def test_what_is_no_share_is_none(value: object) -> None:
    assert scanned_share(value, BY_SCAN) is None


def test_shares_and_offs_in_range_are_taken_as_they_are() -> None:
    assert (scanned_share(0, BY_SCAN), scanned_share(0.25, BY_SCAN)) == (0.0, 0.25)
    assert scanned_share(0.25, "fine grade") is None
    assert (scanned_off(-0.3), scanned_off(0)) == (-0.3, 0.0)
    assert [scanned_off(value) for value in (1.0, -2, float("nan"), True, "0", None)] == [None] * 6
    assert scanned_quarters(0.2, -0.05) == pytest.approx(-1.0)
    assert scanned_quarters(0.0, 0.1) is None
