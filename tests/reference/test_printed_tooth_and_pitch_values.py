"""Outside checks: screw-thread tables, the wire gauge of a general library, and values printed in old trade books."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from screw_thread_lib.data import ASME_UN_2A2B_dict

from session.trade.gauge import thickness_mm
from session.trade.lengths import parse_length
from session.trade.pitch import (
    count_points,
    from_points_per_25mm,
    from_points_per_inch,
    from_teeth_per_inch,
)
from session.trade.saw import Leans
from session.trade.sides import gullets_of_side
from session.trade.tooth import block_rake_for, tooth

if TYPE_CHECKING:
    from pint import UnitRegistry

INCH = 25.4


@pytest.mark.parametrize(
    "thread", ["1-8", "3/4-10", "1-12", "1/2-13", "1-14", "3/4-16", "1/4-20"]
)  # ASME B1.1-2019, as carried by screw-thread-lib
def test_depth_of_a_peg_tooth_is_the_height_of_a_screw_threads_triangle(thread: str) -> None:
    table = ASME_UN_2A2B_dict[thread]
    height_in = (table["dbsc"] - table["D2min"]) / 0.75
    assert tooth(from_teeth_per_inch(table["n"]), 30).depth_mm / INCH == pytest.approx(height_in, abs=0.0001)


def test_depth_of_a_peg_tooth_by_iso_68_1() -> None:
    """ISO 68-1: H = 0.866 025 404 P."""
    assert tooth(1.0, 30).depth_mm == pytest.approx(0.866025404, abs=5e-10)


def test_the_screw_threads_triangle_is_not_a_rip_tooth() -> None:
    """At rake 0 the height is that of half an equilateral triangle on its side, p·tan 30°: a third less."""
    assert tooth(1.0, 0).depth_mm == pytest.approx(math.tan(math.radians(30)))


# The 60° tooth by the law of sines; angles printed by HOLTZ (figs 643-646), FIT and NOYES where named.
@pytest.mark.parametrize(
    ("rake", "front", "back", "depth", "flank"),
    [
        (-15, 105, 15, 0.2887, 1.1154),  # HOLTZ fig. 646
        (0, 90, 30, 0.5774, 1.1547),  # HOLTZ fig. 645; FIT prints the back as 30
        (5, 85, 35, 0.6598, 1.1503),
        (10, 80, 40, 0.7310, 1.1372),  # GOR crosscut
        (12, 78, 42, 0.7558, 1.1295),  # FIT crosscut
        (15, 75, 45, 0.7887, 1.1154),  # HOLTZ fig. 644; GOR panel
        (25, 65, 55, 0.8573, 1.0465),  # NOYES crosscut
        (30, 60, 60, 0.8660, 1.0000),  # HOLTZ fig. 643; FIT peg tooth
    ],
)
def test_corners_of_the_sixty_degree_tooth(rake: float, front: float, back: float, depth: float, flank: float) -> None:
    made = tooth(1.0, rake)
    assert 90 - made.front_deg == pytest.approx(front)
    assert 90 - made.back_deg == pytest.approx(back)
    assert made.depth_mm == pytest.approx(depth, abs=5e-5)
    assert made.longest_flank_mm == pytest.approx(flank, abs=5e-5)


@pytest.mark.parametrize(
    ("points", "rake", "inches"),
    [(8, 15, 0.1127), (8, 12, 0.1080), (5.5, 0, 0.1283), (12, 0, 0.0525), (10, 30, 0.0962)],
)
def test_depths_in_inches(points: float, rake: float, inches: float) -> None:
    """Trigonometry worked by hand from NOYES's and HOLTZ's angles."""
    assert tooth(from_points_per_inch(points), rake).depth_mm / INCH == pytest.approx(inches, abs=5e-5)


@pytest.mark.parametrize(
    ("length_in", "per_inch", "pitch_mm", "tips"),
    [
        (26, 8, 3.629, 183),
        (26, 10, 2.822, 235),
        (28, 5.5, 5.644, 127),
        (22, 10, 2.822, 199),
        (14, 12, 2.309, 155),
        (8, 15, 1.814, 113),
        (30, 3.5, 10.160, 76),
    ],
)
def test_pitch_and_points_of_whole_saws(length_in: float, per_inch: float, pitch_mm: float, tips: int) -> None:
    """One tooth fewer than points to the inch (NOYES p. 63, GRIF art. 11)."""
    pitch = from_points_per_inch(per_inch)
    assert pitch == pytest.approx(pitch_mm, abs=5e-4)
    assert count_points(length_in * INCH, pitch) == tips


def test_noyes_five_points_are_four_teeth() -> None:
    """NOYES p. 63."""
    assert from_points_per_inch(5) == pytest.approx(INCH / 4)
    assert from_teeth_per_inch(4) == pytest.approx(INCH / 4)


def test_the_metric_count_is_another_pitch() -> None:
    """BS3159 5.3.1 counts in 25 mm: 25/7 against 25.4/7."""
    assert from_points_per_25mm(8) == pytest.approx(3.571, abs=5e-4)
    assert from_points_per_inch(8) / from_points_per_25mm(8) == pytest.approx(1.016)


@pytest.mark.parametrize(("points", "rake", "flank_in"), [(8, 15, 0.159), (10, 15, 0.124), (5.5, 0, 0.2565)])
def test_longest_flank_of_three_saws(points: float, rake: float, flank_in: float) -> None:
    """Law of sines: pitch × sin(90 − rake) / sin 60 for the back."""
    assert tooth(from_points_per_inch(points), rake).longest_flank_mm / INCH == pytest.approx(flank_in, abs=5e-4)


@pytest.mark.parametrize(
    ("file_to_blade", "fleam"), [(60, 30), (65, 25), (70, 20), (75, 15), (80, 10), (90, 0), (45, 45)]
)
def test_fleam_is_the_rest_of_the_angle_between_file_and_blade(file_to_blade: float, fleam: float) -> None:
    """KING 64(D) and FIT print the file's angle to the blade; a rake of 0 carries it unchanged to the edge."""
    assert tooth(1.0, 0, fleam).edge_deg == pytest.approx(file_to_blade)


@pytest.mark.parametrize(("rake", "lost"), [(30, 1.000), (15, 0.932), (0, 0.732)])
def test_depth_lost_to_a_blunted_corner(rake: float, lost: float) -> None:
    """A circle in a 60° corner: 2·cos(30 − rake) − 1 of its radius."""
    assert tooth(4.0, rake, corner_radius_mm=0.1).depth_lost_mm == pytest.approx(0.1 * lost, abs=5e-5)


def test_holtz_and_noyes_filing_order() -> None:
    """HOLTZ, NOYES: 1, 3, 5, 7 from one side and 2, 4, 6, 8 from the other; HOLTZ, KING: a square rip in order."""
    assert gullets_of_side(1, 8, Leans.AWAY) == (1, 3, 5, 7)
    assert gullets_of_side(2, 8, Leans.AWAY) == (2, 4, 6, 8)
    assert gullets_of_side(1, 8, Leans.AWAY, sides=1) == (1, 2, 3, 4, 5, 6, 7, 8)
    assert gullets_of_side(2, 8, Leans.AWAY, sides=1) == ()


def test_rake_on_the_plate_needs_less_on_the_block() -> None:
    """tan F = tan r / cos fleam, by projection onto the plate."""
    wanted = math.degrees(math.atan(math.tan(math.radians(15)) / math.cos(math.radians(25))))
    assert block_rake_for(wanted, 25) == pytest.approx(15)


@pytest.mark.parametrize("gauge", range(1, 37))
def test_gauge_is_the_birmingham_gauge(gauge: int) -> None:
    """Birmingham (Stubs iron wire) gauge as carried by fluids.piping."""
    from fluids.piping import t_from_gauge  # slow to import, and only this needs it

    assert thickness_mm(gauge) == pytest.approx(t_from_gauge(gauge, schedule="BWG") * 1000, abs=5e-4)


@pytest.mark.parametrize(
    ("gauge", "inches", "within"),
    [
        (18, 0.05, 0.0011),  # SPON rip, printed rounded
        (19, 0.042, 1e-9),  # SPON hand, panel; HOLTZ p. 699 gives the number
        (20, 0.035, 1e-9),  # SPON fine panel; HOLTZ
        (21, 0.032, 1e-9),  # SPON tenon, credited to HOLTZ
        (22, 0.028, 1e-9),  # SPON sash
        (23, 0.025, 1e-9),  # SPON carcass
        (24, 0.022, 1e-9),  # SPON dovetail
    ],
)
def test_gauge_against_printed_saw_plates(gauge: int, inches: float, within: float) -> None:
    assert thickness_mm(gauge) / INCH == pytest.approx(inches, abs=within)


@pytest.fixture(scope="module")
def units() -> UnitRegistry[float]:
    import pint  # slow to import, and only this needs it

    return pint.UnitRegistry()


@pytest.mark.parametrize(
    "text", ["22 in", "0.035 in", "560 mm", "6 thou", "1.5 cm", "0.66 m", "1/8 in", "10.16 mm", "300 thou"]
)
def test_lengths_against_a_units_library(text: str, units: UnitRegistry[float]) -> None:
    """pint's own definitions of inch, thou, metre."""
    amount, unit = text.rsplit(" ", 1)
    over, _, under = amount.partition("/")
    theirs = (float(over) / float(under or 1)) * units.Unit(unit)
    assert parse_length(text).mm == pytest.approx(theirs.to("mm").magnitude, rel=1e-12)
