"""A straight flank through points of its edge, whatever lies on the edge here and there.

Least squares across the line, reweighted by Tukey's biweight, which leaves out what is far off; the scatter is taken
from the middle half of the residuals, so that a grain of dust does not widen it.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from session.scan.light_levels import Floats
from session.value_class import dataclass

#: Tukey's constant: 95 % as good as least squares where nothing is off.
_TUKEY: Final = 4.685

#: The least scatter believed, mm: an edge is never smoother than its scan lines.
_LEAST_MM: Final = 0.0004


@dataclass(frozen=True, slots=True)
class Flank:
    """A line v = v0 + slope of angle ``turn`` through (u0, v0), mm and radians, with what it is worth.

    turn: of its direction from +u toward +v. length: over which there were points. scatter: of the points across it.
    kept: share of the points that took part. se_turn, se_off: standard uncertainties of the direction (radians) and of
    the line's place across itself at (u0, v0) (mm), as far as scatter tells.
    """

    u0: float
    v0: float
    turn: float
    length: float
    scatter: float
    kept: float
    se_turn: float
    se_off: float

    def off(self, u: Floats, v: Floats) -> Floats:
        """How far points lie to the left of the line's direction, mm."""
        away: Floats = -(u - self.u0) * math.sin(self.turn) + (v - self.v0) * math.cos(self.turn)
        return away

    def along(self, u: float, v: float) -> float:
        """How far along its direction from (u0, v0) a point lies, mm."""
        return (u - self.u0) * math.cos(self.turn) + (v - self.v0) * math.sin(self.turn)

    def ways(self, u: Floats, v: Floats) -> Floats:
        """How far along its direction from (u0, v0) places lie, mm."""
        ways: Floats = (u - self.u0) * math.cos(self.turn) + (v - self.v0) * math.sin(self.turn)
        return ways

    def beside(self, half: float, far: float) -> tuple[Floats, Floats]:
        """Corners (u, v) of what lies up to ``far`` mm off the line, over ``half`` mm to either side of (u0, v0)."""
        cos, sin = math.cos(self.turn), math.sin(self.turn)
        s, w = np.array([-half, -half, half, half]), np.array([-far, far, -far, far])
        return self.u0 + s * cos - w * sin, self.v0 + s * sin + w * cos

    def se_at(self, u: float, v: float) -> float:
        """Standard uncertainty across the line at a place on it, mm."""
        return math.hypot(self.se_off, self.se_turn * self.along(u, v))


def fit_flank(points: Floats, apart: float) -> Flank | None:
    """The line through ``points`` (u, v) in the order of the edge; None where they are on none.

    apart: mm along the edge over which the picture's dots are independent of each other.
    """
    if len(points) < 8:
        return None
    u, v = points[:, 0], points[:, 1]
    weight = _first_guess(points)
    scatter = 0.0
    for _ in range(12):
        total = weight.sum()
        if total < 5.0:
            return None
        u0, v0 = float(weight @ u / total), float(weight @ v / total)
        du, dv = u - u0, v - v0
        turn = 0.5 * math.atan2(2.0 * float(weight @ (du * dv)), float(weight @ (du * du - dv * dv)))
        off = -du * math.sin(turn) + dv * math.cos(turn)
        inner = np.abs(off[weight > 0.0])
        scatter = max(1.4826 * float(np.median(inner)), _LEAST_MM)
        ratio = off / (_TUKEY * scatter)
        fresh = np.where(np.abs(ratio) < 1.0, (1.0 - ratio**2) ** 2, 0.0)
        if float(np.abs(fresh - weight).max()) < 0.02:
            weight = fresh
            break
        weight = fresh
    kept = weight > 0.05
    if kept.sum() < 6:
        return None
    s = (u - u0) * math.cos(turn) + (v - v0) * math.sin(turn)
    if s[-1] < s[0]:
        turn, s = turn + math.pi, -s
    length = float(np.ptp(s[kept]))
    # Two are used up by the line itself, one by the scatter that it is measured with.
    free = max(1.5, length / apart - 3.0)
    spread = max(float(np.std(s[kept])), 1e-6)
    rms = math.sqrt(float(np.mean(np.clip(off[kept], -3 * scatter, 3 * scatter) ** 2)))
    each = max(rms, _LEAST_MM) / math.sqrt(free)
    return Flank(u0, v0, turn, length, scatter, float(kept.mean()), each / spread, each)


def _first_guess(points: Floats) -> Floats:
    """Ones for the points near the line that most of a few pairs agree on: least median of the distances."""
    count = len(points)
    best, kept = math.inf, np.ones(count)
    for i, j in ((0.0, 1.0), (0.1, 0.9), (0.0, 0.6), (0.4, 1.0), (0.2, 0.7), (0.3, 0.95), (0.05, 0.45), (0.55, 0.98)):
        one, other = points[int(i * (count - 1))], points[int(j * (count - 1))]
        way = other - one
        size = float(np.hypot(*way))
        if size == 0.0:
            continue
        off = np.abs((points[:, 0] - one[0]) * way[1] - (points[:, 1] - one[1]) * way[0]) / size
        median = float(np.median(off))
        if median < best:
            best, kept = median, (off <= 4.0 * median + 0.004).astype(float)
    return kept


def meeting(one: Flank, other: Flank) -> tuple[float, float] | None:
    """Where two lines meet, (u, v) in mm; None where they run alike."""
    cross = math.sin(other.turn - one.turn)
    if abs(cross) < 0.05:
        return None
    du, dv = other.u0 - one.u0, other.v0 - one.v0
    along = (du * math.sin(other.turn) - dv * math.cos(other.turn)) / cross
    return one.u0 + along * math.cos(one.turn), one.v0 + along * math.sin(one.turn)
