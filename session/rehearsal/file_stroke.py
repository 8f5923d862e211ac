"""One stroke of a triangular file in one gullet: it goes in until it has taken what its bite says, and no further.

The file lies in the gullet with both faces, settles where it touches, and is pressed down from there, with more of the
way going to the tooth that it is pressed to. Its corner's radius is left out: a rounded corner goes down with the file,
so that each stroke after the first takes as much steel as with a sharp one (held against solids in tests/reference).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from session.rehearsal.file_cuts import (
    NEAR,
    Cut,
    at,
    leans,
    meeting,
    mirrored,
    pruned,
    shaved,
    touching,
)
from session.rehearsal.plate import PlateError, SimulatedPlate
from session.trade.saw import FilePoints
from session.value_class import dataclass

#: Steps of the search for the depth; each is a straight line through the last two.
_STEPS: Final = 24


#: A stroke of less than this, in mm³, takes nothing: a grain of dust.
LEAST_MM3: Final = 1e-6

#: So many depths under a point nothing of its flanks is left to ask for.
_DEEPEST: Final = 2.0


@dataclass(frozen=True, slots=True)
class Hold:
    """How a file is held, beside what the recipe says, in degrees.

    rake: rolled too far back; fleam: swung too far; slope: handle too low. All 0 for a file held as the recipe has it.
    """

    rake: float = 0.0
    fleam: float = 0.0
    slope: float = 0.0


TRUE: Final = Hold()


@dataclass(frozen=True, slots=True)
class _Wall:
    """One side of a gullet, as a front: its cuts, those of the other side of its tooth, and its height; tooth is None
    where the line ends, and nothing is there to be cut."""

    fronts: list[Cut]
    backs: list[Cut]
    top: float
    tooth: int | None


def rub(
    plate: SimulatedPlate, gullet: int, volume_mm3: float, *, behind: float = 0.5, hold: Hold = TRUE
) -> tuple[Cut, Cut] | None:
    """One stroke in ``gullet`` (0 … N) that takes ``volume_mm3``, to within NEAR of it; gives where it left the faces.

    behind: the share (0 … 1) of the way that goes into the tooth behind the gullet; at an end of the line all of it
    goes into the tooth that is there. Raises PlateError for a gullet that is not there, or a negative or infinite
    volume.
    """
    if not 0 <= gullet <= plate.points:
        raise PlateError(f"gullet {gullet} is not on the plate; allowed: 0 to {plate.points}")
    if not (math.isfinite(volume_mm3) and volume_mm3 >= 0.0 and 0.0 <= behind <= 1.0):
        raise PlateError(
            f"gullet {gullet}: a stroke of {volume_mm3:g} mm³, {behind:g} of it behind; allowed: 0 or more"
        )
    if volume_mm3 < LEAST_MM3:
        return None
    saw, to_toe = plate.saw, plate.saw.file_points is FilePoints.TOE
    front, back = (
        plate.leans
        if hold == TRUE
        else leans(saw.rake + hold.rake, saw.fleam + hold.fleam, saw.slope + hold.slope, to_toe=to_toe)
    )
    walls = _walls(plate, gullet)
    shares = tuple(
        0.0 if wall.tooth is None else share for wall, share in zip(walls, (behind, 1.0 - behind), strict=True)
    )
    if not any(shares):
        shares = tuple(0.0 if wall.tooth is None else 1.0 for wall in walls)
    new = _pressed(walls, (-front, -back), shares, volume_mm3 / saw.plate.mm)
    for wall, cut in zip(walls, new, strict=True):
        _keep(plate, wall, cut, of_back=wall is walls[1])
    return new[0], mirrored([new[1]])[0]


def _walls(plate: SimulatedPlate, gullet: int) -> tuple[_Wall, _Wall]:
    """The two sides of a gullet; the one ahead is mirrored, so that both are fronts."""
    front_lean, back_lean = plate.leans
    if gullet >= 1:
        fronts = plate.fronts(gullet)
        behind = _Wall(fronts, plate.backs(gullet), plate.tooth(gullet).top, gullet)
    if gullet < plate.points:
        backs = mirrored(plate.backs(gullet + 1))
        ahead = _Wall(backs, mirrored(plate.fronts(gullet + 1)), plate.tooth(gullet + 1).top, gullet + 1)
    pitch = plate.saw.pitch_mm
    if gullet < 1:
        behind = _Wall([(-ahead.fronts[0][0] - pitch, -front_lean)], [(-math.inf, back_lean)], ahead.top, None)
    elif gullet >= plate.points:
        ahead = _Wall([(-behind.fronts[0][0] - pitch, -back_lean)], [(-math.inf, front_lean)], behind.top, None)
    return behind, ahead


def _pressed(
    walls: tuple[_Wall, _Wall], slopes: tuple[float, float], shares: Sequence[float], area: float
) -> tuple[Cut, Cut]:
    """Where the two faces stand once ``area`` (mm²) is gone, each as a cut of a front."""
    floor = meeting(walls[0].fronts, mirrored(walls[1].fronts))
    settled = [touching(wall.fronts, slope, floor, wall.top) for wall, slope in zip(walls, slopes, strict=True)]

    def faces(way: float) -> tuple[Cut, Cut]:
        return (settled[0] - way * shares[0], slopes[0]), (settled[1] - way * shares[1], slopes[1])

    def taken(way: float) -> float:
        new = faces(way)
        lowest = meeting([new[0]], mirrored([new[1]]))
        found = 0.0
        for wall, cut, other in zip(walls, new, reversed(new), strict=True):
            if wall.tooth is not None:
                # The file is there only between its own two faces.
                before = [*wall.fronts, *mirrored([other])]
                found += shaved(before, wall.backs, cut, max(floor, lowest), wall.top)
        if lowest < floor:
            # Under the floor of before all that lies between the faces was steel.
            found += (floor - lowest) * -(at(new[1], floor) + at(new[0], floor)) / 2.0
        return found

    way = area / max(sum(share * (wall.top - floor) for wall, share in zip(walls, shares, strict=True)), NEAR)
    below, above = (0.0, 0.0), None
    for _ in range(_STEPS):
        got = taken(way)
        if abs(got - area) <= NEAR * area:
            break
        if got < area:
            below = (way, got)
        else:
            above = (way, got)
        if above is None:
            way = way * min(4.0, max(1.2, area / max(got, NEAR * area)))
        else:
            share = (area - below[1]) / (above[1] - below[1])
            way = below[0] + (above[0] - below[0]) * min(0.95, max(0.05, share))
    return faces(way)


def _keep(plate: SimulatedPlate, wall: _Wall, cut: Cut, *, of_back: bool) -> None:
    """Let ``cut`` be a cut of its tooth, as far as it took anything."""
    if wall.tooth is None:
        return
    floor = wall.top - _DEEPEST * plate.depth_mm
    if shaved(wall.fronts, [(-math.inf, 0.0)], cut, floor, wall.top) <= 0.0:
        return
    steel, (first, *others) = plate.tooth(wall.tooth), wall.fronts
    if abs(cut[1] - first[1]) < 1e-12:
        first = (min(first[0], cut[0]), first[1])
    else:
        others.append(cut)
    first, *others = pruned([first, *others], floor, wall.top) if others else [first]
    if of_back:
        steel.back = max(steel.back, -first[0])
        steel.back_cuts = tuple(mirrored(others))
    else:
        steel.front = min(steel.front, first[0])
        steel.front_cuts = tuple(others)
    steel.burr = True
    steel.top = min(steel.top, plate.apex_mm(wall.tooth))
