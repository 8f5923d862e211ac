"""Where in a picture the toothed edge of a plate lies: found roughly, on a picture made small.

A toothed edge is longer than the way it goes: two thirds of it, for a file of 60°. A straight edge, the plate's back or
its end, is as long as its way. So the edges of the small picture are followed, and the stretch that winds is the line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import contourpy
import numpy as np
from numpy.typing import NDArray

from session.machine.refusal import Refusal
from session.scan.light_levels import USUAL, Floats, Gray, Light
from session.scan.toothed_edge import is_toothed
from session.value_class import dataclass, replace

#: Dots per mm of the small picture, about 150 to the inch: a tooth of 16 points is ten dots long in it.
SMALL: Final = 6.0

#: The lengths of edge over which its way is compared with it, mm: three teeth of 4 points; where none winds over that,
#: of 8 points, since the plate's ends are beside a short line.
STRETCHES_MM: Final = (40.0, 20.0)

#: Way over length: below it an edge winds as teeth do (a file of 60° leaves 0.5 to 0.65), above it it does not.
WINDS: Final = 0.82

#: Where the edge is no line of teeth at half light, it may be one at this share of the way from dark to half: rust on
#: light steel is darker than half, and the edge winds around it (our own limit).
DULL: Final = 0.5

#: Between these hundredths all of a picture lies that is of one tone; a saw is small on a large glass, dust is smaller.
ONE_TONE: Final = (0.02, 99.98)

#: The shortest tooth line that is looked for, mm.
LEAST_LINE_MM: Final = 12.0


#: Another line of teeth is a second saw's where it is so long by the first and lies so far beside it (our own limits).
SECOND: Final = 0.5
APART_MM: Final = 6.0


@dataclass(frozen=True, slots=True)
class ToothEdge:
    """A rough tooth line in a picture, in mm from its top left corner, x right and y down.

    x, y: a point of its middle. along: its direction, radians from x to y. ends: how far it reaches from that point
    against and along its direction. out: +1 where the teeth point to the left of that direction, as the eye sees it
    with the direction to the right: upward; −1 else. above, below: how far the edge swings off the line, mm.
    light_steel: whether the steel is lighter than what is behind it. sure: whether the plate's ends told so.
    """

    x: float
    y: float
    along: float
    ends: tuple[float, float]
    out: int
    above: float
    below: float
    light_steel: bool
    sure: bool

    @property
    def depth(self) -> float:
        """From the deepest gullet to the highest point, mm, roughly."""
        return self.above + self.below

    def from_behind(self) -> ToothEdge:
        """The same edge with the other side taken for steel."""
        return replace(self, out=-self.out, above=self.below, below=self.above, light_steel=not self.light_steel)


def find_edge(dots: Gray, per_mm: tuple[float, float], steel: str | None = None, light: Light = USUAL) -> ToothEdge:
    """The tooth line in ``dots``, whose columns and rows lie ``per_mm`` to the millimeter.

    steel: "light" or "dark" where a person has told. light: of each of the 256 codes.
    Raises Refusal when there is no such edge.
    """
    small, (across, down) = _small(dots, per_mm, light)
    if small.size < 400:
        raise Refusal("it is only a few millimeters across; show at least five teeth")
    levels = np.percentile(small, ONE_TONE)
    if levels[1] - levels[0] < 0.03:
        raise Refusal("nothing is to be seen in it: it is of one tone; lay dark cloth behind the saw, or white paper")
    split, dark = _split(small)
    for level in (split, dark + DULL * (split - dark)):
        edges = list(_edges(small, level, across, down))
        for stretch in STRETCHES_MM:
            found = [
                (float(np.hypot(*np.ptp(run, axis=0))), run, whole)
                for outline in edges
                for run, whole in _winding(outline, stretch)
            ]
            toothed = (
                one
                for one in sorted(found, key=lambda one: one[0], reverse=True)
                if one[0] >= LEAST_LINE_MM and is_toothed(*_along(one[1])[:2])
            )
            for length, run, whole in toothed:
                edge = _placed(run, whole, small, split, (across, down), steel)
                _refuse_second(edge, length, toothed)
                return edge
    raise Refusal(
        "no line of teeth is found in it; scan the saw flat on the glass, five teeth or more, clear of the rim, "
        "with dark cloth behind it"
    )


def _refuse_second(edge: ToothEdge, length: float, others: Iterator[tuple[float, Floats, Floats]]) -> None:
    """Raise Refusal where another line of teeth, half as long or longer, lies beside this one: which is meant? One that
    goes on in the same line is the same saw's, parted by what lies over it."""
    for long, run, _ in others:
        if long < SECOND * length:
            return
        middle = np.median(run, axis=0)
        off = (middle[0] - edge.x) * math.sin(edge.along) - (middle[1] - edge.y) * math.cos(edge.along)
        if abs(off) > APART_MM + edge.depth:
            raise Refusal("two lines of teeth are in it; scan one saw at a time, or cut the picture to one of them")


def _small(dots: Gray, per_mm: tuple[float, float], light: Light) -> tuple[Floats, tuple[float, float]]:
    """The picture in light, averaged over blocks, and its own dots per mm."""
    bx, by = (max(1, round(one / SMALL)) for one in per_mm)
    rows, columns = dots.shape[0] // by, dots.shape[1] // bx
    small = np.empty((rows, columns))
    for row in range(rows):
        block = light[dots[row * by : (row + 1) * by, : columns * bx]]
        small[row] = block.reshape(by, columns, bx).mean(axis=(0, 2))
    return small, (per_mm[0] / bx, per_mm[1] / by)


def _split(small: Floats) -> tuple[float, float]:
    """The light that parts the picture into two best: least spread within the two (N. Otsu, 1979); and that of the
    darker kind."""
    counts, edges = np.histogram(np.sqrt(np.clip(small, 0.0, 1.0)), bins=128, range=(0.0, 1.0))
    middles = (edges[1:] + edges[:-1]) / 2.0
    weight = np.cumsum(counts)
    total = np.cumsum(counts * middles)
    rest = weight[-1] - weight
    with np.errstate(divide="ignore", invalid="ignore"):
        apart = weight * rest * (total / weight - (total[-1] - total) / rest) ** 2
    at = int(np.nanargmax(np.where(rest > 0, apart, np.nan)))
    low = total[at] / weight[at]
    high = (total[-1] - total[at]) / rest[at]
    # Half way in light between the two kinds, where a dot is half steel and half cloth.
    return float((low**2 + high**2) / 2.0), float(low**2)


def _edges(small: Floats, split: float, across: float, down: float) -> Iterator[Floats]:
    """The edges in the small picture, the longest first, as points in mm."""
    lines = contourpy.contour_generator(z=small).lines(split)
    scale = np.array([1.0 / across, 1.0 / down])
    edges = [(np.asarray(line) + 0.5) * scale for line in lines if len(line) > 20]
    edges.sort(key=len, reverse=True)
    yield from edges[:12]


def _winding(edge: Floats, stretch: float) -> Iterator[tuple[Floats, Floats]]:
    """The stretches of an edge that wind as teeth do, each with the whole edge."""
    steps = np.hypot(*np.diff(edge, axis=0).T)
    way = np.concatenate([[0.0], np.cumsum(steps)])
    if way[-1] < 1.3 * LEAST_LINE_MM:
        return
    span = min(stretch, way[-1] / 2.0)
    at = np.arange(0.0, way[-1], 0.25)
    x, y = (np.interp(at, way, edge[:, i]) for i in (0, 1))
    reach = max(4, int(span / 0.25))
    chord = np.hypot(x[reach:] - x[:-reach], y[reach:] - y[:-reach])
    winds = chord / (reach * 0.25) < WINDS
    bounds = np.flatnonzero(np.diff(np.concatenate([[0], winds.astype(int), [0]])))
    for first, last in zip(bounds[::2], bounds[1::2], strict=True):
        begin, end = at[first], at[min(last - 1 + reach, len(at) - 1)]
        inside = (way >= begin) & (way <= end)
        if inside.sum() > 20:
            yield edge[inside], edge


def _placed(
    run: Floats, whole: Floats, small: Floats, split: float, scale: tuple[float, float], steel: str | None
) -> ToothEdge:
    u, v, middle, along, up = _along(run)
    angle = math.atan2(along[1], along[0])
    low, high = np.percentile(v, (0.5, 99.5))
    depth = high - low
    # A turn at an end of the line, to one side: there the plate ends, and it lies on that side.
    far = (whole - middle) @ up
    at = (whole - middle) @ along
    near_line = np.abs(at) < max(abs(u.min()), abs(u.max())) + 2.0 * depth + 8.0
    # What leaves the line between its ends is a hair.
    near_line &= (at < u.min() + 2.0 * depth) | (at > u.max() - 2.0 * depth)
    beyond_up = int((near_line & (far > high + 0.4 * depth + 0.8)).sum())
    beyond_down = int((near_line & (far < low - 0.4 * depth - 0.8)).sum())
    light_up = _light_side(small, split, middle, along, up, u, (high, low), scale)
    sure = max(beyond_up, beyond_down) > 8 and min(beyond_up, beyond_down) <= 0.1 * max(beyond_up, beyond_down)
    steel_up = beyond_up > beyond_down if sure else light_up
    if steel is not None:
        steel_up = light_up if steel == "light" else not light_up
    return ToothEdge(
        x=float(middle[0]),
        y=float(middle[1]),
        along=angle,
        ends=(float(u.min()), float(u.max())),
        out=-1 if steel_up else 1,
        above=float(high if not steel_up else -low),
        below=float(-low if not steel_up else high),
        light_steel=steel_up == light_up,
        sure=sure or steel is not None,
    )


def _along(run: Floats) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """The points of a run near its line, along and across it, mm; a point of the line, its direction, and across it."""
    middle, along = _leveled(run)
    up: Floats = np.array([along[1], -along[0]])  # to the left of the direction, as the eye sees it with y down
    u, v = (run - middle) @ along, (run - middle) @ up
    spread = 2.8 * float(np.median(np.abs(v - np.median(v))))
    near = np.abs(v - np.median(v)) < spread
    return u[near], v[near], middle, along, up


def _leveled(run: Floats) -> tuple[Floats, Floats]:
    """A point and the direction of the line that winds: by medians, so that the plate's end does not turn it."""
    middle = np.median(run, axis=0)
    _, _, axes = np.linalg.svd(run - run.mean(axis=0), full_matrices=False)
    along = axes[0]
    for _ in range(4):
        up = np.array([along[1], -along[0]])
        u, v = (run - middle) @ along, (run - middle) @ up
        bounds = np.linspace(u.min(), u.max(), max(5, int(np.ptp(u) / 4.0)) + 1)
        which = np.clip(np.searchsorted(bounds, u, side="right") - 1, 0, len(bounds) - 2)
        bins = np.array([(np.median(u[which == i]), np.median(v[which == i])) for i in np.unique(which)])
        # Slope and height by the median over pairs (Theil and Sen).
        first, last = np.triu_indices(len(bins), max(1, len(bins) // 4))
        slope = float(np.median((bins[last, 1] - bins[first, 1]) / (bins[last, 0] - bins[first, 0])))
        height = float(np.median(bins[:, 1] - slope * bins[:, 0]))
        middle = middle + height * up
        along = along + slope * up
        along = along / np.hypot(*along)
    if along[int(np.argmax(np.abs(along)))] < 0:
        along = -along
    return middle, along


def _light_side(
    small: Floats,
    split: float,
    middle: Floats,
    along: NDArray[np.float64],
    up: NDArray[np.float64],
    u: Floats,
    reach: tuple[float, float],
    scale: tuple[float, float],
) -> bool:
    """Whether the lighter side of the line is the one that ``up`` points to."""
    places = np.linspace(u.min(), u.max(), 200)[:, None]
    high, low = reach
    margin = 0.15 * (high - low) + 0.7
    lights = []
    for off in (high + margin, low - margin):
        there = middle + places * along + off * up
        columns = np.clip((there[:, 0] * scale[0]).astype(int), 0, small.shape[1] - 1)
        rows = np.clip((there[:, 1] * scale[1]).astype(int), 0, small.shape[0] - 1)
        lights.append(float(np.median(small[rows, columns])))
    return lights[0] > lights[1]
