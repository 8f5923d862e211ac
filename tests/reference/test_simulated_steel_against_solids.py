"""Outside check: the simulated plate's strokes, passes and flats against solids cut by solids (manifold3d).

Fifty random states: teeth cut by files as a guide block holds them, from both sides, leveled, and filed again by a hand
that rolls, swings and tips the file a little. The solid knows nothing of the plate's own arithmetic.
"""

from __future__ import annotations

from functools import cache
from random import Random

import manifold3d as solid
import pytest

from made_saws import small_saw
from session.rehearsal.file_cuts import Cut, leans, meeting
from session.rehearsal.file_stroke import TRUE, Hold, rub
from session.rehearsal.plate import SimulatedPlate, ToothSteel
from session.trade.lengths import Length

STATES = 50
POINTS = 6
HIGH = 30.0


def triangular_file(rake: float, fleam: float, slope: float, radius: float = 0.0) -> solid.Manifold:
    """A long prism of equilateral section, one edge down on the origin (rounded by ``radius``), as a block holds it."""
    side, length = 60.0, 60.0
    section = solid.CrossSection([[(0.0, 0.0), (side / 2, side * 0.75**0.5), (-side / 2, side * 0.75**0.5)]])
    if radius:
        tip = solid.CrossSection.square((4 * radius, 1.5 * radius)).translate((-2 * radius, 0))
        section = (section - tip) + solid.CrossSection.circle(radius, 512).translate((0, 2 * radius))
    upright = solid.Manifold.extrude(section, length).translate((0, 0, -length / 2)).rotate((90, 0, 0))
    return upright.rotate((0, 30 - rake, 0)).rotate((slope, 0, 0)).rotate((0, 0, -fleam))


@cache
def block(thick: float, length: float) -> solid.Manifold:
    """Steel enough for all teeth, its upper edge the line of points leveled down."""
    return solid.Manifold.cube((length + 40, thick, HIGH), True)


def cut_by(steel: solid.Manifold, faces: tuple[Cut, Cut], held: solid.Manifold) -> solid.Manifold:
    """``steel`` after a file whose faces meet the middle plane as ``faces`` say."""
    height = meeting([faces[0]], [faces[1]])
    return steel - held.translate((faces[0][0] + faces[0][1] * height, 0, height))


def below(steel: solid.Manifold, height: float) -> solid.Manifold:
    """What a leveling pass leaves."""
    return steel.trim_by_plane((0, 0, -1), -height)


def state(seed: int) -> tuple[SimulatedPlate, solid.Manifold, Random]:
    """A leveled plate with its gullets a little out of place, and the same in the round."""
    rng = Random(seed)
    pitch, thick = rng.uniform(1.6, 6.0), rng.uniform(0.5, 1.2)
    saw = small_saw(
        POINTS,
        pitch,
        rake=rng.uniform(0.0, 25.0),
        fleam=rng.choice((0.0, rng.uniform(5.0, 30.0))),
        slope=rng.choice((0.0, rng.uniform(0.0, 10.0))),
        plate=Length.of(thick),
        toothed_length=Length.of(pitch * (POINTS - 1)),
        first_leans="away",
    )
    front, back = leans(saw.rake, saw.fleam, saw.slope)
    out = [pitch * rng.uniform(-0.02, 0.02) for _ in range(POINTS + 1)]
    plate, steel = SimulatedPlate(saw, []), block(thick, pitch * POINTS)
    held = triangular_file(saw.rake, saw.fleam, saw.slope)
    for gullet in range(POINTS + 1):
        x = gullet * pitch + out[gullet]
        steel = cut_by(steel, ((x, -front), (x, back)), held)
    for tooth in range(1, POINTS + 1):
        ahead, behind = tooth * pitch + out[tooth], (tooth - 1) * pitch + out[tooth - 1]
        plate.teeth.append(ToothSteel(ahead, behind, (ahead - behind) * plate.rise, 0.0, 0.0))
    lowest = min(one.top for one in plate.teeth)
    line = lowest - plate.depth_mm * rng.uniform(0.04, 0.10)
    plate.level(max(one.top for one in plate.teeth) - line)
    return plate, below(steel, line), rng


def test_a_stroke_takes_what_its_bite_says_within_a_hundredth() -> None:
    """As the recipe has the file held, rolled by up to 1.5 degrees, and swung and tipped by up to half of one."""
    for seed in range(STATES):
        plate, steel, rng = state(seed)
        saw = plate.saw
        for turn in range(3):
            gullet = rng.randrange(1, POINTS)
            hold = Hold(rng.uniform(-1.5, 1.5), rng.uniform(-0.5, 0.5), rng.uniform(-0.5, 0.5)) if turn else TRUE
            volume = 0.4 * plate.volume_mm3(gullet, max(0.005, *plate.flats_of_gullet(gullet)))
            before = steel.volume()
            faces = rub(plate, gullet, volume, behind=rng.uniform(0.3, 0.7), hold=hold)
            assert faces is not None
            held = triangular_file(saw.rake + hold.rake, saw.fleam + hold.fleam, saw.slope + hold.slope)
            steel = cut_by(steel, faces, held)
            assert before - steel.volume() == pytest.approx(volume, rel=0.01), (seed, turn)


def test_flats_of_the_plate_are_those_of_the_solid() -> None:
    for seed in range(STATES):
        plate, steel, _ = state(seed)
        saw = plate.saw
        for gullet in range(1, POINTS):
            volume = 0.4 * plate.volume_mm3(gullet, min(plate.flats_of_gullet(gullet)))
            faces = rub(plate, gullet, volume, behind=0.6)
            assert faces is not None
            steel = cut_by(steel, faces, triangular_file(saw.rake, saw.fleam, saw.slope))
        ours = [plate.flat_mm(k) for k in range(1, POINTS + 1)]
        assert ours == pytest.approx(flats_of(steel, plate), abs=2e-3)


def flats_of(steel: solid.Manifold, plate: SimulatedPlate) -> list[float]:
    """What stands at the height of each tooth's top, in the middle plane, from heel to toe."""
    outlines = steel.rotate((-90, 0, 0)).slice(0.0).to_polygons()
    top = plate.tooth(1).top
    level = [float(x) for outline in outlines for x, z in outline if abs(float(z) - top) < 1e-6]
    found = []
    for tooth in range(1, POINTS + 1):
        own = [x for x in level if plate.tooth(tooth).back < x < plate.tooth(tooth).front]
        found.append(max(own) - min(own))
    return found


def test_a_rounded_corner_takes_as_much_with_each_further_stroke() -> None:
    """The corner's radius is left out of the plate: once the gullet has its form, it goes down with the file."""
    taken: dict[float, list[float]] = {0.0: [], 0.1: []}
    for radius, found in taken.items():
        steel, held = block(0.9, 20.0), triangular_file(15.0, 25.0, 0.0, radius)
        for stroke in range(5):
            after = steel - held.translate((0, 0, 12.0 - 0.02 * stroke))
            found.append(steel.volume() - after.volume())
            steel = after
    assert taken[0.1][1:] == pytest.approx(taken[0.0][1:], rel=0.01)


def test_the_lean_of_the_flanks_is_that_of_the_solid() -> None:
    rng = Random(4)
    for _ in range(STATES):
        rake, fleam, slope = rng.uniform(0, 30), rng.uniform(0, 40), rng.uniform(-5, 15)
        for points in ("toe", "handle"):
            cut = block(0.25, 20.0) - triangular_file(rake, fleam if points == "toe" else -fleam, slope)
            (outline,) = cut.rotate((-90, 0, 0)).slice(0.0).to_polygons()
            at = [(float(x), float(z)) for x, z in outline]
            root = min(range(len(at)), key=lambda k: abs(at[k][0]) + abs(at[k][1]))
            left, right = sorted((at[root - 1], at[(root + 1) % len(at)]))
            found = leans(rake, fleam, slope, to_toe=points == "toe")
            assert found == pytest.approx((-left[0] / left[1], right[0] / right[1]), abs=1e-6)
