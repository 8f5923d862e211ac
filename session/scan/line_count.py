"""Which teeth there are: counted between points that stand, and told only where gaps and ends of the line bear it out.

Spacing tells how many teeth stand between two points that were seen, whatever became of those between. A tooth without
a point has its place from the gullets beside it, for a hair or a grain of dust may reach anywhere. Beyond the last
point that was seen a tooth has to stand where the spacing has one, between gullets as deep as all others; what else
stands there is a grain, a hair, or cannot be told.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from statistics import median
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.end_stumps import stump_beyond
from session.scan.light_levels import Floats
from session.scan.line_reading import ReadPicture
from session.scan.read_tooth import ReadTooth
from session.trade.rounding import whole_number
from session.trade.scanned_line import FEWEST_TEETH
from session.value_class import dataclass, replace

#: No file takes a single tooth so far under its neighbors, mm and as a share of its depth, the larger of the two: it
#: broke (our own guess).
NEVER_FILED_MM: Final = 0.4
NEVER_FILED: Final = 0.2

#: A gap may be off a whole number of spaces by this share of one: hands file unevenly, but not so (our own limit).
MOST_OFF: Final = 0.35

#: A gap of less than so many spaces is one, however uneven, where its gullet is narrower than the second share of a
#: space up to the third of the depth over its bottom: a stump is as wide as a tooth (our own limits).
MOST_UNEVEN: Final = 1.75
NARROW: Final = 0.5
BOTTOM: Final = 0.3

#: A tooth is as wide above its gullets as this share of a space, even a stump or the last one; a grain is not.
LEAST_BASE: Final = 0.35

#: A gap holds the narrowest one nearby a whole number of times to this part of it (our own limit).
WHOLE: Final = 0.2

#: No two teeth stand so near, as a share of the spacing around them (our own limit).
NEAREST_TEETH: Final = 0.4

#: A gullet whose depth differs from the others' by a larger share is the plate's end, or something that lies there.
SAME_DEPTH: Final = 0.35

#: So many gaps on either side tell the spacing of one.
AROUND: Final = 4


@dataclass(frozen=True, slots=True)
class _Usual:
    """What is usual in a picture, mm: depth of a gullet, and how far a point lies from the gullets beside it."""

    depth: float
    before: float
    after: float


def counted(picture: ReadPicture) -> tuple[ReadTooth, ...]:
    """The teeth of a picture in order, with those put in of which no point was seen, and without what is none.

    Raises Refusal where too few teeth are seen, or a gap or an end does not tell how many there are.
    """
    standing = _standing(picture)
    if len(standing) < FEWEST_TEETH:
        raise Refusal(
            f"only {len(standing)} points are to be seen clearly; allowed: {FEWEST_TEETH} or more; "
            "show more of the line, and wipe glass and teeth"
        )
    usual = _usual(standing)
    standing = [one for one in standing if one.fit == "top" or _gullets_alike(one, standing, usual)]
    others = [_put(one, standing, usual) for one in picture.teeth if not any(one is other for other in standing)]
    spaces = _spaces(standing)
    kept = [standing[0]]
    gaps = [other.u - one.u for one, other in pairwise(standing)]
    for at, ((one, other), space) in enumerate(zip(pairwise(standing), spaces, strict=True)):
        between = [
            _unless_deep(tooth, space, standing, usual, picture.skyline)
            for tooth in _between(one, other, space, others, picture, usual)
        ]
        _refuse_more(one, other, between, space, others, standing, usual)
        _refuse_doubled(one, other, len(between) + 1, gaps[max(0, at - AROUND) : at + AROUND + 1])
        kept += [*between, other]
    left = _beyond(standing[0], -spaces[0], others, standing, usual, picture.ends[0])
    right = _beyond(standing[-1], spaces[-1], others, standing, usual, picture.ends[1])
    line = (*reversed(left), *kept, *right)
    for outer, run, space in ((line[0], -usual.before, -spaces[0]), (line[-1], usual.after, spaces[-1])):
        if stump_beyond(picture.skyline, outer.u + run, space, usual.depth):
            raise Refusal(_one_more(outer))
    return line


def _standing(picture: ReadPicture) -> list[ReadTooth]:
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
    """Whether a tooth stands a whole number of spaces from those beside it: what rust makes seem one may not."""
    space = median(other.u - one.u for one, other in pairwise(kept[max(0, at - AROUND) : at + AROUND + 1]))
    beside = [abs(kept[near].u - kept[at].u) / space for near in (at - 1, at + 1) if 0 <= near < len(kept)]
    return all(abs(off - max(1, whole_number(off))) <= MOST_OFF for off in beside)


def _rank(one: ReadTooth) -> tuple[bool, float]:
    return one.fit == "top", one.v


def _usual(standing: Sequence[ReadTooth]) -> _Usual:
    before = [(one.u - one.before[0], one.v - one.before[1]) for one in standing if one.before is not None]
    after = [(one.gullet[0] - one.u, one.v - one.gullet[1]) for one in standing if one.gullet is not None]
    nan = math.nan
    return _Usual(
        depth=median(deep for _, deep in [*before, *after]) if before or after else nan,
        before=median(run for run, _ in before) if before else nan,
        after=median(run for run, _ in after) if after else nan,
    )


def _put(one: ReadTooth, standing: Sequence[ReadTooth], usual: _Usual) -> ReadTooth:
    """A tooth whose point was not seen, put where the gullets beside it say."""
    told = []
    if one.before is not None and _alike(one.before, standing, usual):
        told.append(one.before[0] + usual.before)
    if one.gullet is not None and _alike(one.gullet, standing, usual):
        told.append(one.gullet[0] - usual.after)
    return replace(one, u=sum(told) / len(told)) if told else one


def _alike(gullet: tuple[float, float], standing: Sequence[ReadTooth], usual: _Usual) -> bool:
    """Whether a gullet is as deep under the points around it as gullets are."""
    near = sorted(standing, key=lambda one: abs(one.u - gullet[0]))[:3]
    return abs(median(one.v for one in near) - gullet[1] - usual.depth) < SAME_DEPTH * usual.depth


def _gullets_alike(one: ReadTooth, standing: Sequence[ReadTooth], usual: _Usual) -> bool:
    """Whether there is a gullet beside a tooth, and none beside it that is none."""
    beside = [gullet for gullet in (one.before, one.gullet) if gullet is not None]
    return bool(beside) and all(_alike(gullet, standing, usual) for gullet in beside)


def _spaces(standing: Sequence[ReadTooth]) -> list[float]:
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


def _between(
    one: ReadTooth, other: ReadTooth, space: float, others: Sequence[ReadTooth], picture: ReadPicture, usual: _Usual
) -> list[ReadTooth]:
    """The teeth between two that stand next to each other, of whose points none was seen near the line."""
    gap = other.u - one.u
    count = max(1, whole_number(gap / space))
    if abs(gap / space - count) > MOST_OFF:
        if gap < MOST_UNEVEN * space and _one_gullet(one, other, space, usual, picture.skyline):
            return []
        raise Refusal(_untold(one, other))
    step = gap / count
    found = []
    for k in range(1, count):
        u = one.u + k * step
        here = [candidate for candidate in others if abs(candidate.u - u) <= step / 2.0]
        found.append(replace(_best(here), u=u) if here else _stump(u, step, one, picture.skyline))
    return found


def _one_gullet(one: ReadTooth, other: ReadTooth, space: float, usual: _Usual, skyline: tuple[Floats, Floats]) -> bool:
    """Whether the edge goes from one point to the next by a single gullet, too narrow at its bottom for a stump."""
    between = (skyline[0] > one.u) & (skyline[0] < other.u)
    if one.fit != "top" or other.fit != "top" or not between.any():
        return False
    places, heights = skyline[0][between], skyline[1][between]
    low = places[heights < float(heights.min()) + BOTTOM * usual.depth]
    return float(np.ptp(low)) < NARROW * space


def _unless_deep(
    one: ReadTooth, space: float, standing: Sequence[ReadTooth], usual: _Usual, skyline: tuple[Floats, Floats]
) -> ReadTooth:
    """``one`` told hidden where the edge at its place runs deep under the gullets: no break goes into the plate, and
    what was followed there is the border of something as dark as the cloth."""
    near = sorted(standing, key=lambda other: abs(other.u - one.u))[:3]
    gullet = median(other.v for other in near) - usual.depth
    inside = np.abs(skyline[0] - one.u) < space / 2.0
    if not inside.any() or float(np.min(skyline[1][inside])) > gullet - SAME_DEPTH * usual.depth:
        return one
    return replace(one, fit="hidden" if not math.isnan(one.v) else "none")


def _refuse_more(
    one: ReadTooth,
    other: ReadTooth,
    between: Sequence[ReadTooth],
    space: float,
    others: Sequence[ReadTooth],
    standing: Sequence[ReadTooth],
    usual: _Usual,
) -> None:
    """Raise Refusal where more teeth rise between two that stand, each between gullets of its own, than their distance
    says: one of both is wrong, and a wrong count is worse than none."""
    last, rise = one.u, 0
    for here in sorted(others, key=lambda found: found.u):
        # A grain on a flank is narrower than a tooth, and the peaks of a stump are nearer to each other than teeth.
        if here.u - last < NEAREST_TEETH * space or other.u - here.u < NEAREST_TEETH * space:
            continue
        # A hair that stands out of a gullet has no flanks.
        if here.fit == "none" or here.before is None or here.gullet is None or here.base < LEAST_BASE * space:
            continue
        if _gullets_alike(here, standing, usual):
            last, rise = here.u, rise + 1
    if rise > len(between):
        raise Refusal(_untold(one, other))


def _refuse_doubled(one: ReadTooth, other: ReadTooth, count: int, gaps: Sequence[float]) -> None:
    """Raise Refusal where the narrowest of ``gaps`` goes into this one another whole number of times than ``count``:
    with most teeth unseen, the middle one of the gaps is of two spaces."""
    times = (other.u - one.u) / min(gaps)
    if abs(times - whole_number(times)) < WHOLE and whole_number(times) != count:
        raise Refusal(_untold(one, other))


def _untold(one: ReadTooth, other: ReadTooth) -> str:
    return (
        f"between two teeth near column {one.spot[0]:,}, row {one.spot[1]:,} and column {other.spot[0]:,}, "
        f"row {other.spot[1]:,} of the picture it cannot be told how many stand; wipe glass and saw, and scan again"
    )


def _one_more(one: ReadTooth) -> str:
    return (
        f"near column {one.spot[0]:,}, row {one.spot[1]:,} of the picture it cannot be told whether one more "
        "tooth stands; wipe glass and saw, and scan again"
    )


def _best(here: Sequence[ReadTooth]) -> ReadTooth:
    """Of several tops in one place the one that tells most: what lies on a tooth may hide it, and a stump has peaks."""
    tops = [one for one in here if one.fit == "top"]
    best = max(tops or here, key=lambda one: one.v)
    if len(here) == 1 or tops:
        return best
    return replace(best, fit="covered" if any(one.fit in ("covered", "hidden") for one in here) else "torn")


def _stump(u: float, step: float, beside: ReadTooth, skyline: tuple[Floats, Floats]) -> ReadTooth:
    """A tooth of which nothing rises: broken off as far as the edge was seen there."""
    places, heights = skyline
    inside = (places >= u - 0.35 * step) & (places <= u + 0.35 * step)
    height = float(np.max(heights[inside])) if inside.any() else math.nan
    nan, fit = math.nan, "broken" if inside.any() else "none"
    return ReadTooth(u, height, None, None, None, None, None, nan, nan, nan, nan, nan, fit, spot=beside.spot)


def _beyond(
    last: ReadTooth,
    space: float,
    others: Sequence[ReadTooth],
    standing: Sequence[ReadTooth],
    usual: _Usual,
    end: str,
) -> list[ReadTooth]:
    """The teeth beyond the last one that stands, outward; ``space`` is negative on the left."""
    found: list[ReadTooth] = []
    here = last.u
    for one in sorted((one for one in others if (one.u - last.u) / space > 0.0), key=lambda one: abs(one.u - last.u)):
        inner = one.before if space > 0.0 else one.gullet
        off = (one.u - here) / space
        if off < 0.5 or one.base < LEAST_BASE * abs(space):
            continue  # of the tooth before, or a grain or a hair
        if inner is None or not _alike(inner, standing, usual):
            continue  # beyond the plate's end
        if abs(off - 1.0) > MOST_OFF:
            if end == "rim":
                break
            raise Refusal(_one_more(one))
        here += space
        found.append(replace(one, u=here))
    if end == "open":
        raise Refusal(
            f"the line cannot be followed to its end beyond column {last.spot[0]:,}, row {last.spot[1]:,} of the "
            "picture; wipe glass and saw, and scan again"
        )
    return found
