"""Outside check: plate section angles, top line, flanks and edge, read off a solid plate cut by solid files.

The modeller (manifold3d) turns and cuts the solids; nothing here uses the program's own trigonometry.
"""

from __future__ import annotations

import itertools
import math

import manifold3d as solid
import numpy as np
import pytest

from session.trade.saw import FilePoints
from session.trade.tooth import tooth

GRID = list(itertools.product((-10, 0, 4, 15, 25, 30, 40), (0, 10, 25, 40), (0, 7, 20)))
THICK, TOP = 0.25, 1.6


def triangular_file(rake: float, fleam: float, slope: float) -> solid.Manifold:
    """A long prism of equilateral section, one edge through the origin, held as the guide block holds it."""
    side, length = 60.0, 60.0
    section = solid.CrossSection([[(0.0, 0.0), (side / 2, side * 0.75**0.5), (-side / 2, side * 0.75**0.5)]])
    upright = solid.Manifold.extrude(section, length).translate((0, 0, -length / 2)).rotate((90, 0, 0))
    return upright.rotate((0, 30 - rake, 0)).rotate((slope, 0, 0)).rotate((0, 0, -fleam))


def plate() -> solid.Manifold:
    return solid.Manifold.cube((80, THICK, TOP + 1), True).translate((0, 0, (TOP + 1) / 2 - 1))


def section_angles(cut: solid.Manifold) -> tuple[float, float]:
    """Lean of the left and right flank of the gullet at the origin, in the middle plane of the plate."""
    (outline,) = cut.rotate((-90, 0, 0)).slice(0.0).to_polygons()
    points = [(float(x), float(z)) for x, z in outline]
    root = min(range(len(points)), key=lambda i: math.hypot(*points[i]))
    assert math.hypot(*points[root]) < 1e-9
    ends = [points[root - 1], points[(root + 1) % len(points)]]
    left, right = sorted(ends)
    return math.degrees(math.atan2(-left[0], left[1])), math.degrees(math.atan2(right[0], right[1]))


@pytest.mark.parametrize(("rake", "fleam", "slope"), GRID)
def test_section_angles_on_the_plate(rake: float, fleam: float, slope: float) -> None:
    front, back = section_angles(plate() - triangular_file(rake, fleam, slope))
    ours = tooth(1.0, rake, fleam, slope)
    assert ours.front_deg == pytest.approx(front, abs=0.02)
    assert ours.back_deg == pytest.approx(back, abs=0.02)


@pytest.mark.parametrize(("rake", "fleam", "slope"), [(15, 25, 10), (0, 20, 12), (25, 40, 5), (-10, 15, 8)])
def test_section_angles_with_the_file_pointing_to_the_handle(rake: float, fleam: float, slope: float) -> None:
    front, back = section_angles(plate() - triangular_file(rake, -fleam, slope))
    ours = tooth(1.0, rake, fleam, slope, file_points=FilePoints.HANDLE)
    assert ours.front_deg == pytest.approx(front, abs=0.02)
    assert ours.back_deg == pytest.approx(back, abs=0.02)


def one_tooth(rake: float, fleam: float, slope: float) -> dict[str, float]:
    """Measures of the tooth between two gullets one unit apart, filed from opposite sides of the plate."""
    ahead = triangular_file(rake, fleam, slope)
    behind = ahead.mirror((0, 1, 0)).translate((-1, 0, 0))
    cut = plate() - ahead - behind
    vertices = np.unique(np.round(np.asarray(cut.to_mesh64().vert_properties)[:, :3], 12), axis=0)
    near, far = (vertices[np.abs(vertices[:, 1] - y) < 1e-9] for y in (-THICK / 2, THICK / 2))

    def within(face: np.ndarray, low: float, high: float) -> np.ndarray:
        return face[(face[:, 0] > low) & (face[:, 0] < high) & (face[:, 2] < TOP - 1e-9) & (face[:, 2] > -0.9)]

    tops = [max(within(face, -1.12, 0.12), key=lambda v: v[2]) for face in (near, far)]
    roots = [min(within(face, -0.3, 0.3), key=lambda v: v[2] + abs(v[0])) for face in (near, far)]
    behind_roots = [min(within(face, -1.3, -0.7), key=lambda v: v[2] + abs(v[0] + 1)) for face in (near, far)]

    def from_line(line: list[np.ndarray], point: np.ndarray) -> float:
        along = (line[1] - line[0]) / np.linalg.norm(line[1] - line[0])
        return float(np.linalg.norm(np.cross(point - line[0], along)))

    front = np.cross(roots[1] - roots[0], tops[1] - roots[0])
    front *= np.sign(front[0]) / np.linalg.norm(front)
    return {
        "depth": float(tops[0][2] + tops[1][2]) / 2 - float(roots[0][2] + roots[1][2]) / 2,
        "rise": float(tops[1][2] - tops[0][2]) / 2,
        "flank": max(from_line(line, top) for line in (roots, behind_roots) for top in tops),
        "far edge": 180 - math.degrees(math.acos(front[1])),
        "near edge": 180 - math.degrees(math.acos(-front[1])),
    }


@pytest.mark.parametrize(
    ("rake", "fleam", "slope"),
    [(0, 0, 0), (15, 0, 0), (15, 25, 0), (12, 20, 0), (30, 10, 0), (15, 25, 10), (20, 20, 12)],
)
def test_top_line_flanks_and_edge_of_a_whole_tooth(rake: float, fleam: float, slope: float) -> None:
    measured = one_tooth(rake, fleam, slope)
    ours = tooth(1.0, rake, fleam, slope, plate_mm=THICK)
    assert ours.depth_mm == pytest.approx(measured["depth"], abs=1e-6)
    assert ours.point_rise_mm == pytest.approx(measured["rise"], abs=1e-6)
    assert ours.longest_flank_at_face_mm == pytest.approx(measured["flank"], abs=1e-6)
    assert ours.edge_deg == pytest.approx(measured["far edge"], abs=0.001)


@pytest.mark.parametrize(("rake", "fleam", "slope"), [(15, 25, 0), (12, 20, 8)])
def test_a_file_pointing_to_the_handle_puts_the_point_on_the_near_face(rake: float, fleam: float, slope: float) -> None:
    measured = one_tooth(rake, -fleam, slope)
    ours = tooth(1.0, rake, fleam, slope, plate_mm=THICK, file_points=FilePoints.HANDLE)
    assert measured["rise"] < 0
    assert ours.point_rise_mm == pytest.approx(-measured["rise"], abs=1e-6)
    assert ours.edge_deg == pytest.approx(measured["near edge"], abs=0.001)


@pytest.mark.parametrize(("rake", "fleam", "slope"), [(0, 0, 0), (15, 0, 0), (30, 0, 0), (15, 25, 0), (15, 25, 10)])
def test_depth_lost_to_a_rounded_corner(rake: float, fleam: float, slope: float) -> None:
    radius, facets = 0.1, 4096
    upper = solid.CrossSection.circle(radius, facets).translate((0, 2 * radius))
    side = 60.0
    sides = solid.CrossSection([[(0.0, 0.0), (side / 2, side * 0.75**0.5), (-side / 2, side * 0.75**0.5)]])
    tip = solid.CrossSection.square((2 * radius, 1.5 * radius)).translate((-radius, 0))
    section = (sides - tip) + upper
    rounded = solid.Manifold.extrude(section, 8).translate((0, 0, -4)).rotate((90, 0, 0))
    cut = plate() - rounded.rotate((0, 30 - rake, 0)).rotate((slope, 0, 0)).rotate((0, 0, -fleam))
    (outline,) = cut.rotate((-90, 0, 0)).slice(0.0).to_polygons()
    floor = min(float(z) for x, z in outline if z > -0.9)
    assert tooth(4.0, rake, fleam, slope, radius).depth_lost_mm == pytest.approx(floor, abs=1e-5)
