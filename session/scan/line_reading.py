"""One picture read: every tooth in it with its flanks, its top and its gullet, in a frame along its own line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.edge_ends import at_rim, edge_ends, spot
from session.scan.fine_contour import Band, edges_in, lay_band
from session.scan.flank_lines import Flank, fit_flank, meeting
from session.scan.light_levels import Floats, Gray
from session.scan.outline_teeth import Rise, base_width, gullet_at, rise_of, rises, unsplit, usual_depth
from session.scan.parted_edges import apart, refuse_cut_off
from session.scan.steel_side import told_upside_down
from session.scan.tooth_edge import ToothEdge, find_edge
from session.scan.tooth_tops import Top, read_top, steel_beyond
from session.trade.rounding import decimals
from session.value_class import dataclass, replace

#: The part of a flank that is read, from its top down, in shares of the usual depth: free of flat and of gullet.
FLANK_FROM: Final = 0.07
FLANK_TO: Final = 0.68

#: The fewest tops that tell how the line lies.
FEWEST_TOPS: Final = 4

#: So high over its gullets, as a share of the usual depth, a tooth's width tells it from a grain (our own choice).
BASE: Final = 0.15

#: The plate's ends and hairs belong to the edge, and make teeth seem deeper than they rise: at most by this share, and
#: by the dots that blur takes off points and gullets.
MOST_DEPTH: Final = 1.1
SHALLOWER_DOTS: Final = 3.0

#: Dots along an edge after which its places are independent of each other: point spread and scan lines together.
APART_DOTS: Final = 2.1

#: By so many dots blur takes the point of a sharp tooth down, where its flanks do not tell it.
ROUNDED_DOTS: Final = 1.4

#: An edge that ends by more dots under the top told is torn; blur takes up to two off the sharpest point.
TORN_DOTS: Final = 2.5

#: What is never told better than, parts of a dot, since light, tone and shadow are never quite known:
#: height of a top; a place where the point is sharp, and where it is flat; a flat by the run of its flanks, and one too
#: narrow to be told from a sharp point; and degrees of a flank. Found on rendered scans.
LEAST_HEIGHT: Final = 0.10
LEAST_PLACE: Final = (0.034, 0.065)
LEAST_FLAT: Final = 0.26
UNTOLD_FLAT: Final = 0.9
LEAST_DEG: Final = 0.015


@dataclass(frozen=True, slots=True)
class ReadTooth:
    """A tooth as one picture shows it. Lengths in mm, angles in degrees, in the picture's own frame: u along, v out.

    a, b: ends of the flat, a before b along u. v: height of the top. se: of that height. left, right: leans of the two
    flanks from square, positive where they lean as a tooth's do. before, gullet: place and height of the gullets before
    and after it, None at the ends. edge: height to which the edge itself was followed. base: how wide the tooth is a
    little over the higher of its gullets. spot: column and row of its top in the picture. drop: by
    how much it seems to end under the meeting of its flanks, told so or not. higher, lower: by how much it may stand
    otherwise than told. fit: what the top was found to be: "top", "covered", "hidden", "broken", "torn" or "none".
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


@dataclass(frozen=True, slots=True)
class ReadPicture:
    """All teeth of one picture in order of u, and how the picture was taken to lie.

    light_steel, sure: which side was taken for steel, and whether plate's ends or teeth told so. tilt: degrees of the
    line against the picture's rows. blur: sigma of the point spread, mm. depth: usual depth, mm. ends: how the edge
    ends on the left and on the right: at the picture's "rim", by going down where the "plate" ends, or "open".
    """

    teeth: tuple[ReadTooth, ...]
    light_steel: bool
    sure: bool
    tilt: float
    upright: bool
    blur: float
    noise: float
    depth: float
    per_mm: tuple[float, float]
    skyline: tuple[Floats, Floats]
    ends: tuple[str, str]


def read_picture(dots: Gray, per_mm: tuple[float, float], steel: str | None = None) -> ReadPicture:
    """Read a picture whose columns and rows lie ``per_mm`` to the millimeter. Raises Refusal.

    steel: "light" or "dark", where a person has told which side is steel.
    """
    edge = find_edge(dots, per_mm, steel)
    upright = abs(math.cos(edge.along)) < math.sqrt(0.5)
    if upright:
        dots, per_mm = np.ascontiguousarray(dots.T), (per_mm[1], per_mm[0])
        edge = replace(edge, x=edge.y, y=edge.x, along=math.pi / 2 - edge.along, out=-edge.out)
        if math.cos(edge.along) < 0:
            edge = replace(edge, along=edge.along + math.pi, out=-edge.out, ends=(-edge.ends[1], -edge.ends[0]))
    tilt = math.degrees(math.atan(math.tan(edge.along)))
    if abs(tilt) > 15.0:
        raise Refusal(
            f"the tooth line lies {decimals(abs(tilt), 0)}° off the picture's sides; allowed: 10°; "
            "lay the saw along the rim"
        )
    band, chains, depth = _edges(dots, per_mm, edge)
    if not edge.sure and (wrong := told_upside_down(chains, depth, 1.0 / min(per_mm))) is not None:
        edge = replace(edge, sure=True)
        if wrong:
            edge = edge.from_behind()
            band, chains, depth = _edges(dots, per_mm, edge)
    tops = [rise for chain in chains for rise in rises(chain, depth)]
    band, chains = _straightened(band, chains, tops)
    depth = usual_depth(chains)
    dot = 1.0 / min(per_mm)
    seen = rise_of([rise for chain in chains for rise in rises(chain, depth)], depth)
    depth = min(depth, MOST_DEPTH * seen + SHALLOWER_DOTS * dot)
    found = [rise for chain in chains for rise in rises(chain, depth)]
    found = unsplit(sorted(found, key=lambda rise: rise.u))
    pairs = [_flanks(rise, depth, dot) for rise in found]
    blur, noise = _blur(band, found, pairs, dot)
    teeth = []
    for rise, (left, right) in zip(found, pairs, strict=True):
        tooth = _read(band, rise, left, right, blur, noise, depth, dot)
        if tooth.fit != "none" or not _at_rim(band, rise, left, right):
            column, row = spot(band, rise.u, rise.v)
            before = gullet_at(rise, rise.left) if rise.left > 2 else None
            base = base_width(rise, BASE * depth)
            teeth.append(replace(tooth, before=before, base=base, spot=(row, column) if upright else (column, row)))
    every = np.concatenate(chains)
    return ReadPicture(
        tuple(teeth),
        edge.light_steel,
        edge.sure,
        tilt,
        upright,
        blur,
        noise,
        depth,
        per_mm,
        (every[:, 0], every[:, 1]),
        edge_ends(band, chains, found),
    )


def _edges(dots: Gray, per_mm: tuple[float, float], edge: ToothEdge) -> tuple[Band, list[Floats], float]:
    """The band along a rough line, the edges in it, and the teeth's usual depth, mm."""
    band = lay_band(dots, per_mm, edge)
    every = edges_in(band)
    chains = apart(every)
    if not chains:
        raise Refusal("no tooth's edge could be followed; scan again, sharper or with more contrast")
    depth = min(usual_depth(chains), edge.depth)
    refuse_cut_off(band, chains, every, depth)
    return band, chains, depth


def _straightened(band: Band, chains: Sequence[Floats], tops: Sequence[Rise]) -> tuple[Band, list[Floats]]:
    """The frame turned so that it runs along the tops: the rough line may be off by part of a degree."""
    if len(tops) < FEWEST_TOPS:
        return band, list(chains)
    u, v = np.array([rise.u for rise in tops]), np.array([rise.v for rise in tops])
    first, last = np.triu_indices(len(u), max(1, len(u) // 3))
    slope = float(np.median((v[last] - v[first]) / (u[last] - u[first])))
    turned = replace(band, edge=replace(band.edge, along=band.edge.along - band.edge.out * math.atan(slope)))
    moved = [np.column_stack(turned.saw_frame(*band.picture_place(one[:, 0], one[:, 1]))) for one in chains]
    return turned, moved


def _flanks(rise: Rise, depth: float, dot: float) -> tuple[Flank | None, Flank | None]:
    """The flank that rises to the top and the one that falls from it."""
    chain, top = rise.chain, rise.v
    fits: list[Flank | None] = []
    for begin, end in ((rise.left, rise.top), (rise.top, rise.right)):
        part = chain[begin : end + 1]
        drop = top - part[:, 1]
        clear = max(FLANK_FROM * depth, 2.5 * dot)
        part = part[(drop > clear) & (drop < FLANK_TO * depth)]
        flank = fit_flank(part, APART_DOTS * dot) if len(part) >= 8 else None
        if flank is not None and flank.length < min(6.0 * dot, 0.3 * depth):
            flank = None
        fits.append(flank)
    return fits[0], fits[1]


def _blur(
    band: Band, found: Sequence[Rise], pairs: Sequence[tuple[Flank | None, Flank | None]], dot: float
) -> tuple[float, float]:
    """Sigma of the point spread across the edges (mm), and of a dot's share of steel beside them."""
    spreads, noises = [], []
    reach = 5.0 * dot
    for left, right in pairs[:: max(1, len(pairs) // 40)]:
        for flank in (left, right):
            if flank is None or flank.kept < 0.8:
                continue
            half = 0.3 * flank.length
            du, dv = math.cos(flank.turn), math.sin(flank.turn)
            corners = np.array(
                [
                    (flank.u0 + s * du - w * dv, flank.v0 + s * dv + w * du)
                    for s in (-half, half)
                    for w in (-reach, reach)
                ]
            )
            columns, rows = band.picture_place(corners[:, 0], corners[:, 1])
            left_, right_ = max(0, math.floor(columns.min())), min(band.dots.shape[1], math.ceil(columns.max()) + 1)
            top, bottom = max(0, math.floor(rows.min())), min(band.dots.shape[0], math.ceil(rows.max()) + 1)
            if right_ - left_ < 3 or bottom - top < 3:
                continue
            share = band.levels.shares(band.dots[top:bottom, left_:right_], left_).astype(float)
            at_row, at_column = np.mgrid[top:bottom, left_:right_]
            u, v = band.saw_frame(at_column.astype(float), at_row.astype(float))
            off = flank.off(u, v)
            along = (u - flank.u0) * du + (v - flank.v0) * dv
            near = (np.abs(along) < half) & (np.abs(off) < reach)
            if near.sum() < 40:
                continue
            # A shadow beside the edge, or a bevel inside it, is no blur: the side with less of it counts.
            within, beyond = near & (off < 0), near & (off > 0)
            wrong = min(float((1.0 - share[within]).mean()), float(share[beyond].mean()))
            spreads.append(max(0.0, wrong) * 2.0 * reach / 0.797885)
            far = near & (np.abs(off) > 3.5 * dot)
            if far.sum() > 20:
                away = np.where(off[far] < 0, 1.0 - share[far], share[far])
                noises.append(1.4826 * float(np.median(np.abs(away - np.median(away)))))
    if not spreads:
        return dot, 0.03
    return max(0.35 * dot, float(np.median(spreads))), max(0.004, float(np.median(noises)) if noises else 0.03)


def _read(
    band: Band,
    rise: Rise,
    left: Flank | None,
    right: Flank | None,
    blur: float,
    noise: float,
    depth: float,
    dot: float,
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
    top = read_top(band, left, right, peak, max(0.0, seen), blur, noise)
    fit = "top"
    if top is None:
        top = Top(max(0.0, seen), dot, 99.0, 0.0)
        fit = "covered"
    elif seen < 0.0:
        # Blur takes points down: what was taken for flanks meets under the edge itself, and something lies on them.
        fit = "covered"
        top = Top(seen, dot, top.misfit, 0.0)
    elif seen - top.drop > TORN_DOTS * dot + blur:
        # The edge ends far under what the dots between the flanks would make a point of: no top at all, but for steel
        # that goes on beyond: a hair lies over it.
        fit = "hidden" if steel_beyond(band, left, right, rise.v + TORN_DOTS * dot) else "torn"
        top = Top(seen, dot, top.misfit, 0.0)
    v = peak[1] - top.drop
    a, b = peak[0] - top.drop * run_left, peak[0] + top.drop * run_right
    flat = top.drop > 0.0
    se = math.hypot(se_peak if top.drop < 3 * blur else 0.3 * se_peak, top.se if flat else 0.0, LEAST_HEIGHT * dot)
    lean = 0.5 * abs(run_right - run_left)
    return ReadTooth(
        u=(a + b) / 2.0,
        v=v,
        a=a,
        b=b,
        left=leans[0],
        right=leans[1],
        gullet=gullet,
        se=se,
        se_place=math.hypot(se_peak_u, lean * top.se if flat else 0.0, LEAST_PLACE[flat] * dot),
        se_flat=run * (math.hypot(top.se, LEAST_FLAT * dot) if flat else UNTOLD_FLAT * dot),
        se_left=math.hypot(se_leans[0], LEAST_DEG),
        se_right=math.hypot(se_leans[1], LEAST_DEG),
        fit=fit,
        edge=rise.v,
        drop=top.seems,
    )


def _lean(turn: float) -> float:
    """Degrees of a lean, between −180 and 180."""
    return math.degrees(math.remainder(turn, 2.0 * math.pi))


def _at_rim(band: Band, rise: Rise, left: Flank | None, right: Flank | None) -> bool:
    """Whether a flank is missing because the picture ends there."""
    return any(flank is None and at_rim(band, rise.chain[at]) for flank, at in ((left, rise.left), (right, rise.right)))
