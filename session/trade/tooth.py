"""The tooth that a 60° file leaves: its angles on the plate, depth, edge and flanks.

Axes: x along the line toward the toe, y through the plate away from the filer, z up out of the gullet.
The file lies along y, is rolled by the block rake, tipped up by the slope and swung by the fleam; its
two faces are planes whose normals follow by rotation, and everything below is where those planes meet
the plate. Derived from first principles; tests/reference compares it with a solid cut by a solid.

Depth and angles hold in the plate's middle plane. Fleam slants the top of each tooth, so that its point
stands on one face of the plate, higher than the middle: ``point_rise_mm`` says by how much.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Final

from session.trade.pitch import checked_pitch
from session.trade.rounding import decimals, significant
from session.trade.saw import FilePoints, Saw
from session.trade.trade_error import TradeError
from session.value_class import dataclass

#: The angle of the file between two faces; HOLTZ, SPON, GOR and NOYES take 60 for both flanks.
FILE_DEG: Final = 60.0

#: Degrees allowed, lowest and highest, for each angle of the guide block (our own limits: outside
#: them no printed practice was found).
LIMITS: Final[dict[str, tuple[float, float]]] = {"rake": (-15, 45), "fleam": (0, 45), "slope": (-30, 30)}

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Tooth:
    """A tooth as filed. Angles in degrees, lengths in mm.

    rake, fleam, slope: as the guide block holds the file; slope above 0 is the handle below the tip.
    front_deg, back_deg: lean of front and back from square to the line, seen on the plate.
    gullet_deg: the gullet on the plate, 60 for a file held square across, wider with fleam.
    depth_mm: from gullet to point in the middle plane, cut by a file with sharp corners.
    depth_lost_mm: how much shallower the file's corner radius leaves it.
    edge_deg: steel between the front and the plate's side along the cutting edge; 90 is square.
    longest_flank_mm: across the longer flank, square to the file, in the middle plane.
    point_rise_mm: how far the point on the outer face of the plate (the way the tooth leans) stands above the
        middle plane; below 0 when the slope has thrown the points to the inner faces. 0 for no plate.
    longest_flank_at_face_mm: the longest flank anywhere in the plate's thickness.
    """

    pitch_mm: float
    rake: float
    fleam: float
    slope: float
    corner_radius_mm: float
    plate_mm: float
    file_points: FilePoints
    front_deg: float
    back_deg: float
    gullet_deg: float
    depth_mm: float
    depth_lost_mm: float
    edge_deg: float
    longest_flank_mm: float
    point_rise_mm: float
    longest_flank_at_face_mm: float

    @property
    def depth_left_mm(self) -> float:
        """The depth that the file's rounded corner leaves, in the middle plane."""
        return self.depth_mm - self.depth_lost_mm


def tooth(
    pitch_mm: float,
    rake: float,
    fleam: float = 0.0,
    slope: float = 0.0,
    corner_radius_mm: float = 0.0,
    plate_mm: float = 0.0,
    file_points: FilePoints = FilePoints.TOE,
) -> Tooth:
    """The tooth of ``pitch_mm`` that a file held at these block angles leaves.

    Raises TradeError for an angle outside LIMITS, a negative or infinite measure, angles at which the two
    faces of the file leave no tooth, and a corner radius that leaves no straight flank, and for
    an impossible pitch.
    """
    pitch = checked_pitch(pitch_mm)
    _check_angles(rake, fleam, slope)
    for name, mm in (("corner radius", corner_radius_mm), ("plate thickness", plate_mm)):
        if not math.isfinite(mm) or mm < 0:
            raise TradeError(f"{name} {mm!r} mm; allowed: a finite length of 0 or more")
    toward = FilePoints(file_points)
    front, back, up = _planes(rake, fleam, slope, toward)
    if front[0] <= 0 or back[0] <= 0:
        raise TradeError(
            f"rake {rake:g}, fleam {fleam:g} and slope {slope:g} lay the file over so far that no tooth is left; "
            "take less slope"
        )
    tan_front, tan_back = front[2] / front[0], -back[2] / back[0]
    depth = pitch / (tan_front + tan_back)
    back_rake = FILE_DEG - rake
    # The top of a tooth is where its front meets its back; the back was filed in the gullet behind,
    # from the other side, so it is this gullet's back mirrored through the plate.
    across, along = _top_line(front, (back[0], -back[1], back[2]))
    half = plate_mm / 2
    flanks_mid: list[float] = []
    flanks_face: list[float] = []
    for degrees, foot, sign in ((rake, -tan_front, 1.0), (back_rake, tan_back, -1.0)):
        lengths = [
            _dot(up, (depth * foot + sign * y * along, y, depth + sign * y * across)) / _cos(degrees)
            for y in (0.0, -half, half)
        ]
        flanks_mid.append(lengths[0])
        flanks_face.append(max(lengths))
    largest_radius = min(flanks_mid) * math.tan(math.radians(FILE_DEG / 2))
    if corner_radius_mm >= largest_radius:
        raise TradeError(
            f"a corner radius of {corner_radius_mm:g} mm leaves no straight flank at a pitch of {pitch:g} mm; "
            f"allowed: below {significant(largest_radius, 3)} mm"
        )
    outer = 1.0 if toward is FilePoints.TOE else -1.0
    front_deg, back_deg = math.degrees(math.atan(tan_front)), math.degrees(math.atan(tan_back))
    return Tooth(
        pitch_mm=pitch,
        rake=rake,
        fleam=fleam,
        slope=slope,
        corner_radius_mm=corner_radius_mm,
        plate_mm=plate_mm,
        file_points=toward,
        front_deg=front_deg,
        back_deg=back_deg,
        gullet_deg=front_deg + back_deg,
        depth_mm=depth,
        depth_lost_mm=corner_radius_mm * _lost_per_radius(rake, fleam, slope, toward),
        edge_deg=90.0 - math.degrees(math.asin(-outer * front[1])),
        longest_flank_mm=max(flanks_mid),
        point_rise_mm=outer * half * across,
        longest_flank_at_face_mm=max(flanks_face),
    )


#: Asked of one saw many times over a sharpening. Typed, because 15 and 15.0 are printed otherwise.
_tooth_kept = lru_cache(maxsize=512, typed=True)(tooth)


def tooth_of(saw: Saw, corner_radius_mm: float = 0.0) -> Tooth:
    """The tooth of a saw as its recipe files it. Raises as ``tooth`` does."""
    angles = (saw.rake, saw.fleam, saw.slope)
    return _tooth_kept(saw.pitch_mm, *angles, corner_radius_mm, saw.plate.mm, saw.file_points)


def teeth_of(saw: Saw) -> tuple[Tooth, ...]:
    """The tooth of each zone of the line, from the heel, as ``tooth_of`` gives it; a plain line has one."""
    return tuple(tooth_of(saw.at(first)) for first, _, _ in saw.line.stretches())


def shallowest_mm(saw: Saw) -> float:
    """Depth in mm of the shallowest tooth of the line: there the set is nearest to being filed away."""
    return min(one.depth_mm for one in teeth_of(saw))


def block_rake_for(
    wanted_plate_rake: float, fleam: float = 0.0, slope: float = 0.0, file_points: FilePoints = FilePoints.TOE
) -> float:
    """The block rake in degrees that leaves ``wanted_plate_rake`` on the plate: the inverse of ``tooth``'s front.

    Raises TradeError when the block rake would lie outside LIMITS, or an angle is not finite.
    """
    if not math.isfinite(wanted_plate_rake) or abs(wanted_plate_rake) >= 90:
        raise TradeError(f"plate rake {wanted_plate_rake!r}; allowed: degrees between -90 and 90")
    _check_angles(0.0, fleam, slope)
    swing = _signed(fleam, file_points)
    wanted = math.tan(math.radians(wanted_plate_rake))
    block = math.degrees(math.atan2(wanted * _cos(swing), _cos(slope) + wanted * _sin(swing) * _sin(slope)))
    lowest, highest = LIMITS["rake"]
    if not lowest - 1e-9 <= block <= highest + 1e-9:
        raise TradeError(
            f"a rake of {wanted_plate_rake:g} on the plate needs {decimals(block, 1)} on the block; "
            f"allowed: {lowest:g} to {highest:g}"
        )
    return block


def _planes(rake: float, fleam: float, slope: float, toward: FilePoints) -> tuple[Vector, Vector, Vector]:
    """Unit normals out of the steel of front and back (the back's is reversed), and the file's own upright."""
    back = FILE_DEG - rake
    swing = _signed(fleam, toward)

    def turned(x: float, z: float) -> Vector:
        y, z = -z * _sin(slope), z * _cos(slope)
        return (x * _cos(swing) + y * _sin(swing), y * _cos(swing) - x * _sin(swing), z)

    return turned(_cos(rake), _sin(rake)), turned(_cos(back), -_sin(back)), turned(0.0, 1.0)


def _top_line(front: Vector, back: Vector) -> tuple[float, float]:
    """Rise (z) and run (x) per mm through the plate (y) of the line in which two planes meet."""
    across = front[2] * back[0] - front[0] * back[2]
    run = (front[1] * back[2] - front[2] * back[1]) / across
    return (front[0] * back[1] - front[1] * back[0]) / across, run


def _lost_per_radius(rake: float, fleam: float, slope: float, toward: FilePoints) -> float:
    """Depth lost in the middle plane per mm of corner radius.

    The corner's circle touches both faces, so its center stands two radii up the file's middle line;
    the gullet's floor is its lowest point, and tilting the section by fleam with slope moves that point.
    With fleam or slope alone 0 this is 2·cos(30 − rake) − 1, divided by cos(slope).
    """
    middle = FILE_DEG / 2 - rake
    tilt = math.tan(math.radians(_signed(fleam, toward))) * _sin(slope)
    return (2 * (_cos(middle) + tilt * _sin(middle)) - math.hypot(1.0, tilt)) / _cos(slope)


def _check_angles(rake: float, fleam: float, slope: float) -> None:
    for name, degrees in (("rake", rake), ("fleam", fleam), ("slope", slope)):
        lowest, highest = LIMITS[name]
        if isinstance(degrees, bool) or not math.isfinite(degrees) or not lowest <= degrees <= highest:
            raise TradeError(f"{name} {degrees!r}; allowed: {lowest:g} to {highest:g} degrees")


def _signed(fleam: float, toward: FilePoints) -> float:
    return fleam if FilePoints(toward) is FilePoints.TOE else -fleam


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cos(degrees: float) -> float:
    return math.cos(math.radians(degrees))


def _sin(degrees: float) -> float:
    return math.sin(math.radians(degrees))
