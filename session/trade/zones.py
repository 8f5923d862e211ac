"""A tooth line in zones: pitch and rake that change along the saw, as on a progressive rip saw.

SPON prints rip saws with 3–5 points at the heel and 6–8 at the toe. A plain saw is one zone. The rake
of a tooth is that of its front, which gullet k gives it, so a tooth belongs to the zone of the space
that begins at it; the last tooth belongs to the zone of the space that ends at it.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from functools import cached_property
from itertools import accumulate

from session.trade.pitch import MOST_POINTS, checked_pitch, count_points
from session.trade.trade_error import TradeError
from session.value_class import dataclass


@dataclass(frozen=True, slots=True)
class Zone:
    """A stretch of the line up to ``upto_mm`` from the heel end, with its pitch in mm and block rake in degrees."""

    upto_mm: float
    pitch_mm: float
    rake: float


@dataclass(frozen=True)
class ZonedLine:
    """A tooth line from the heel: zones, and the number of spaces that each one holds."""

    zones: tuple[Zone, ...]
    spaces: tuple[int, ...]

    @classmethod
    def of(cls, zones: Sequence[Zone]) -> ZonedLine:
        """The line of these zones, in order from the heel.

        Each zone begins where the teeth before it really ended, so that rounding to whole spaces never adds up.
        Raises TradeError when there are no zones, when they do not go forward, or when one holds no space,
        and for an impossible pitch or more than MOST_POINTS points.
        """
        if not zones:
            raise TradeError("a tooth line without zones; at least one is needed")
        spaces: list[int] = []
        at = reached = 0.0
        for number, zone in enumerate(zones, start=1):
            if not math.isfinite(zone.upto_mm) or zone.upto_mm <= reached:
                raise TradeError(
                    f"zone {number} ends at {zone.upto_mm!r} mm; allowed: a finite length above {reached:g} mm"
                )
            if not math.isfinite(zone.rake):
                raise TradeError(f"zone {number} has a rake of {zone.rake!r}; allowed: degrees")
            reached = zone.upto_mm
            pitch = checked_pitch(zone.pitch_mm)
            if reached - at < pitch / 2:
                raise TradeError(
                    f"zone {number} is shorter than its pitch of {pitch:g} mm; allowed: at least one space"
                )
            spaces.append(count_points(reached - at, pitch) - 1)
            at += spaces[-1] * pitch
        line = cls(tuple(zones), tuple(spaces))
        if line.points > MOST_POINTS:
            raise TradeError(f"the zones hold {line.points} points together; at most {MOST_POINTS}")
        return line

    @classmethod
    def plain(cls, points: int, pitch_mm: float, rake: float) -> ZonedLine:
        """A line of one zone with a counted number of points, 2 … MOST_POINTS, which overrides the computed one."""
        _checked_points(points)
        return cls((Zone((points - 1) * checked_pitch(pitch_mm), pitch_mm, rake),), (points - 1,))

    def counted(self, points: int) -> ZonedLine:
        """The same line with a counted number of points, 2 … MOST_POINTS: the difference is made up at the toe."""
        _checked_points(points)
        spaces, left = [], points - 1
        for own in self.spaces[:-1]:
            spaces.append(min(own, left))
            left -= spaces[-1]
        spaces = [one for one in (*spaces, left) if one]
        return ZonedLine(self.zones[: len(spaces)], tuple(spaces))

    @property
    def points(self) -> int:
        """Number of points on the line."""
        return sum(self.spaces) + 1

    @cached_property
    def positions_mm(self) -> tuple[float, ...]:
        """Where each point stands, from the heel end of the line; the first is 0."""
        found = [0.0]
        for zone, spaces in zip(self.zones, self.spaces, strict=True):
            begin = found[-1]
            found += [begin + space * zone.pitch_mm for space in range(1, spaces + 1)]
        return tuple(found)

    def zone_at(self, tooth: int) -> Zone:
        """The zone of tooth ``tooth``, 1 … points. Raises TradeError for any other number."""
        if isinstance(tooth, bool) or not isinstance(tooth, int) or not 1 <= tooth <= self.points:
            raise TradeError(f"tooth {tooth!r}; allowed: 1 to {self.points}")
        return self.zones[min(bisect_right(self._last_spaces, tooth - 1), len(self.zones) - 1)]

    def position_mm(self, tooth: int) -> float:
        """Where tooth ``tooth`` stands, in mm from the heel end of the line."""
        self.zone_at(tooth)
        return self.positions_mm[tooth - 1]

    def pitch_at(self, tooth: int) -> float:
        """Pitch in mm at tooth ``tooth``: the space in front of it, for the last tooth the one behind."""
        return self.zone_at(tooth).pitch_mm

    def stretches(self) -> tuple[tuple[int, int, Zone], ...]:
        """First and last tooth of each zone, from the heel, with the zone: every tooth once, as ``zone_at`` has it."""
        ends = (*self._last_spaces[:-1], self.points)
        return tuple(zip((1, *(end + 1 for end in ends)), ends, self.zones, strict=False))

    @cached_property
    def _last_spaces(self) -> tuple[int, ...]:
        return tuple(accumulate(self.spaces))


def _checked_points(points: int) -> None:
    if isinstance(points, bool) or not isinstance(points, int) or not 2 <= points <= MOST_POINTS:
        raise TradeError(f"{points!r} points; allowed: a whole number from 2 to {MOST_POINTS}")
