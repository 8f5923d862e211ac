"""Retoothing: how far a line has to come down for teeth of another pitch or rake, and the steel that it costs.

New teeth can only be cut out of steel that is there. A new tooth is a wedge with its point on the new line; it is whole
when no old gullet reaches into it. Old gullets are deepest in single places, so that a wedge clears the old outline
between two of them when it clears both, and its own point. How far the line has to come down follows from the worst of
all new points, and where mark 1 of the new line is laid is chosen so that this is least.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final

from session.trade.saw import Saw
from session.trade.tooth import Tooth, tooth_of
from session.trade.trade_error import TradeError
from session.value_class import dataclass

#: Places that are tried for the first new point along one old pitch, then about the best of them.
_TRIED: Final = 48
_CLOSER: Final = 24

#: Points of a long line that are looked at while the place is sought; the place found is then judged by all.
_LOOKED_AT: Final = 400

#: What arithmetic leaves over, in mm.
_NONE: Final = 1e-6

#: Two points nearer than this stand on one another, in mm: what a file's stroke is sure to move.
SAME_MM: Final = 0.05


@dataclass(frozen=True, slots=True)
class Retoothing:
    """New teeth on an old line, in mm and mm³.

    points: how many; places_mm: where each stands, from the first old point. lower_mm: how far the line comes down.
    kept: how many new points stand where an old one does. whole_teeth: whether nothing of the old teeth is left when
    the line is down. flat_mm: the flat that the leveling leaves on an old tooth of the first zone, its whole pitch when
    none is left. leveled_mm3: steel taken by the leveling file; filed_mm3: by the saw file, in all gullets together.
    """

    places_mm: tuple[float, ...]
    lower_mm: float
    kept: int
    whole_teeth: bool
    flat_mm: float
    leveled_mm3: float
    filed_mm3: float

    @property
    def points(self) -> int:
        """How many new points there are."""
        return len(self.places_mm)

    @property
    def first_mm(self) -> float:
        """Where the first new point stands, from the first old one."""
        return self.places_mm[0]


@dataclass(frozen=True, slots=True)
class _Outline:
    """The old line: its points and the spaces between them, where its gullets are deepest and how deep, its flanks."""

    points: tuple[float, ...]
    spaces: tuple[float, ...]
    floors: tuple[float, ...]
    depths: tuple[float, ...]
    fronts: tuple[float, ...]
    backs: tuple[float, ...]
    deepest: float

    @classmethod
    def of(cls, saw: Saw) -> _Outline:
        places = saw.line.positions_mm
        made = [tooth_of(saw.at(tooth)) for tooth in range(1, saw.points)]
        fronts, backs = zip(*map(_flanks, made), strict=True)
        spaces = tuple(ahead - behind for behind, ahead in pairwise(places))
        depths = tuple(space / (front + back) for space, front, back in zip(spaces, fronts, backs, strict=True))
        floors = tuple(at + front * depth for at, front, depth in zip(places, fronts, depths, strict=False))
        return cls(places, spaces, floors, depths, fronts, backs, max(depths))

    def height(self, x: float) -> float:
        """How far the old outline lies below the old points at ``x``, as a height of 0 or less."""
        space = min(max(bisect_right(self.points, x) - 1, 0), len(self.floors) - 1)
        along, depth = x - self.points[space], self.depths[space]
        if along <= _NONE:
            return 0.0
        if x < self.floors[space]:
            return -min(depth, along / self.fronts[space])
        return -min(depth, max(0.0, self.points[space + 1] - x) / self.backs[space])

    def room(self, x: float, front: float, back: float) -> float:
        """The height, 0 or less, of the highest point at ``x`` whose tooth with these flanks is all steel."""
        found = self.height(x)
        ahead = bisect_right(self.floors, x - _NONE)
        for gullets, lean in ((range(ahead, len(self.floors)), front), (range(ahead - 1, -1, -1), back)):
            for gullet in gullets:
                away = abs(self.floors[gullet] - x)
                # An upright front reaches into no gullet; beyond a tooth's own foot no gullet is deep enough.
                if lean <= 0.0 or away / lean - self.deepest >= found:
                    break
                found = min(found, away / lean - self.depths[gullet])
        return found

    def air_mm2(self, down: float) -> float:
        """What is no steel below the old points once the line is down by ``down``, in mm²: gullets, leveled teeth."""
        gullets = sum(space * depth for space, depth in zip(self.spaces, self.depths, strict=True))
        return self.leveled_mm2(down) + gullets / 2

    def leveled_mm2(self, down: float) -> float:
        """What the leveling takes, seen from the side."""
        found = 0.0
        for space, depth in zip(self.spaces, self.depths, strict=True):
            tip = min(down, depth)
            found += tip * tip * space / depth / 2 + max(0.0, down - depth) * space
        return found


def retoothing(old: Saw, new: Saw) -> Retoothing:
    """The teeth of ``new`` cut into the line of ``old``, as far as it reaches.

    Raises TradeError for angles that leave no tooth, and for a pitch that the line holds no two points of.
    """
    outline = _Outline.of(old)
    length = outline.points[-1]
    line = new.line
    teeth = [(line.position_mm(tooth), *_flanks(tooth_of(new.at(tooth)))) for tooth in range(1, line.points + 1)]

    def placed(first: float) -> list[tuple[float, float, float]]:
        """The points of a line that begins at ``first``, each with its flanks."""
        return [(min(first + at, length), front, back) for at, front, back in teeth if first + at <= length + _NONE]

    def lower(first: float, every: int = 1) -> float:
        return -min(outline.room(*one) for one in placed(first)[::every])

    first = _least(lower, outline.spaces[0], max(1, len(teeth) // _LOOKED_AT))
    points = placed(first)
    if len(points) < 2:
        raise TradeError(
            f"a pitch of {new.pitch_mm:g} mm on a line {length:g} mm long leaves no two points; allowed: a finer pitch"
        )
    down = lower(first)
    places = tuple(at for at, _, _ in points)
    gullets = sum(
        (ahead - behind) ** 2 / (front + back) / 2
        for (behind, ahead), (_, front, back) in zip(pairwise(places), points, strict=False)
    )
    # What of the old gullets is left below the new line needs no filing; beyond its ends nothing is filed.
    spared = max(0.0, outline.air_mm2(down) - down * length) * (places[-1] - places[0]) / length
    return Retoothing(
        places_mm=places,
        lower_mm=down,
        kept=sum(1 for at in places if _nearest(outline.points, at) <= SAME_MM),
        whole_teeth=down >= outline.deepest - SAME_MM,
        flat_mm=min(1.0, down / outline.depths[0]) * outline.spaces[0],
        leveled_mm3=outline.leveled_mm2(down) * old.plate.mm,
        filed_mm3=max(0.0, gullets - spared) * old.plate.mm,
    )


def _least(lower: Callable[[float, int], float], pitch: float, every: int) -> float:
    """Where the first new point stands best, 0 up to one old pitch from the first old one."""
    step = pitch / _TRIED
    rough = min((number * step for number in range(_TRIED)), key=lambda first: (lower(first, every), first))
    closer = [rough + number * step / _CLOSER for number in range(1 - _CLOSER, _CLOSER)]
    return min((rough, *(first for first in closer if first >= 0.0)), key=lambda first: (lower(first, every), first))


def _flanks(tooth: Tooth) -> tuple[float, float]:
    """How far front and back run along the line per mm of height."""
    return math.tan(math.radians(tooth.front_deg)), math.tan(math.radians(tooth.back_deg))


def _nearest(places: Sequence[float], at: float) -> float:
    """How far the nearest of ``places``, in order, is from ``at``."""
    after = bisect_right(places, at)
    return min(abs(places[one] - at) for one in (after - 1, after) if 0 <= one < len(places))
