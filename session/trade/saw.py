"""A saw as the arithmetic knows it: one frozen value, made from a recipe that has been checked."""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache

from session.trade.lengths import Length
from session.trade.rule_marks import on_rule
from session.trade.zones import Zone, ZonedLine
from session.value_class import dataclass, replace


class Cut(StrEnum):
    """How the saw cuts: along the grain or across it."""

    RIP = "rip"
    CROSSCUT = "crosscut"


class Leans(StrEnum):
    """Which way tooth 1 leans with the handle on the right; UNSET when no tooth was ever set."""

    AWAY = "away"
    TOWARD = "toward"
    UNSET = "unset"


class End(StrEnum):
    """An end of the tooth line."""

    HEEL = "heel"
    TOE = "toe"


class FilePoints(StrEnum):
    """Which way the file's tip is turned by the fleam."""

    TOE = "toe"
    HANDLE = "handle"


class Order(StrEnum):
    """Whether teeth are set before they are filed, or after."""

    SET_FIRST = "set first"
    FILE_FIRST = "file first"


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """One saw and how it is to be sharpened.

    pitch_mm: spacing of the points along the line, above 0.
    points: number of points on the line, 2 or more, counted or computed.
    count_as: the count as the recipe gave it, such as "8 points per inch".
    rake, fleam, slope: degrees as the guide block holds the file (not as seen on the plate).
    zones: of a progressive line, whose pitch and rake change along it, the first at the heel with the saw's own
        pitch and rake; empty for a plain line.
    bent_share: share of the tooth's depth that is bent by the set, from the point, 0…1.
    """

    name: str
    kind: str
    cut: Cut
    toothed_length: Length
    plate: Length
    gauge: int | None = None
    points: int
    points_counted: bool = False
    pitch_mm: float
    count_as: str
    rake: float
    fleam: float = 0.0
    slope: float = 0.0
    zones: tuple[Zone, ...] = ()
    first_leans: Leans = Leans.AWAY
    set_per_side: Length | None = None
    least_per_side: Length | None = None
    bent_share: float = 0.4
    face: Length | None = None
    order: Order = Order.SET_FIRST
    sides: int = 2
    start: End = End.HEEL
    file_points: FilePoints = FilePoints.TOE
    vise_jaw: Length = Length(12 * 25.4, "12 in", "in")
    wood: str = "dry hardwood"
    dressing_passes: int = 1

    @property
    def unit(self) -> str:
        """The unit the saw's owner thinks in: that of the toothed length."""
        return self.toothed_length.unit

    @property
    def line(self) -> ZonedLine:
        """The tooth line in its zones, as many points as the saw has."""
        return _line(self.zones, self.points) if self.zones else ZonedLine.plain(self.points, self.pitch_mm, self.rake)

    @property
    def widest_pitch_mm(self) -> float:
        """The pitch of the coarsest zone, the pitch itself on a plain line."""
        return max((zone.pitch_mm for zone in self.zones), default=self.pitch_mm)

    def at(self, tooth: int) -> Saw:
        """A plain saw with the pitch and the rake that this one has at ``tooth`` (1 … points)."""
        if not self.zones:
            return self
        zone = self.line.zone_at(tooth)
        return replace(self, pitch_mm=zone.pitch_mm, rake=zone.rake, zones=())

    def from_heel_mm(self, tooth: int) -> float:
        """Where tooth ``tooth`` (1 … points) stands on a rule laid from the heel end of the line."""
        return self.line.position_mm(tooth) if self.zones else (tooth - 1) * self.pitch_mm

    def from_heel(self, tooth: int) -> str:
        """The same as a rule shows it: to a thirty-second of an inch, or half a millimeter where the saw is metric."""
        return on_rule(self.from_heel_mm(tooth), self.unit)


@lru_cache(maxsize=8)
def _line(zones: tuple[Zone, ...], points: int) -> ZonedLine:
    return ZonedLine.of(zones).counted(points)
