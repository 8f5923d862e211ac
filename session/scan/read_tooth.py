"""One tooth of a picture read: where its flanks meet, where its top ends under that, and what that top is."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from session.scan.fine_contour import Band
from session.scan.flank_lines import Flank, meeting
from session.scan.flat_edges import flat_edge
from session.scan.outline_teeth import Rise, gullet_at
from session.scan.tooth_tops import Top, read_top, steel_beyond
from session.value_class import dataclass

#: By so many dots blur takes the point of a sharp tooth down, where its flanks do not tell it.
ROUNDED_DOTS: Final = 1.4

#: An edge that ends by more dots under the top told is torn; blur takes up to two off the sharpest point.
EDGE_DOTS: Final = 2.5

#: A flat that explains the dots better than a sharp point by so much of chi squared is one in half of the cases, and
#: for each so much more in e times as many (found on rendered scans).
AS_LIKELY: Final = 15.0
TIMES_AS_LIKELY: Final = 6.0

#: What is never told better than, parts of a dot, since light, tone and shadow are never quite known:
#: height of a top; a place where the point is sharp, and where it is flat; a flat by the run of its flanks, and one too
#: narrow to be told from a sharp point; and degrees of a flank. Found on rendered scans.
LEAST_HEIGHT: Final = 0.02
LEAST_PLACE: Final = (0.006, 0.02)
LEAST_FLAT: Final = 0.15
UNTOLD_FLAT: Final = 0.9
LEAST_DEG: Final = 0.015


@dataclass(frozen=True, slots=True)
class ReadTooth:
    """A tooth as one picture shows it. Lengths in mm, angles in degrees, in the picture's own frame: u along, v out.

    a, b: ends of the flat, a before b along u. v: height of the top. se: of that height. left, right: leans of the two
    flanks from square, positive where they lean as a tooth's do. before, gullet: place and height of the gullets before
    and after it, None at the ends. edge: height to which the edge itself was followed. base: how wide the tooth is a
    little over the higher of its gullets. spot: column and row of its top in the picture. drop: by how much it seems to
    end under the meeting of its flanks, told so or not. higher, lower: by how much it may stand otherwise than told.
    either: what of se is there because it may be flat or sharp. straight: whether its flat was seen to be a straight
    level edge. dull: whether rust or dirt lies by its edge, which was followed by their light there. fit: what the top
    was found to be: "top", "covered", "hidden", "broken", "torn" or "none".
    """

    u: float
    v: float
    a: float | None
    b: float | None
    left: float | None
    right: float | None
    gullet: tuple[float, float] | None
    se: float
    se_place: float
    se_flat: float
    se_left: float
    se_right: float
    fit: str
    edge: float = math.nan
    before: tuple[float, float] | None = None
    base: float = math.nan
    spot: tuple[int, int] = (0, 0)
    drop: float = 0.0
    higher: float = 0.0
    lower: float = 0.0
    straight: bool = False
    either: float = 0.0
    dull: bool = False


def tooth_of(
    band: Band,
    rise: Rise,
    left: Flank | None,
    right: Flank | None,
    blur: float,
    noise: float,
    depth: float,
    dot: float,
    apart: float,
) -> ReadTooth:
    gullet = gullet_at(rise, rise.right) if rise.right < len(rise.chain) - 3 else None
    # Blur rounds a point off: without flanks to tell it by, it stands higher than it shows.
    missing = ReadTooth(
        rise.u,
        rise.v + ROUNDED_DOTS * dot,
        None,
        None,
        None,
        None,
        gullet,
        math.nan,
        math.nan,
        math.nan,
        math.nan,
        math.nan,
        "none",
    )
    if left is None or right is None:
        return missing
    leans = _lean(math.pi / 2.0 - left.turn), _lean(math.pi / 2.0 + right.turn)
    se_leans = math.degrees(left.se_turn), math.degrees(right.se_turn)
    peak = meeting(left, right)
    if peak is None:
        return missing
    run_left, run_right = math.tan(math.radians(leans[0])), math.tan(math.radians(leans[1]))
    run = run_left + run_right
    if not 0.2 < run < 8.0:
        return missing
    # Uncertainty of the meeting, from that of each flank there.
    across_left = left.se_at(*peak) / max(0.05, abs(math.sin(left.turn)))
    across_right = right.se_at(*peak) / max(0.05, abs(math.sin(right.turn)))
    se_peak = math.hypot(across_left, across_right) / run
    se_peak_u = math.hypot(across_left * run_right, across_right * run_left) / run
    seen = peak[1] - rise.v
    flat_seen = flat_edge(rise, left, right, peak, blur, dot, apart)
    if flat_seen is not None:
        drop = peak[1] - flat_seen.v
        top: Top | None = Top(drop, flat_seen.se, 1.0, drop)
    else:
        top = read_top(
            band, left, right, peak, max(0.0, seen), _crest(rise, peak, run_left, run_right, dot), blur, noise
        )
    fit = "top"
    if top is None:
        top = Top(max(0.0, seen), dot, 99.0, 0.0)
        fit = "covered"
    elif flat_seen is not None:
        # Steel goes on beyond a hair that lies across a tooth, and its lower edge looks like a flat.
        if steel_beyond(band, left, right, flat_seen.v + EDGE_DOTS * dot):
            fit = "hidden"
        elif flat_seen.ragged:
            fit = "torn"
    elif seen < 0.0:
        # Blur takes points down: what was taken for flanks meets under the edge itself, and something lies on them.
        fit = "covered"
        top = Top(seen, dot, top.misfit, 0.0)
    elif seen - top.drop > EDGE_DOTS * dot + blur:
        # The edge ends far under what the dots between the flanks would make a point of: no top at all, but for steel
        # that goes on beyond: a hair lies over it.
        fit = "hidden" if steel_beyond(band, left, right, rise.v + EDGE_DOTS * dot) else "torn"
        top = Top(seen, dot, top.misfit, 0.0)
    v = peak[1] - top.drop
    either = _flat_or_sharp(top)
    a, b = peak[0] - top.drop * run_left, peak[0] + top.drop * run_right
    flat, lean = top.drop > 0.0, 0.5 * abs(run_right - run_left)
    if flat_seen is not None:
        # Height by the flat's own edge; ends where the flanks come to that height.
        ends = left.se_at(a, v) / abs(math.sin(left.turn)), right.se_at(b, v) / abs(math.sin(right.turn))
        se, se_place, se_ends = top.se, math.hypot(*ends) / 2.0, math.hypot(*ends)
    else:
        se = math.hypot(se_peak if top.drop < 3 * blur else 0.3 * se_peak, top.se if flat else 0.0)
        se_place, se_ends = se_peak_u, 0.0
    return ReadTooth(
        u=(a + b) / 2.0,
        v=v,
        a=a,
        b=b,
        left=leans[0],
        right=leans[1],
        gullet=gullet,
        se=math.hypot(se, either, LEAST_HEIGHT * dot),
        se_place=math.hypot(se_place, lean * math.hypot(either, top.se if flat else 0.0), LEAST_PLACE[flat] * dot),
        se_flat=math.hypot(se_ends, run * (math.hypot(top.se, LEAST_FLAT * dot) if flat else UNTOLD_FLAT * dot)),
        se_left=math.hypot(se_leans[0], LEAST_DEG),
        se_right=math.hypot(se_leans[1], LEAST_DEG),
        fit=fit,
        edge=rise.v,
        drop=top.seems,
        either=either,
        straight=flat_seen is not None and not flat_seen.ragged,
    )


def _flat_or_sharp(top: Top) -> float:
    """What is in doubt of a top's height where it may be flat or sharp, mm: it is flat as likely as it is sharp where
    that explains the dots better by `AS_LIKELY`, and by so many more a few times as likely."""
    flat = 1.0 / (1.0 + math.exp(max(-50.0, min(50.0, (AS_LIKELY - top.gain) / TIMES_AS_LIKELY))))
    return top.seems * math.sqrt(flat * (1.0 - flat))


def _crest(
    rise: Rise, peak: tuple[float, float], run_left: float, run_right: float, dot: float
) -> tuple[float, float] | None:
    """Place and height of the edge over the middle of the top, mm; None where it does not run there."""
    seen = max(0.0, peak[1] - rise.v)
    middle = peak[0] + seen * (run_right - run_left) / 2.0
    part = rise.chain[rise.left : rise.right + 1]
    over = part[np.abs(part[:, 0] - middle) < max(0.75 * dot, 0.15 * seen * (run_left + run_right)), 1]
    return (middle, float(np.median(over))) if len(over) else None


def _lean(turn: float) -> float:
    """Degrees of a lean, between −180 and 180."""
    return math.degrees(math.remainder(turn, 2.0 * math.pi))
