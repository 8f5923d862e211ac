"""From the teeth of a picture to a line: where the heel is, which teeth there are, how high each stands, its state."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from statistics import median
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.laid_line import laid_line
from session.scan.laid_pictures import Joint, doubt_of_joints
from session.scan.light_levels import Floats
from session.scan.read_tooth import ReadTooth
from session.scan.standing_teeth import NEVER_FILED, NEVER_FILED_MM
from session.trade.scanned_line import (
    BROKEN_OR_LOW,
    COVERED,
    FEWEST_TEETH,
    IN_DOUBT,
    NO_EDGE,
    OFF_LINE_MM,
    TORN,
    ScannedLine,
    ScannedTooth,
    ToothState,
    is_measured,
    line_of_teeth,
)
from session.value_class import replace

#: Leans that differ by less than this do not tell which flank is the front, degrees.
ALIKE_DEG: Final = 5.0

#: A state is told that holds for so many standard uncertainties of the tooth's height either way.
SURE: Final = 2.0

#: Dots so fine, mm, tell a low or high tooth but for its own uncertainty; of coarser ones, what is so near to the limit
#: that it may be either, as a share of what a dot has more (found on rendered scans).
FINE_MM: Final = 25.4 / 1100
DOUBT: Final = 0.7

#: Of so few teeth whose state is told nothing is said of a line.
FEWEST_TOLD: Final = 2

#: A point that is lower by fewer dots than the first may have lost them to a grain as dark as the cloth; one on which
#: something lies, by fewer than the second (found on rendered scans).
TORN_DOTS: Final = 8.0
COVERED_DOTS: Final = 7.0

#: A break takes so much of the depth or more (our own limit).
LEAST_BREAK: Final = 0.12

#: A break ends a tooth under the meeting of its flanks by as much as it stands under the line, less this share for what
#: the tooth was worn and the flanks stray (our own limit).
LEFT_BY_A_BREAK: Final = 0.6


def heel_of(teeth: Sequence[ReadTooth]) -> str | None:
    """Where the heel lies, "left" or "right" in the order of u: fronts are the steeper flanks and face the toe."""
    apart = [one.left - one.right for one in teeth if one.left is not None and one.right is not None]
    if not apart or abs(median(apart)) < ALIKE_DEG:
        return None
    return "left" if median(apart) > 0 else "right"


def from_heel(teeth: Sequence[ReadTooth], heel: str) -> tuple[ReadTooth, ...]:
    """The teeth in order from the heel, u growing toward the toe, left their backs and right their fronts."""
    if heel == "left":
        return tuple(teeth)
    return tuple(
        replace(
            one,
            u=-one.u,
            a=None if one.b is None else -one.b,
            b=None if one.a is None else -one.a,
            left=one.right,
            right=one.left,
            before=None if one.gullet is None else (-one.gullet[0], one.gullet[1]),
            gullet=None if one.before is None else (-one.before[0], one.before[1]),
            se_left=one.se_right,
            se_right=one.se_left,
        )
        for one in reversed(teeth)
    )


def measured_line(
    teeth: Sequence[ReadTooth],
    depth: float,
    se_scale: float,
    se_bow: float,
    dot: float,
    joints: Sequence[Joint] = (),
) -> ScannedLine:
    """The line that these teeth, from the heel, make. Raises Refusal where too few tops were seen.

    se_scale: relative standard uncertainty of lengths. se_bow: of what the scanner itself bends a straight line, mm.
    dot: mm; a tooth so near to where it becomes a low or high one that the dots do not tell which was not seen.
    joints: of the pictures that it was put together from.
    """
    good = [one for one in teeth if one.fit == "top"]
    if len(good) < FEWEST_TEETH:
        raise Refusal(
            f"only {len(good)} points are to be seen clearly; allowed: {FEWEST_TEETH} or more; wipe glass and teeth"
        )
    u: Floats = np.array([one.u for one in good])
    v: Floats = np.array([one.v for one in good])
    laid = laid_line(u, v, max(NEVER_FILED_MM, NEVER_FILED * depth))
    measured = math.hypot(*(laid.pulls * np.array([one.se for one in good])))
    joined = doubt_of_joints(joints, laid, u)
    se_gap = math.hypot(se_bow, measured, math.sqrt(float(laid.spread[2, 2])), joined.se_gap)
    first = teeth[0].u
    turn = math.atan(laid.tilt / laid.half)
    cos = math.cos(turn)
    lean = math.degrees(turn)
    middle, half = laid.middle, laid.half

    def under(at: float, height: float) -> float:
        return (laid.height_at(at) - height) * cos

    def along(at: float) -> float:
        return (at - first) / cos

    def bent(at: float, flank: float) -> float:
        """By how much the scanner's own bow may turn a flank, degrees: a shear across the line, upright ones least."""
        return math.degrees(2.0 * se_bow / half * abs(at - middle) / half) * math.sin(math.radians(flank)) ** 2

    line_may = (float(np.mean([one.higher for one in good])), float(np.mean([one.lower for one in good])))
    usual_drop = median(one.drop for one in good)
    done = []
    for number, one in enumerate(teeth, 1):
        gullet = one.gullet
        height = None if math.isnan(one.v) else under(one.u, one.v)
        se_line = math.hypot(laid.se_at(one.u), joined.se_at(one.u))
        se = math.hypot(one.se, se_line)
        # Whether a point is flat or sharp is weighed for its state by itself: how far it may stand higher or lower.
        sure = math.hypot(math.sqrt(max(0.0, one.se**2 - one.either**2)), se_line)
        state, why = _state(one, height, sure, depth, dot, line_may, usual_drop)
        if state is ToothState.BROKEN and one.dull:
            # What is as dark as the cloth may lie beside what is less so, and seem to be a break.
            state, why = ToothState.NOT_SEEN, COVERED
        tooth = ScannedTooth(
            tooth=number,
            place_mm=along(one.u),
            state=state,
            why=why,
            gullet_mm=None if gullet is None else along(gullet[0]),
            depth_mm=None if gullet is None else under(*gullet),
        )
        if state is ToothState.BROKEN:
            tooth = replace(tooth, height_mm=height, se_mm=_known(se))
        elif one.fit == "top":
            # Where the state alone is in doubt the figures are not.
            assert one.a is not None
            assert one.b is not None
            assert one.left is not None
            assert one.right is not None
            tooth = replace(
                tooth,
                a_mm=along(one.a),
                b_mm=along(one.b),
                height_mm=height,
                front_deg=one.right - lean,
                back_deg=one.left + lean,
                se_mm=se,
                se_place_mm=one.se_place,
                se_flat_mm=one.se_flat,
                se_front_deg=math.hypot(one.se_right, bent(one.u, one.right)),
                se_back_deg=math.hypot(one.se_left, bent(one.u, one.left)),
            )
        done.append(tooth)
    done = _own_gullets(done)
    if sum(is_measured(tooth.state) for tooth in done) < FEWEST_TOLD:
        if dot <= FINE_MM:
            raise Refusal(
                "so few points do not tell how the line runs, nor which of them are low or high; scan more of it, or "
                "look by eye"
            )
        raise Refusal(
            "so coarse a picture does not tell how the points stand: sharp ones and narrow flats look alike in it; "
            "scan with 1200 dots per inch"
        )
    return line_of_teeth(done, -laid.bow, se_gap, se_scale)


def _own_gullets(teeth: Sequence[ScannedTooth]) -> list[ScannedTooth]:
    """``teeth``, each with the gullet that lies between it and the next one, of the last within a space. A lowest place
    farther off is where the plate ends, or something that lies on the next tooth."""
    rooms = [other.place_mm - one.place_mm for one, other in pairwise(teeth)]
    return [
        tooth
        if tooth.gullet_mm is None or 0.0 < tooth.gullet_mm - tooth.place_mm < room
        else replace(tooth, gullet_mm=None, depth_mm=None)
        for tooth, room in zip(teeth, [*rooms, *rooms[-1:]], strict=True)
    ]


def _known(value: float) -> float | None:
    return None if math.isnan(value) else value


def _state(
    one: ReadTooth,
    height: float | None,
    se: float,
    depth: float,
    dot: float,
    line_may: tuple[float, float],
    usual_drop: float,
) -> tuple[ToothState, str]:
    """What a tooth is, and why where that was not seen. se: of its height as it was told, with the line's own; the line
    through the points may stand higher and lower by so many mm of ``line_may``."""
    if one.fit == "none" and height is None:
        return ToothState.NOT_SEEN, NO_EDGE
    assert height is not None
    if one.fit == "hidden":
        return ToothState.NOT_SEEN, COVERED
    never, broken = max(NEVER_FILED_MM, NEVER_FILED * depth), (ToothState.BROKEN, "")
    if one.fit in ("broken", "none", "torn"):
        return (
            broken if height > max(OFF_LINE_MM, LEAST_BREAK * depth, TORN_DOTS * dot) else (ToothState.NOT_SEEN, TORN)
        )
    if one.fit == "covered":
        # What lies on a tooth may hide it; it does not take it down.
        return broken if height > max(never, COVERED_DOTS * dot) else (ToothState.NOT_SEEN, COVERED)
    doubt = max(DOUBT * max(0.0, dot - FINE_MM), SURE * se)
    lower, higher = math.hypot(max(one.lower, doubt), line_may[0]), math.hypot(max(one.higher, doubt), line_may[1])
    if height - higher > max(never, TORN_DOTS * dot):
        return broken
    if height + lower > never or (height > OFF_LINE_MM and _as_broken(one, height, depth, dot, usual_drop)):
        return ToothState.NOT_SEEN, BROKEN_OR_LOW
    lowest, highest = _side(height + lower), _side(height - higher)
    return (lowest, "") if lowest is highest else (ToothState.NOT_SEEN, IN_DOUBT)


def _as_broken(one: ReadTooth, height: float, depth: float, dot: float, usual_drop: float) -> bool:
    """Whether a tooth so far under the line may as well have broken, or have a grain on it: its flat is as wide as what
    is left where the point goes and the flanks stay. A file takes the flanks down too. A break may be straight as well;
    a grain leaves no edge that is.

    usual_drop: how far under the meeting of their flanks the teeth of the line end, mm.
    """
    if one.higher > 0.0 or one.drop - usual_drop < LEFT_BY_A_BREAK * height:
        return False
    return height > LEAST_BREAK * depth or (one.drop < TORN_DOTS * dot and not one.straight)


def _side(height: float) -> ToothState:
    """What a tooth is that stands for certain so far under the line, mm."""
    if abs(height) <= OFF_LINE_MM:
        return ToothState.WHOLE
    return ToothState.LOW if height > 0.0 else ToothState.HIGH
