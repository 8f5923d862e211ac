"""A tooth line that is known to the last digit, made at random for a scan: what a reader of scans is held against.

Lengths in mm. The line runs along u toward the toe, its points at v = 0; v is up, out of the gullets. Nothing here is
taken from the program's own arithmetic: a tooth is two straight flanks, a top, and a rounded gullet between two teeth.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field, replace

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class KnownTooth:
    """One tooth: its top from a to b at height v, and the leans of its flanks in degrees.

    state: whole, low, high or broken. torn: the outline of a break, from its front to its back, in place of a top.
    """

    a: float
    b: float
    v: float
    front: float
    back: float
    state: str = "whole"
    torn: tuple[Point, ...] = ()

    @property
    def place(self) -> float:
        """The middle of the top."""
        return (self.a + self.b) / 2.0


@dataclass(frozen=True, slots=True)
class KnownLine:
    """All teeth from the heel, and how the plate goes on beyond them: a ledge of so many mm at the gullets' depth."""

    teeth: tuple[KnownTooth, ...]
    radius: float
    heel_ledge: float = 2.0
    toe_ledge: float = 0.0
    plate: float = 0.9
    fleam: float = 0.0
    seed: int = field(default=0)

    @property
    def depth(self) -> float:
        """Depth of the second gullet, without its rounding."""
        return -self.corner(1)[1]

    def corner(self, k: int) -> Point:
        """Where the front of tooth k and the back of tooth k + 1 would meet, counted from 0."""
        here, ahead = self.teeth[k], self.teeth[k + 1]
        f, b = math.tan(math.radians(here.front)), math.tan(math.radians(ahead.back))
        # u = here.b + f·(here.v − v) on the one, ahead.a − b·(ahead.v − v) on the other
        v = (here.b + f * here.v - ahead.a + b * ahead.v) / (f + b)
        return here.b + f * (here.v - v), v

    def rounded(self, k: int) -> list[Point]:
        """The floor of the gullet in front of tooth k: an arc that touches both flanks."""
        u, v = self.corner(k)
        f, b = math.radians(self.teeth[k].front), math.radians(self.teeth[k + 1].back)
        half = (f + b) / 2.0
        middle = math.pi / 2.0 + (f - b) / 2.0  # the way out of the corner, between the flanks
        away = self.radius / math.sin(half)
        cu, cv = u + away * math.cos(middle), v + away * math.sin(middle)
        # From the foot on the front flank of k, round the bottom, to the foot on the back of k + 1.
        first, last = math.pi + f, 2.0 * math.pi - b
        steps = 9
        turns = [first + (last - first) * i / (steps - 1) for i in range(steps)]
        return [(cu + self.radius * math.cos(turn), cv + self.radius * math.sin(turn)) for turn in turns]

    def outline(self) -> list[Point]:
        """The plate's edge from beyond the heel to beyond the toe."""
        first, last = self.teeth[0], self.teeth[-1]
        floor = min(self.corner(k)[1] for k in range(len(self.teeth) - 1))
        deep = floor - 400.0
        foot = first.a - math.tan(math.radians(first.back)) * (first.v - floor)
        edge: list[Point] = []
        if self.heel_ledge > 0.0:
            edge += [(foot - self.heel_ledge, deep), (foot - self.heel_ledge, floor), (foot, floor)]
        else:
            edge += [(first.a, deep)]
        for k, tooth in enumerate(self.teeth):
            edge += tooth.torn if tooth.torn else [(tooth.a, tooth.v), (tooth.b, tooth.v)]
            if k + 1 < len(self.teeth):
                edge += self.rounded(k)
        if self.toe_ledge > 0.0:
            foot = last.b + math.tan(math.radians(last.front)) * (last.v - floor)
            edge += [(foot, floor), (foot + self.toe_ledge, floor), (foot + self.toe_ledge, deep)]
        else:
            edge += [(last.b, deep)]
        return edge


def flanks(rake: float, fleam: float) -> tuple[float, float]:
    """Front and back of a tooth left by a file of 60°, degrees from square as they show on the plate's side."""
    lean = 1.0 / math.cos(math.radians(fleam))
    return tuple(  # type: ignore[return-value]
        math.degrees(math.atan(math.tan(math.radians(angle)) * lean)) for angle in (rake, 60.0 - rake)
    )


def even_line(
    pitch: float, count: int, *, rake: float = 12.0, fleam: float = 0.0, flat: float = 0.0, radius: float = 0.12
) -> KnownLine:
    """A line without a fault: ``count`` teeth, their flats ``flat`` wide."""
    front, back = flanks(rake, fleam)
    teeth = [KnownTooth(k * pitch - flat / 2, k * pitch + flat / 2, 0.0, front, back) for k in range(count)]
    return KnownLine(tuple(teeth), radius, fleam=fleam)


def random_line(
    seed: int, *, count: int | None = None, points: float | None = None, longest: float = 100.0
) -> KnownLine:
    """A line as saws have them: 3 to 16 points an inch, any rake and fleam in use, worn, leveled, uneven, broken."""
    dice = random.Random(seed)
    points = points if points is not None else math.exp(dice.uniform(math.log(3.0), math.log(16.0)))
    pitch = 25.4 / (points - 1.0)
    wished = dice.randint(16, 40)
    count = count or max(9, min(wished, int(longest / pitch)))
    crosscut = dice.random() < 0.5
    rake = dice.uniform(10.0, 25.0) if crosscut else dice.uniform(0.0, 12.0)
    fleam = dice.uniform(10.0, 28.0) if crosscut else 0.0
    front, back = flanks(rake, fleam)
    run = math.tan(math.radians(front)) + math.tan(math.radians(back))
    depth = pitch / run
    # Places: a zone of finer teeth at one end now and then, and a hand's unevenness.
    zoned = dice.random() < 0.25
    places = [0.0]
    for k in range(count - 1):
        places.append(places[-1] + pitch * (0.75 + 0.25 * min(1.0, k / (count / 2.0)) if zoned else 1.0))
    uneven = dice.choice((0.0, 0.01, 0.03))
    places = [u + dice.gauss(0.0, uneven * pitch) for u in places]
    # Heights: a crown or a hollow, a wave, a hand's unevenness; then leveled or not.
    length = places[-1]
    crown = dice.choice((0.0, 0.0, -0.25, 0.3))
    curve = [crown * (1.0 - (2.0 * u / length - 1.0) ** 2) for u in places]
    rough = [dice.gauss(0.0, 0.008 * depth) for _ in places]
    leveled = dice.random() < 0.5
    cut = dice.uniform(-0.5, 1.0) * 0.02 * depth + 0.02 * depth
    teeth = []
    for k, u in enumerate(places):
        f = front + dice.gauss(0.0, 0.7)
        b = back + dice.gauss(0.0, 0.7)
        tf, tb = math.tan(math.radians(f)), math.tan(math.radians(b))
        if leveled:
            peak = cut + rough[k]  # where the flanks would meet above the flat
            drop = max(0.0, peak)
            top = curve[k] + min(0.0, peak)
            teeth.append(KnownTooth(u - drop * tb, u + drop * tf, top, f, b))
        else:
            teeth.append(KnownTooth(u, u, curve[k] + min(0.05, max(-0.05, rough[k])), f, b))
    line = KnownLine(
        tuple(teeth),
        radius=min(0.08 * pitch, dice.uniform(0.08, 0.3)),
        heel_ledge=dice.choice((0.5, 2.0, 3.0)),
        toe_ledge=dice.choice((0.0, 0.0, 3.0)),
        fleam=fleam,
        seed=seed,
    )
    return with_faults(line, dice, depth)


def with_faults(line: KnownLine, dice: random.Random, depth: float) -> KnownLine:
    """A few teeth of ``line`` low, high or broken; never two beside each other, none at the ends."""
    teeth = list(line.teeth)
    free = list(range(2, len(teeth) - 2))
    for state in ("low", "high", "broken"):
        for _ in range(dice.choice((0, 0, 1, 2))):
            if not free:
                break
            k = dice.choice(free)
            free = [other for other in free if abs(other - k) > 1]
            teeth[k] = faulty(teeth[k], state, dice, depth)
    return replace(line, teeth=tuple(teeth))


def faulty(tooth: KnownTooth, state: str, dice: random.Random, depth: float) -> KnownTooth:
    """``tooth`` filed too low, left too high, or with its point broken off."""
    middle = tooth.place
    if state == "low":
        drop = dice.uniform(0.1, 0.3) + 0.02
        return replace(tooth, a=middle, b=middle, v=tooth.v - drop, state=state)
    if state == "high":
        return replace(tooth, a=middle, b=middle, v=tooth.v + dice.uniform(0.12, 0.25), state=state)
    share = dice.uniform(0.25, 0.8)
    low = tooth.v - share * depth
    tf, tb = math.tan(math.radians(tooth.front)), math.tan(math.radians(tooth.back))
    a, b = tooth.a - tb * (tooth.v - low), tooth.b + tf * (tooth.v - low)
    ragged = [(a + (b - a) * share_along, low + dice.uniform(-0.06, 0.10) * depth) for share_along in (0.25, 0.5, 0.75)]
    torn = ((a, low), *ragged, (b, low))
    return KnownTooth(a, b, low, tooth.front, tooth.back, state, torn)
