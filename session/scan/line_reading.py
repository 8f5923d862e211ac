"""One picture read: every tooth in it with its flanks, its top and its gullet, in a frame along its own line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from contextlib import suppress
from typing import Final

import numpy as np

from session.machine.refusal import Refusal
from session.scan.edge_blur import edge_blur
from session.scan.edge_ends import at_rim, edge_ends, spot
from session.scan.edge_noise import restated, told_apart
from session.scan.edge_skew import EdgeSkew, edge_skew
from session.scan.fine_contour import Band, edges_in, lay_band
from session.scan.flank_lines import Flank, fit_flank
from session.scan.light_levels import USUAL, Floats, Gray, Light
from session.scan.near_light import moved
from session.scan.outline_teeth import Rise, base_width, gullet_at, rise_of, rises, unsplit, usual_depth
from session.scan.parted_edges import apart, refuse_cut_off
from session.scan.read_tooth import ReadTooth, tooth_of
from session.scan.steel_side import told_upside_down
from session.scan.tooth_edge import ToothEdge, find_edge
from session.trade.rounding import decimals
from session.value_class import dataclass, replace

#: How far the tooth line may lie off the picture's sides, degrees: what is asked of who scans, and what is still read,
#: as nobody lays a saw by a protractor (our own limits).
ALLOWED_TILT_DEG: Final = 10
READ_TILT_DEG: Final = 15.0

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

#: By so many dots an edge is in doubt where it was followed by the light of rust or dirt, and so many points of it tell
#: that it was (our own limits).
DULL_DOTS: Final = 0.5
FEWEST_DULL: Final = 3

#: What may be rust on a point lies so many dots over the edge that was followed, along so many points of it.
OVER_DOTS: Final = 8.0
FEWEST_OVER: Final = 8

#: Dots along an edge after which its places are independent of each other: point spread and scan lines together.
APART_DOTS: Final = 2.1


@dataclass(frozen=True, slots=True)
class ReadPicture:
    """All teeth of one picture in order of u, and how the picture was taken to lie.

    light_steel, sure: which side was taken for steel, and whether plate's ends or teeth told so. tilt: degrees of the
    line against the picture's rows. blur: sigma of the point spread, mm. depth: usual depth, mm. ends: how the edge
    ends on the left and on the right: at the picture's "rim", by going down where the "plate" ends, or "open". skew:
    of its edges, where that was asked and they tell it.
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
    skew: EdgeSkew | None = None


def read_picture(
    dots: Gray,
    per_mm: tuple[float, float],
    steel: str | None = None,
    light: Light = USUAL,
    *,
    skew_asked: bool = False,
) -> ReadPicture:
    """Read a picture whose columns and rows lie ``per_mm`` to the millimeter. Raises Refusal.

    steel: "light" or "dark", where a person has told which side is steel. light: of each of the 256 codes.
    skew_asked: whether to look how skewed the edges are, which tells linear tones from usual ones.
    """
    edge = find_edge(dots, per_mm, steel, light)
    upright = abs(math.cos(edge.along)) < math.sqrt(0.5)
    if upright:
        dots, per_mm = np.ascontiguousarray(dots.T), (per_mm[1], per_mm[0])
        edge = replace(edge, x=edge.y, y=edge.x, along=math.pi / 2 - edge.along, out=-edge.out)
        if math.cos(edge.along) < 0:
            edge = replace(edge, along=edge.along + math.pi, out=-edge.out, ends=(-edge.ends[1], -edge.ends[0]))
    tilt = math.degrees(math.atan(math.tan(edge.along)))
    if abs(tilt) > READ_TILT_DEG:
        raise Refusal(
            f"the tooth line lies {decimals(abs(tilt), 0)}° off the picture's sides; allowed: {ALLOWED_TILT_DEG}°; "
            "lay the saw along the rim"
        )
    edge, band, chains, depth = _from_its_side(dots, per_mm, edge, light)
    tops = [rise for chain in chains for rise in rises(chain, depth)]
    band, chains = _straightened(band, chains, tops)
    depth = usual_depth(chains)
    dot = 1.0 / min(per_mm)
    seen = rise_of([rise for chain in chains for rise in rises(chain, depth)], depth)
    depth = min(depth, MOST_DEPTH * seen + SHALLOWER_DOTS * dot)
    found = [rise for chain in chains for rise in rises(chain, depth)]
    found = unsplit(sorted(found, key=lambda rise: rise.u))
    laid = [_flanks(rise, depth, dot) for rise in found]
    apart = told_apart([one for pair in laid for one in pair if one is not None], dot, APART_DOTS * dot)
    pairs = [_stated([one and one[0] for one in pair], dot, apart) for pair in laid]
    blur, noise = edge_blur(band, pairs, dot)
    skew = edge_skew(band, pairs, dot) if skew_asked else None
    pairs = [(left and moved(band, left, blur), right and moved(band, right, blur)) for left, right in pairs]
    teeth = []
    for rise, (left, right) in zip(found, pairs, strict=True):
        tooth = _doubted(tooth_of(band, rise, left, right, blur, noise, depth, dot, apart), band, rise, depth, dot)
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
        skew,
    )


def _from_its_side(
    dots: Gray, per_mm: tuple[float, float], edge: ToothEdge, light: Light
) -> tuple[ToothEdge, Band, list[Floats], float]:
    """The rough line with the side of the steel that its teeth tell, and what `_edges` finds by it."""
    dot = 1.0 / min(per_mm)
    try:
        band, chains, depth = _edges(dots, per_mm, edge, light)
    except Refusal:
        if edge.sure:
            raise
        # From the wrong side a hair over gullets cuts off what is between the teeth. From the right one it is refused.
        behind = edge.from_behind()
        with suppress(Refusal):
            band, chains, depth = _edges(dots, per_mm, behind, light)
            if told_upside_down(chains, depth, dot) is False:
                return replace(behind, sure=True), band, chains, depth
        raise
    if not edge.sure and (wrong := told_upside_down(chains, depth, dot)) is not None:
        edge = replace(edge, sure=True)
        if wrong:
            edge = edge.from_behind()
            band, chains, depth = _edges(dots, per_mm, edge, light)
    return edge, band, chains, depth


def _edges(dots: Gray, per_mm: tuple[float, float], edge: ToothEdge, light: Light) -> tuple[Band, list[Floats], float]:
    """The band along a rough line, the edges in it, and the teeth's usual depth, mm."""
    band = lay_band(dots, per_mm, edge, light)
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


def _flanks(rise: Rise, depth: float, dot: float) -> list[tuple[Flank, Floats] | None]:
    """The flank that rises to the top and the one that falls from it, each with its points."""
    chain, top = rise.chain, rise.v
    fits: list[tuple[Flank, Floats] | None] = []
    for begin, end in ((rise.left, rise.top), (rise.top, rise.right)):
        part = chain[begin : end + 1]
        drop = top - part[:, 1]
        clear = max(FLANK_FROM * depth, 2.5 * dot)
        part = part[(drop > clear) & (drop < FLANK_TO * depth)]
        flank = fit_flank(part, APART_DOTS * dot) if len(part) >= 8 else None
        if flank is not None and flank.length < min(6.0 * dot, 0.3 * depth):
            flank = None
        fits.append(None if flank is None else (flank, part))
    return fits


def _doubted(tooth: ReadTooth, band: Band, rise: Rise, depth: float, dot: float) -> ReadTooth:
    """``tooth`` with what is in doubt of it where its edge runs by dull steel."""
    part = rise.chain[rise.left : rise.right + 1]
    part = part[rise.v - part[:, 1] < FLANK_TO * depth]
    if int(band.may_be_dull(part[:, 0], part[:, 1] + OVER_DOTS * dot).sum()) >= FEWEST_OVER:
        tooth = replace(tooth, dull=True)
    if int(band.is_dull(part[:, 0], part[:, 1]).sum()) < FEWEST_DULL:
        return tooth
    off = DULL_DOTS * dot
    return replace(
        tooth,
        dull=True,
        se=math.hypot(tooth.se, off),
        se_place=math.hypot(tooth.se_place, off),
        se_flat=math.hypot(tooth.se_flat, 2.0 * off),
    )


def _stated(pair: Sequence[Flank | None], dot: float, apart: float) -> tuple[Flank | None, Flank | None]:
    """Both flanks of a tooth with what their scatter is worth where places stray alike over ``apart`` mm."""
    left, right = (None if one is None else restated(one, APART_DOTS * dot, apart) for one in pair)
    return left, right


def _at_rim(band: Band, rise: Rise, left: Flank | None, right: Flank | None) -> bool:
    """Whether a flank is missing because the picture ends there."""
    return any(flank is None and at_rim(band, rise.chain[at]) for flank, at in ((left, rise.left), (right, rise.right)))
