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
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.edge_beyond import covers_more, never_down, runs_unfiled, stand_beyond
from session.scan.end_stumps import stump_beyond, uneven_beyond
from session.scan.light_levels import Floats
from session.scan.line_reading import ReadPicture
from session.scan.read_tooth import ReadTooth
from session.scan.standing_teeth import (
    AROUND,
    LEAST_BASE,
    MOST_OFF,
    SAME_DEPTH,
    UsualGullets,
    from_inner,
    gullet_level,
    has_gullets,
    is_gullet,
    put_by_gullets,
    spaces_between,
    standing_teeth,
    usual_gullets,
)
from session.trade.rounding import whole_number
from session.trade.scanned_line import FEWEST_TEETH
from session.value_class import dataclass, replace

#: A gap of less than so many spaces is one, however uneven, where its gullet is narrower than the second share of a
#: space up to the third of the depth over its bottom: a stump is as wide as a tooth (our own limits).
MOST_UNEVEN: Final = 1.48
NARROW: Final = 0.5
BOTTOM: Final = 0.3

#: A gap holds the narrowest one nearby a whole number of times to this part of it (our own limit).
WHOLE: Final = 0.2

#: What is wider than so many spaces covers more than one tooth (our own limit).
MOST_BASE: Final = 1.45

#: No two teeth stand so near, as a share of the spacing around them (our own limit).
NEAREST_TEETH: Final = 0.4


@dataclass(frozen=True, slots=True)
class Counted:
    """The teeth of a picture in order. other: how many there may be as well by the picture, whose ends leave one open;
    the recipe's count settled it. None where they leave none."""

    teeth: tuple[ReadTooth, ...]
    other: int | None = None


@dataclass(frozen=True, slots=True)
class _Outermost:
    """The outermost tooth of an end, with the way to its outer gullet, how high gullets are there, and the way to the
    next tooth, mm, both ways negative on the left."""

    tooth: ReadTooth
    run: float
    level: float
    space: float

    @property
    def gullet(self) -> float:
        """Place of its outer gullet, mm."""
        return self.tooth.u + self.run


class _UntoldGapError(Exception):
    """It cannot be told how many teeth stand between two."""


def counted(picture: ReadPicture, points: int | None = None, heel: str = "left") -> Counted:
    """The teeth of a picture in order, with those put in of which no point was seen, and without what is none.

    points: how many a person has counted, by the recipe, where the picture is to show all of them. heel: on which side
    of the picture it lies. Raises Refusal where too few teeth are seen, or a gap or an end does not tell how many there
    are and that count does not settle it.
    """
    standing = standing_teeth(picture)
    if len(standing) < FEWEST_TEETH:
        raise Refusal(
            f"only {len(standing)} points are to be seen clearly; allowed: {FEWEST_TEETH} or more; "
            "show more of the line, and wipe glass and teeth"
        )
    usual = usual_gullets(standing)
    standing = [one for one in standing if one.fit == "top" or has_gullets(one, standing, usual)]
    others = [
        put_by_gullets(one, standing, usual) for one in picture.teeth if not any(one is other for other in standing)
    ]
    spaces = spaces_between(standing)
    kept = [standing[0]]
    sides = ("heel", "toe") if heel == "left" else ("toe", "heel")
    gaps = [other.u - one.u for one, other in pairwise(standing)]
    for at, ((one, other), space) in enumerate(zip(pairwise(standing), spaces, strict=True)):
        try:
            between = [
                _unless_deep(tooth, space, standing, usual, picture.skyline)
                for tooth in _between(one, other, space, others, picture, usual)
            ]
            _refuse_more(one, other, between, space, others, standing, usual)
            _refuse_doubled(one, other, len(between) + 1, gaps[max(0, at - AROUND) : at + AROUND + 1])
        except _UntoldGapError:
            raise Refusal(_untold(one, other, len(kept), sides[0])) from None
        kept += [*between, other]
    left = _beyond(standing[0], -spaces[0], others, standing, usual, (picture, 0, sides[0]))
    right = _beyond(standing[-1], spaces[-1], others, standing, usual, (picture, 1, sides[1]))
    line = (*reversed(left), *kept, *right)
    outer = (
        _Outermost(line[0], -usual.before, gullet_level(line[0].u, standing, usual), -spaces[0]),
        _Outermost(line[-1], usual.after, gullet_level(line[-1].u, standing, usual), spaces[-1]),
    )
    return _with_ends(line, outer, usual, picture, points, sides)


def _with_ends(
    line: tuple[ReadTooth, ...],
    outer: tuple[_Outermost, _Outermost],
    usual: UsualGullets,
    picture: ReadPicture,
    points: int | None,
    sides: tuple[str, str],
) -> Counted:
    """``line`` where nothing beyond its ends may be a stump or a tooth under a hair, or the count ``points`` settles
    whether it is one. Raises Refusal."""
    dot, skyline = 1.0 / min(picture.per_mm), picture.skyline
    rises = [stand_beyond(skyline, one.gullet, one.space, one.level, usual.depth) for one in outer]
    for one, those, side in zip(outer, rises, sides, strict=True):
        covered = never_down(skyline, one.gullet, one.space, one.level, usual.depth)
        if covered or len(those) > 1 or any((u - one.tooth.u) / one.space > 1.0 + MOST_OFF for u in those):
            raise Refusal(_more_beyond(one.tooth, side))
    plain = [
        bool(those) or stump_beyond(skyline, one.gullet, one.space, usual.depth)
        for one, those in zip(outer, rises, strict=True)
    ]
    if sum(plain) == 1 and points == len(line):
        return Counted(line, len(line) + 1)
    if points == len(line) + 1:
        # That one tooth lacks is known: what would say little by itself says at which end.
        maybe = (
            plain
            if any(plain)
            else [
                picture.ends[side] != "open" and uneven_beyond(skyline, one.gullet, one.space, usual.depth, dot)
                for side, one in enumerate(outer)
            ]
        )
        if sum(maybe) == 1:
            at = maybe.index(True)
            last, space = outer[at].tooth, outer[at].space
            missed = _stump(last.u + space, abs(space), last, skyline)
            if rises[at] and missed.fit != "none":
                missed = replace(missed, fit="hidden")
            return Counted((missed, *line) if maybe[0] else (*line, missed), len(line))
    for one, doubted, side in zip(outer, plain, sides, strict=True):
        if doubted:
            raise Refusal(_one_more(one.tooth, side, len(line)))
    return Counted(line)


def _between(
    one: ReadTooth,
    other: ReadTooth,
    space: float,
    others: Sequence[ReadTooth],
    picture: ReadPicture,
    usual: UsualGullets,
) -> list[ReadTooth]:
    """The teeth between two that stand next to each other, of whose points none was seen near the line."""
    gap = other.u - one.u
    count = max(1, whole_number(gap / space))
    if abs(gap / space - count) > MOST_OFF:
        if gap < MOST_UNEVEN * space and _one_gullet(one, other, space, usual, picture.skyline):
            return []
        raise _UntoldGapError
    step = gap / count
    found = []
    for k in range(1, count):
        u = one.u + k * step
        here = [candidate for candidate in others if abs(candidate.u - u) <= step / 2.0]
        found.append(replace(_best(here), u=u) if here else _stump(u, step, one, picture.skyline))
    return found


def _one_gullet(
    one: ReadTooth, other: ReadTooth, space: float, usual: UsualGullets, skyline: tuple[Floats, Floats]
) -> bool:
    """Whether the edge goes from one point to the next by a single gullet, too narrow at its bottom for a stump."""
    between = (skyline[0] > one.u) & (skyline[0] < other.u)
    if one.fit != "top" or other.fit != "top" or not between.any():
        return False
    places, heights = skyline[0][between], skyline[1][between]
    low = places[heights < float(heights.min()) + BOTTOM * usual.depth]
    return float(np.ptp(low)) < NARROW * space


def _unless_deep(
    one: ReadTooth, space: float, standing: Sequence[ReadTooth], usual: UsualGullets, skyline: tuple[Floats, Floats]
) -> ReadTooth:
    """``one`` told hidden where the edge at its place runs deep under the gullets: no break goes into the plate, and
    what was followed there is the border of something as dark as the cloth."""
    gullet = gullet_level(one.u, standing, usual)
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
    usual: UsualGullets,
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
        if has_gullets(here, standing, usual):
            last, rise = here.u, rise + 1
    if rise > len(between):
        raise _UntoldGapError


def _refuse_doubled(one: ReadTooth, other: ReadTooth, count: int, gaps: Sequence[float]) -> None:
    """Raise Refusal where the narrowest of ``gaps`` goes into this one another whole number of times than ``count``:
    with most teeth unseen, the middle one of the gaps is of two spaces."""
    times = (other.u - one.u) / min(gaps)
    if abs(times - whole_number(times)) < WHOLE and whole_number(times) != count:
        raise _UntoldGapError


def _untold(one: ReadTooth, other: ReadTooth, number: int, side: str) -> str:
    return (
        f"between teeth {number} and {number + 1} from the {side}, near column {one.spot[0]:,}, row {one.spot[1]:,} "
        f"and column {other.spot[0]:,}, row {other.spot[1]:,} of the picture, it cannot be told how many stand; "
        "wipe glass and saw, and scan again"
    )


def _one_more(one: ReadTooth, side: str, seen: int | None = None) -> str:
    many = "" if seen is None else f": {seen} or {seen + 1}; count them, and say so in the recipe by points_counted, or"
    return (
        f"at the {side}, near column {one.spot[0]:,}, row {one.spot[1]:,} of the picture, it cannot be told whether "
        f"one more tooth stands{many or ';'} wipe glass and saw, and scan again"
    )


def _more_beyond(one: ReadTooth, side: str) -> str:
    return (
        f"at the {side}, near column {one.spot[0]:,}, row {one.spot[1]:,} of the picture, the edge goes on under "
        "something like a hair, and more teeth may stand; wipe glass and saw, and scan again"
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
    usual: UsualGullets,
    end: tuple[ReadPicture, int, str],
) -> list[ReadTooth]:
    """The teeth beyond the last one that stands, outward; ``space`` is negative on the left. end: the picture, which of
    its ends that is, and whether heel or toe."""
    picture, which, side = end
    found: list[ReadTooth] = []
    here = last.u
    inner, level = last.before if space > 0.0 else last.gullet, gullet_level(last.u, standing, usual)
    if inner is not None and covers_more(picture.skyline, inner[0], space, level, usual.depth):
        raise Refusal(_more_beyond(last, side))
    if abs(from_inner(last, space, standing, usual) - last.u) > MOST_OFF * abs(space):
        raise Refusal(_one_more(last, side))  # what stands out of it may be of no tooth
    for one in sorted((one for one in others if (one.u - last.u) / space > 0.0), key=lambda one: abs(one.u - last.u)):
        inner, outer = (one.before, one.gullet) if space > 0.0 else (one.gullet, one.before)
        off = (from_inner(one, space, standing, usual) - here) / space
        if off < 0.5 or one.base < LEAST_BASE * abs(space):
            continue  # of the tooth before, or a grain or a hair
        if inner is None or not is_gullet(inner, standing, usual):
            continue  # beyond the plate's end
        if runs_unfiled(picture.skyline, inner, space, usual.depth):
            continue  # a hair: under it goes an edge that no file touched
        if abs(off - 1.0) > MOST_OFF:
            if picture.ends[which] == "rim" and (off < 1.0 or outer is None):
                break
            raise Refusal(_one_more(one, side) if off < 1.0 + 2.0 * MOST_OFF else _more_beyond(one, side))
        if one.base > MOST_BASE * abs(space) and outer is not None and is_gullet(outer, standing, usual):
            raise Refusal(_more_beyond(one, side))
        here += space
        found.append(replace(one, u=here))
    if picture.ends[which] == "open":
        raise Refusal(
            f"at the {side} the line cannot be followed to its end beyond column {last.spot[0]:,}, "
            f"row {last.spot[1]:,} of the picture; wipe glass and saw, and scan again"
        )
    return found
