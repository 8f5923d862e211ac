"""Which triangular file serves a tooth: the face it must have, the face it should have, and the files owned.

The least face is geometry: one no wider than the flank leaves a ridge on it, and with fleam the flank is longest at
the outer face of the plate, so that every yes or no is said there. The advised face is twice the flank, so that each
corner wears on its own half of two faces, but never more than any file has: from memory, with thin printed support,
which is why session.trade.printed_rows lays it beside the rows that are in print.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from enum import StrEnum
from typing import Final

from session.trade.gauge import thickness_mm
from session.trade.lengths import Length, in_unit
from session.trade.saw import Saw
from session.trade.tooth import Tooth, teeth_of, tooth
from session.trade.trade_error import TradeError
from session.value_class import dataclass

GEOMETRY: Final = "geometry"
FROM_MEMORY: Final = "from memory"

#: Advised face as a multiple of the longest flank (from memory).
ADVISED_FLANKS: Final = 2.0

#: A face beyond this multiple of the advised one is called larger than needed: SHEAR wants a file just
#: large enough, because a smaller one leaves a sharper gullet. The number itself is our judgment.
LARGE_AT: Final = 1.25

#: The widest face and the finest corner of a saw file that a drawer may hold (both from memory).
WIDEST_FACE_MM: Final = 0.469 * 25.4
FINEST_CORNER_MM: Final = 0.05

#: The thickest plate that could be read in the old table of hand saws (HOLTZ p. 699: table saws, number 16).
THICKEST_PLATE_MM: Final = thickness_mm(16)


class Fit(StrEnum):
    """How a file's face suits a tooth, best first."""

    SERVES = "serves"
    LARGE = "larger than needed"
    NARROW = "narrow"
    TOO_NARROW = "too narrow"

    @property
    def covers(self) -> bool:
        """Whether the face covers the whole flank."""
        return self is not Fit.TOO_NARROW


@dataclass(frozen=True, slots=True)
class FaceNeeds:
    """Faces in mm that a tooth asks for.

    hard_minimum_mm: the longest flank in the plate's middle plane.
    at_outer_face_mm: the same at the outer face of the plate, longer with fleam; a face must be wider.
    advised_mm: ADVISED_FLANKS times the hard minimum, at most WIDEST_FACE_MM.
    """

    hard_minimum_mm: float
    at_outer_face_mm: float
    advised_mm: float

    @property
    def beyond_any_file(self) -> bool:
        """Whether twice the flank is more than any file has, so that the largest is advised."""
        return ADVISED_FLANKS * self.hard_minimum_mm > WIDEST_FACE_MM


@dataclass(frozen=True, slots=True)
class Reason:
    """One sentence for the person, and where it comes from."""

    text: str
    source: str


@dataclass(frozen=True, slots=True)
class FileOwned:
    """A file in the drawer: its measured face, its corner radius when known, and the teeth each corner has filed."""

    name: str
    face: Length
    corner_radius: Length | None = None
    corners: tuple[int, int, int] = (0, 0, 0)

    def __post_init__(self) -> None:
        _checked_face(self.face.mm)
        if self.corner_radius is not None and not 0 <= self.corner_radius.mm < self.face.mm / 2:
            raise TradeError(f"{self.name}: corner radius {self.corner_radius}; allowed: 0 to under half the face")
        if len(self.corners) != 3 or any(isinstance(n, bool) or not isinstance(n, int) or n < 0 for n in self.corners):
            raise TradeError(f"{self.name}: teeth filed {self.corners!r}; allowed: three whole numbers of 0 or more")


@dataclass(frozen=True, slots=True)
class FileChoice:
    """A file judged for a tooth. ``ok`` is False only when it cannot cut the tooth cleanly at all."""

    file: FileOwned
    fit: Fit
    ok: bool
    reasons: tuple[Reason, ...]


def hard_minimum_mm(tooth: Tooth) -> float:
    """The longest flank in mm, square to the file, in the middle plane of the plate (geometry)."""
    return tooth.longest_flank_mm


def advised_mm(tooth: Tooth) -> float:
    """The face in mm that serves best: ADVISED_FLANKS times the hard minimum, at most WIDEST_FACE_MM (from memory)."""
    return min(ADVISED_FLANKS * hard_minimum_mm(tooth), WIDEST_FACE_MM)


def tooth_to_fit(saw: Saw) -> Tooth:
    """The tooth of the line that asks for the widest face; a progressive line has several to choose from."""
    return max(teeth_of(saw), key=hard_minimum_mm)


def face_needs(tooth: Tooth) -> FaceNeeds:
    """The faces that ``tooth`` asks for, from its flanks in the section square to the file."""
    return FaceNeeds(hard_minimum_mm(tooth), tooth.longest_flank_at_face_mm, advised_mm(tooth))


def face_ok(face_mm: float, needs: FaceNeeds) -> bool:
    """Whether a face is wider than the flank at the outer face of the plate.

    Raises TradeError for a face that is not finite and above 0.
    """
    return _checked_face(face_mm) > needs.at_outer_face_mm


def fit_of(face_mm: float, needs: FaceNeeds) -> Fit:
    """How a face of ``face_mm`` suits; a face at the exact minimum still leaves a ridge and is too narrow."""
    if not face_ok(face_mm, needs):
        return Fit.TOO_NARROW
    # A drawer's calipers read hundredths of a millimeter; that much must not change the advice.
    if face_mm < needs.advised_mm - 0.01:
        return Fit.NARROW
    return Fit.SERVES if face_mm <= needs.advised_mm * LARGE_AT else Fit.LARGE


def judge(file: FileOwned, tooth: Tooth) -> FileChoice:
    """One file judged for one tooth, with its reasons."""
    needs = face_needs(tooth)
    fit = fit_of(file.face.mm, needs)
    ok = fit.covers
    unit = file.face.unit
    least, advised = _least(needs, unit), Length.of(needs.advised_mm, unit)
    serves = f"Its face of {file.face} is at least {advised}: each corner wears on its own half of two faces."
    if needs.beyond_any_file:
        twice = Length.of(ADVISED_FLANKS * needs.hard_minimum_mm, unit)
        serves = (
            f"Its face of {file.face} is the largest you can get; it is under {twice}, twice the flank, so that each "
            "corner wears on more than its own half."
        )
    texts = {
        Fit.TOO_NARROW: f"Its face of {file.face} is no wider than the flank of {least}: it leaves a ridge.",
        Fit.NARROW: f"Its face of {file.face} covers the flank of {least}, but is under {advised}: "
        "its corners share the same part of a face and wear each other out.",
        Fit.SERVES: serves,
        Fit.LARGE: f"Its face of {file.face} is well over {advised}; a smaller file leaves a sharper gullet.",
    }
    source = {Fit.TOO_NARROW: GEOMETRY, Fit.LARGE: "SHEAR"}.get(fit, FROM_MEMORY)
    reasons = [Reason(texts[fit], source)]
    corner = _corner_reason(file, tooth)
    if corner is not None:
        reasons.append(corner[0])
        ok = ok and corner[1]
    return FileChoice(file, fit, ok, tuple(reasons))


def rank(files: Iterable[FileOwned], tooth: Tooth) -> tuple[FileChoice, ...]:
    """The files of a drawer, best first: those that serve, the smallest before the larger; then the rest.

    Among files too small the widest stands first; a file that cannot cut the tooth stands last.
    """
    order = list(Fit)

    def key(choice: FileChoice) -> tuple[bool, int, float, str]:
        smaller_first = choice.fit in (Fit.SERVES, Fit.LARGE)
        face = choice.file.face.mm
        return (not choice.ok, order.index(choice.fit), face if smaller_first else -face, choice.file.name)

    return tuple(sorted((judge(file, tooth) for file in files), key=key))


def warnings(tooth: Tooth, unit: str = "mm") -> tuple[Reason, ...]:
    """What stands against filing this tooth; lengths in ``unit``, a key of lengths.MM_PER.

    A pitch that no file suits, a plate that no hand saw has or that leaves no tooth.
    """

    def shown(mm: float) -> str:
        return in_unit(mm, unit)

    found: list[Reason] = []
    needs = face_needs(tooth)
    if needs.at_outer_face_mm >= WIDEST_FACE_MM:
        text = (
            f"A pitch of {shown(tooth.pitch_mm)} has a flank of {shown(needs.at_outer_face_mm)}; "
            f"the widest saw file known here has a face of {shown(WIDEST_FACE_MM)}."
        )
        found.append(Reason(text, FROM_MEMORY))
    if not _leaves_flank(tooth, FINEST_CORNER_MM):
        text = (
            f"A pitch of {shown(tooth.pitch_mm)} is too fine: even a corner radius of {shown(FINEST_CORNER_MM)} "
            "leaves no straight flank."
        )
        found.append(Reason(text, FROM_MEMORY))
    if tooth.plate_mm > THICKEST_PLATE_MM * (1 + 1e-9):
        text = (
            f"A plate of {shown(tooth.plate_mm)} is thicker than {shown(THICKEST_PLATE_MM)}, the most that is printed "
            "for a hand saw; measure it again."
        )
        found.append(Reason(text, "HOLTZ p. 699"))
    if abs(tooth.point_rise_mm) >= tooth.depth_mm:
        text = (
            f"The fleam slants the top of a tooth by {shown(abs(tooth.point_rise_mm))} from the middle of the plate to "
            f"its side, and the tooth is {shown(tooth.depth_mm)} deep: at one side no tooth is left."
        )
        found.append(Reason(text, GEOMETRY))
    return tuple(found)


def narrow_face(face: Length, tooth: Tooth) -> Reason | None:
    """What stands against a file of this face at this tooth: it has to reach over the longest flank."""
    needs = face_needs(tooth)
    if face_ok(face.mm, needs):
        return None
    text = (
        f"{face} is not wider than the tooth's longest flank, {_least(needs, face.unit)}, and would leave a ridge on it"
    )
    return Reason(text, GEOMETRY)


def _least(needs: FaceNeeds, unit: str) -> str:
    """The flank that a face has to cover, and where it is that long, if not everywhere."""
    at_outer = Length.of(needs.at_outer_face_mm, unit)
    fleamed = needs.at_outer_face_mm > needs.hard_minimum_mm * (1 + 1e-9)
    return f"{at_outer} at the outer face of the plate" if fleamed else f"{at_outer}"


def _corner_reason(file: FileOwned, worked: Tooth) -> tuple[Reason, bool] | None:
    if file.corner_radius is None or file.corner_radius.mm == 0:
        return None
    if not _leaves_flank(worked, file.corner_radius.mm):
        text = f"Its corner radius of {file.corner_radius} leaves no straight flank at this pitch."
        return Reason(text, GEOMETRY), False
    rounded = _with_corner(worked, file.corner_radius.mm)
    unit = file.corner_radius.unit
    lost, depth = Length.of(rounded.depth_lost_mm, unit), Length.of(rounded.depth_left_mm, unit)
    return Reason(f"Its rounded corner leaves the gullet {lost} shallower, {depth} deep.", GEOMETRY), True


def _leaves_flank(worked: Tooth, radius_mm: float) -> bool:
    try:
        _with_corner(worked, radius_mm)
    except TradeError:
        return False
    return True


def _with_corner(worked: Tooth, radius_mm: float) -> Tooth:
    angles = (worked.rake, worked.fleam, worked.slope)
    return tooth(worked.pitch_mm, *angles, radius_mm, worked.plate_mm, worked.file_points)


def _checked_face(face_mm: float) -> float:
    if not math.isfinite(face_mm) or face_mm <= 0:
        raise TradeError(f"a file face of {face_mm!r} mm; allowed: a finite width above 0")
    return face_mm
