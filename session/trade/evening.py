"""The evening plan: from which flank of each flat the steel goes, so that the spacing gets as even as it can.

After leveling, the new point of a tooth can come to lie anywhere in its flat. The gullet in front takes
what lies toward the toe from the front of the tooth, the gullet behind takes the rest from its back. All points
are chosen together, so that Σ (spacing − pitch)² is least; that also makes the worst spacing error least. On a
progressive line the spacing wanted at each gullet stands for the pitch.

Of a tooth that was not seen nothing is known: beside it the file is held straight, and strokes are counted as if its
flat were a middle one, halved.

A low tooth has no flat and gives nothing until the line comes down to it (HASL): the spacing is counted
across it, two pitches from its one neighbor to the other. A broken tooth likewise, so that its neighbors keep
their own size (DREW-22). No plan asks for steel that is not there.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from enum import StrEnum
from itertools import pairwise
from typing import Final

from session.trade.rounding import decimals
from session.trade.strokes import LIGHT_MM, gullet_volume_mm3, strokes_for, usual_bite
from session.trade.taut_string import taut_string
from session.trade.trade_error import TradeError
from session.trade.uneven_line import UnevenLine
from session.value_class import dataclass

#: The spacing error that is good enough when nobody says otherwise: judgment.
WITHIN_MM: Final = 0.1

#: The file is held straight when the two flanks of a gullet give alike within this share of both: judgment.
STRAIGHT_SHARE: Final = 0.1

#: A take under this is not asked for: no eye sees it and no file stops at it.
NOTHING_MM: Final = 1e-6

#: Flats out of step by less than this are so by rounding alone.
ROUNDING_MM: Final = 1e-9

#: A pitch given and the line's own differ noticeably from this share on: judgment.
PITCH_DIFFERS: Final = 0.02


class Lean(StrEnum):
    """Which way to press the file in a gullet: toward the tooth that gives more."""

    HEEL = "heel"
    TOE = "toe"
    STRAIGHT = "straight"


@dataclass(frozen=True, slots=True, kw_only=True)
class EveningPlan:
    """What to take where. Every tuple has one entry for each tooth, or each gullet of the same number.

    points_mm: where the new points lie along the line, None for a low or broken tooth, or when no place is known.
    front_mm, back_mm: steel to take from the two flanks of each tooth, measured along the line.
    lean, strokes, drop_mm: for gullet k, in front of tooth k: how to press the file, full strokes, and how far
        its floor goes down. The last gullet is only the front of the last tooth.
    volumes_mm3: the steel that each gullet gives, which the strokes follow from.
    heel_strokes: strokes on the back of tooth 1, behind which there is no gullet of the count; heel_mm3: its steel.
    worst_before_mm, worst_after_mm: worst spacing error if every point came to the middle of its flat, and by plan;
        None, as all that follows from places, where only widths are known (session.trade.printed_lean).
    extra_leveling_mm: least further leveling after which the error can be within ``within_mm``; None when the
        gullets would be gone first. Low teeth, once touched, may ask for more.
    sharpenings_until_even: how many more sharpenings, each taking ``light_mm`` off the line, until it can be
        within ``within_mm``; None as above.
    notes: what is odd about the line, one sentence each. unseen: teeth whose flat is not known.
    """

    pitch_mm: float
    points_mm: tuple[float | None, ...]
    front_mm: tuple[float, ...]
    back_mm: tuple[float, ...]
    lean: tuple[Lean, ...]
    strokes: tuple[int, ...]
    volumes_mm3: tuple[float, ...]
    drop_mm: tuple[float, ...]
    heel_strokes: int
    heel_mm3: float
    low: tuple[int, ...]
    broken: tuple[int, ...]
    worst_before_mm: float | None = None
    worst_after_mm: float | None = None
    within_mm: float = WITHIN_MM
    extra_leveling_mm: float | None = None
    light_mm: float = LIGHT_MM
    sharpenings_until_even: int | None = None
    notes: tuple[str, ...] = ()
    unseen: tuple[int, ...] = ()

    @property
    def share_front(self) -> tuple[float | None, ...]:
        """Of each tooth, the share of its flat to be taken from its front, by the gullet of its own number, 0 to 1; the
        gullet behind takes the rest. None for a tooth without a flat."""
        both = zip(self.front_mm, self.back_mm, strict=True)
        return tuple(front / (front + back) if front + back > NOTHING_MM else None for front, back in both)

    @property
    def placed(self) -> bool:
        """Whether it is known where the flats lie, so that it says where the points will."""
        return self.worst_after_mm is not None


def plan_evening(
    line: UnevenLine,
    depth_mm: float,
    plate_mm: float,
    *,
    bite_mm3: float | None = None,
    within_mm: float = WITHIN_MM,
    light_mm: float = LIGHT_MM,
    rises: Sequence[float] = (),
) -> EveningPlan:
    """The plan for a line that has been leveled and read.

    depth_mm: depth of the sharp tooth of the line's pitch; plate_mm: thickness of the plate; bite_mm3: steel one
    stroke takes, None for the usual one of such a saw; within_mm: spacing error that is good enough, 0 or more;
    light_mm: what a light sharpening takes off. rises: depth over space of each gullet, where the rake of a progressive
    line changes; the tooth of ``depth_mm`` stands for all in what is said of further leveling. Raises TradeError for
    values that cannot be.
    """
    for what, value in (
        ("depth", depth_mm),
        ("plate thickness", plate_mm),
        ("bite", 1.0 if bite_mm3 is None else bite_mm3),
        ("light take", light_mm),
    ):
        if not (math.isfinite(value) and value > 0.0):
            raise TradeError(f"{what} {value:g}; allowed: above 0")
    if not (math.isfinite(within_mm) and within_mm >= 0.0):
        raise TradeError(f"tolerance {within_mm:g} mm; allowed: 0 mm or more")
    bite = usual_bite(line.pitch_mm, plate_mm).mm3 if bite_mm3 is None else bite_mm3
    points = even_points(line)
    front, back = _takes(line, points)
    rises = rises or (depth_mm / line.pitch_mm,) * len(points)
    volumes, heel_volume = _volumes(line, _halved(line, front), _halved(line, back), rises, plate_mm)
    before = worst_spacing_error_mm(line.pitch_mm, _middles(line), line.places_mm)
    after = worst_spacing_error_mm(line.pitch_mm, points, line.places_mm)
    extra = extra_leveling_mm(line, depth_mm, within_mm)
    return EveningPlan(
        pitch_mm=line.pitch_mm,
        points_mm=points,
        front_mm=front,
        back_mm=back,
        lean=tuple(
            Lean.STRAIGHT if {gullet, gullet + 1} & set(line.unseen) else lean_in_gullet(f, g)
            for gullet, (f, g) in enumerate(gullet_takes(front, back), 1)
        ),
        strokes=tuple(strokes_for(volume, bite) for volume in volumes),
        volumes_mm3=tuple(volumes),
        drop_mm=tuple((f + g) * rise for (f, g), rise in zip(gullet_takes(front, back), rises, strict=True)),
        heel_strokes=strokes_for(heel_volume, bite),
        heel_mm3=heel_volume,
        low=line.low,
        broken=line.broken,
        worst_before_mm=before,
        worst_after_mm=after,
        within_mm=within_mm,
        extra_leveling_mm=extra,
        light_mm=light_mm,
        # A taut string touches the very flats that are most out of step, so that following the plan first leaves just
        # as much to level; and many light levelings widen flats as one deep one does.
        sharpenings_until_even=None if extra is None else math.ceil(extra / light_mm - 1e-9),
        notes=tuple(line_notes(line)),
        unseen=line.unseen,
    )


def even_points(line: UnevenLine) -> tuple[float | None, ...]:
    """Where the new points lie: each in its flat, the spacings as equal as the steel allows; None without a flat."""
    places = [float(tooth) for tooth, flat in enumerate(line.flats) if flat is not None]
    low = [flat[0] - line.place_mm(tooth) for tooth, flat in enumerate(line.flats) if flat is not None]
    high = [flat[1] - line.place_mm(tooth) for tooth, flat in enumerate(line.flats) if flat is not None]
    heights = iter(taut_string(places, low, high))
    points: list[float | None] = []
    for tooth, flat in enumerate(line.flats):
        x = None if flat is None else next(heights) + line.place_mm(tooth)
        points.append(x if x is None or flat is None else min(max(x, flat[0]), flat[1]))
    return tuple(points)


def worst_spacing_error_mm(
    pitch_mm: float, points_mm: Iterable[float | None], places_mm: Sequence[float] = ()
) -> float:
    """The largest |spacing − pitch|; across teeth without a point, the error is shared among the spacings.

    places_mm: where the points of a progressive line belong; then its spaces stand for the pitch.
    """
    known = [(tooth, x) for tooth, x in enumerate(points_mm) if x is not None]
    if places_mm:
        wanted = {tooth: places_mm[tooth] for tooth, _ in known}
        errors = (((x2 - x1) - (wanted[k2] - wanted[k1])) / (k2 - k1) for (k1, x1), (k2, x2) in pairwise(known))
    else:
        errors = ((x2 - x1) / (k2 - k1) - pitch_mm for (k1, x1), (k2, x2) in pairwise(known))
    return max((abs(error) for error in errors), default=0.0)


def extra_leveling_mm(line: UnevenLine, depth_mm: float, within_mm: float) -> float | None:
    """Least further leveling, in mm, after which the worst spacing error can be within ``within_mm``.

    Leveling e deeper makes every flat e·pitch/depth wider. The points can keep every spacing within the tolerance
    exactly when no two flats are further out of step than the tolerance times the spacings between them,
    so the worst such pair gives the depth at once. None when flats would meet before: nothing of
    a gullet would be left.
    """
    ahead = behind = -math.inf  # the worst a flat may be out of step with an earlier one, either way
    worst = 0.0
    narrowest = math.inf
    edge: tuple[int, float] | None = None
    for tooth, flat in enumerate(line.flats):
        if flat is None:
            continue
        slack, nominal = tooth * within_mm, line.place_mm(tooth)
        low, high = flat[0] - nominal, flat[1] - nominal
        worst = max(worst, ahead + low - slack, behind - high - slack)
        ahead, behind = max(ahead, slack - high), max(behind, slack + low)
        if edge is not None:
            narrowest = min(narrowest, (flat[0] - edge[1]) / (tooth - edge[0]))
        edge = tooth, flat[1]
    if worst <= ROUNDING_MM:
        return 0.0
    return None if worst > narrowest else worst * depth_mm / line.pitch_mm


def lean_in_gullet(front_mm: float, back_mm: float) -> Lean:
    """Which way to press the file: toward the heel when the front of the tooth behind gives more, else the toe."""
    both = front_mm + back_mm
    if both <= NOTHING_MM or abs(front_mm - back_mm) <= STRAIGHT_SHARE * both:
        return Lean.STRAIGHT
    return Lean.HEEL if front_mm > back_mm else Lean.TOE


def _takes(line: UnevenLine, points: Sequence[float | None]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    front, back = [], []
    for flat, x in zip(line.flats, points, strict=True):
        if flat is None or x is None:
            front.append(0.0)
            back.append(0.0)
        else:
            front.append(flat[1] - x)
            back.append(x - flat[0])
    return tuple(front), tuple(back)


def _halved(line: UnevenLine, takes: Sequence[float]) -> tuple[float, ...]:
    """``takes`` of one flank, half of a middle flat where nothing is known."""
    half = line.mean_flat_mm() / 2.0
    return tuple(half if tooth in line.unseen else take for tooth, take in enumerate(takes, 1))


def gullet_takes(front: Sequence[float], back: Sequence[float]) -> Iterator[tuple[float, float]]:
    """For gullets 1 … N what the front of the tooth behind and the back of the tooth ahead give."""
    yield from zip(front, (*back[1:], 0.0), strict=True)


def _volumes(
    line: UnevenLine, front: Sequence[float], back: Sequence[float], rises: Sequence[float], plate_mm: float
) -> tuple[list[float], float]:
    """Steel for each gullet, and for the back of tooth 1. Beside a tooth without a flat the mean gap is taken."""
    flat = line.mean_flat_mm()
    volumes = []
    for gullet, (f, g) in enumerate(gullet_takes(front, back), 1):
        gap = line.gap_mm(gullet)
        take = f + g if f + g > NOTHING_MM else 0.0
        gap = line.space_mm(gullet) - flat if gap is None else gap
        volumes.append(gullet_volume_mm3(take, max(0.0, gap), rises[gullet - 1], plate_mm))
    heel = back[0] if back[0] > NOTHING_MM else 0.0
    return volumes, gullet_volume_mm3(heel, max(0.0, line.space_mm(1) - flat), rises[0], plate_mm)


def _middles(line: UnevenLine) -> list[float | None]:
    return [None if flat is None else (flat[0] + flat[1]) / 2.0 for flat in line.flats]


def line_notes(line: UnevenLine) -> Iterator[str]:
    """What is odd about the line as it was read, one sentence each."""
    own = line.own_pitch_mm()
    if abs(own / line.pitch_mm - 1.0) > PITCH_DIFFERS:
        given = f"the pitch given is {decimals(line.pitch_mm, 3)} mm"
        yield f"The line's own spacing is {decimals(own, 3)} mm, {given}; was a tooth missed?"
    if line.low:
        yield f"Low, left until the line comes down to them: {_listed(line.low)}."
    if line.unseen:
        yield f"Not seen: grade their flats by eye, and hold the file straight beside them: {_listed(line.unseen)}."
    if line.broken:
        yield f"Broken, not to be filed; their neighbors keep their own size: {_listed(line.broken)}."


def _listed(teeth: Sequence[int]) -> str:
    return ", ".join(str(tooth) for tooth in teeth[:12]) + (f" and {len(teeth) - 12} more" if len(teeth) > 12 else "")
