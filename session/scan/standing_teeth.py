"""The teeth that were seen to stand in a picture, what is usual beside them, and where by that others have a place."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from statistics import median
from typing import Final

import numpy as np

from session.scan.light_levels import Floats
from session.scan.line_reading import ReadPicture
from session.scan.read_tooth import ReadTooth
from session.trade.rounding import whole_number
from session.value_class import dataclass, replace

#: No file takes a single tooth so far under its neighbors, mm and as a share of its depth, the larger of the two: it
#: broke (our own guess).
NEVER_FILED_MM: Final = 0.4
NEVER_FILED: Final = 0.2

#: A gap may be off a whole number of spaces by this share of one: hands file unevenly, but not so (our own limit).
MOST_OFF: Final = 0.35

#: A tooth is as wide above its gullets as this share of a space, even a stump or the last one; a grain is not.
LEAST_BASE: Final = 0.35

#: A gullet whose depth differs from the others' by a larger share is the plate's end, or something that lies there.
SAME_DEPTH: Final = 0.35

#: So many gaps on either side tell the spacing of one.
AROUND: Final = 4


@dataclass(frozen=True, slots=True)
class UsualGullets:
    """What is usual in a picture, mm: depth of a gullet, and how far a point lies from the gullets beside it."""

    depth: float
    before: float
    after: float


def standing_teeth(picture: ReadPicture) -> list[ReadTooth]:
    """The teeth that were seen to rise to the line, flanks or no flanks; of two in one place the better one."""
    tops = sorted((one for one in picture.teeth if one.fit in ("top", "none", "torn")), key=lambda one: one.u)
    if not tops:
        return []
    deep = max(NEVER_FILED_MM, NEVER_FILED * picture.depth)
    wide = LEAST_BASE * median(one.base for one in tops)
    kept: list[ReadTooth] = []
    for at, one in enumerate(tops):
        around = median(other.v for other in tops[max(0, at - AROUND) : at + AROUND + 1])
        shaped = one.fit == "top" or (one.base > wide and one.v < around + deep)
        if shaped and one.v > around - deep:
            kept.append(one)
    kept = [one for at, one in enumerate(kept) if not one.dull or one.fit == "top" or _in_step(kept, at)]
    at = 0
    while at + 1 < len(kept):
        gaps = [other.u - one.u for one, other in pairwise(kept[max(0, at - AROUND) : at + AROUND + 2])]
        if gaps[min(at, AROUND)] < 0.5 * median(gaps):
            del kept[at if _rank(kept[at]) < _rank(kept[at + 1]) else at + 1]
        else:
            at += 1
    return kept


def _in_step(kept: Sequence[ReadTooth], at: int) -> bool:
    """Whether a tooth stands a whole number of spaces from those beside it: what rust makes seem one may not, nor
    one that stands alone."""
    if len(kept) < 2:
        return False
    space = median(other.u - one.u for one, other in pairwise(kept[max(0, at - AROUND) : at + AROUND + 1]))
    beside = [abs(kept[near].u - kept[at].u) / space for near in (at - 1, at + 1) if 0 <= near < len(kept)]
    return all(abs(off - max(1, whole_number(off))) <= MOST_OFF for off in beside)


def _rank(one: ReadTooth) -> tuple[bool, float]:
    return one.fit == "top", one.v


def usual_gullets(standing: Sequence[ReadTooth]) -> UsualGullets:
    before = [(one.u - one.before[0], one.v - one.before[1]) for one in standing if one.before is not None]
    after = [(one.gullet[0] - one.u, one.v - one.gullet[1]) for one in standing if one.gullet is not None]
    nan = math.nan
    return UsualGullets(
        depth=median(deep for _, deep in [*before, *after]) if before or after else nan,
        before=median(run for run, _ in before) if before else nan,
        after=median(run for run, _ in after) if after else nan,
    )


def put_by_gullets(one: ReadTooth, standing: Sequence[ReadTooth], usual: UsualGullets) -> ReadTooth:
    """A tooth whose point was not seen, put where the gullets beside it say."""
    told = []
    if one.before is not None and is_gullet(one.before, standing, usual):
        told.append(one.before[0] + usual.before)
    if one.gullet is not None and is_gullet(one.gullet, standing, usual):
        told.append(one.gullet[0] - usual.after)
    return replace(one, u=sum(told) / len(told)) if told else one


def from_inner(one: ReadTooth, space: float, standing: Sequence[ReadTooth], usual: UsualGullets) -> float:
    """Where the gullet toward the line puts a tooth beyond its last one: on its other side the plate's end may be as
    deep as a gullet."""
    if one.fit not in ("none", "torn", "covered", "hidden"):
        return one.u
    inner = one.before if space > 0.0 else one.gullet
    if inner is None or not is_gullet(inner, standing, usual):
        return one.u
    return inner[0] + usual.before if space > 0.0 else inner[0] - usual.after


def is_gullet(gullet: tuple[float, float], standing: Sequence[ReadTooth], usual: UsualGullets) -> bool:
    """Whether a gullet is as deep under the points around it as gullets are."""
    return abs(gullet_level(gullet[0], standing, usual) - gullet[1]) < SAME_DEPTH * usual.depth


def gullet_level(u: float, standing: Sequence[ReadTooth], usual: UsualGullets) -> float:
    """How high gullets are at a place, by the points around it, mm."""
    near = sorted(standing, key=lambda one: abs(one.u - u))[:3]
    return median(one.v for one in near) - usual.depth


def has_gullets(one: ReadTooth, standing: Sequence[ReadTooth], usual: UsualGullets) -> bool:
    """Whether there is a gullet beside a tooth, and none beside it that is none."""
    beside = [gullet for gullet in (one.before, one.gullet) if gullet is not None]
    return bool(beside) and all(is_gullet(gullet, standing, usual) for gullet in beside)


def spaces_between(standing: Sequence[ReadTooth]) -> list[float]:
    """The spacing at each gap between teeth that stand, by the gaps around it; it may change along the line."""
    u: Floats = np.array([one.u for one in standing])
    gaps, middles = np.diff(u), (u[1:] + u[:-1]) / 2.0
    found = []
    for at in range(len(gaps)):
        near = slice(max(0, at - AROUND), at + AROUND + 1)
        single = gaps[near] / np.maximum(1.0, np.round(gaps[near] / float(np.median(gaps[near]))))
        usual, slope, where = float(np.median(single)), 0.0, middles[near]
        if len(single) > 3:
            one, other = np.triu_indices(len(single), max(1, len(single) // 3))
            slope = float(np.median((single[other] - single[one]) / (where[other] - where[one])))
        level = float(np.median(single - slope * where))
        found.append(min(max(level + slope * float(middles[at]), 0.5 * usual), 2.0 * usual))
    return found
