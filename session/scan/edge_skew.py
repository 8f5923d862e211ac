"""Whether the tones of a picture are linear, told by its edges: read by the right tones an edge is blurred evenly.

Optics, scan lines out of step and filters spread an edge as far into the steel as into the cloth. A scanner that writes
the usual tones bends that: read as if they were linear, the edge is skewed, by an amount that follows from its lights
alone; one that writes linear tones leaves it even. So each flank is read as if linear, and a skewed part is looked for

    cloth + (steel − cloth)·(N(−z) + m·n(z) + w·z·n(z) + skew·(z² − 1)·n(z) + k·(z³ − 3z)·n(z))

with z the distance in sigmas of blur, N and n the normal distribution and its density (Edgeworth's series). The mark of
a flank is its skew by that of an even edge in usual tones: 0 linear, about 1 usual. Read as if usual instead, an even
edge and its square are nearly alike, and nothing is told.

A shadow beside an edge skews it as usual tones do, so that linear ones are not told where one lies; on one side of the
teeth alone it is seen, since fronts and backs then differ.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import median
from typing import Final

import numpy as np

from session.scan.crest_shares import normal_share
from session.scan.fine_contour import Band
from session.scan.flank_lines import Flank
from session.scan.light_levels import LINEAR, USUAL, Floats, Gray
from session.value_class import dataclass

#: At most so many flanks are looked at, so many dots off them, of those that dust leaves alone.
MOST_FLANKS: Final = 96
REACH_DOTS: Final = 7.0
MOST_DUST: Final = 0.2

#: The blur that is begun with, dots, and over how many sigmas of it an edge is fitted.
FIRST_BLUR: Final = 1.1
REACH: Final = 3.3

#: The fewest dots of a flank, and flanks of a side, that tell anything; the least contrast, in shares of full light.
FEWEST_DOTS: Final = 100
FEWEST_FLANKS: Final = 4
LEAST_CONTRAST: Final = 0.03

#: Dots that stray by more of the scatter of all are dust.
STRAYS: Final = 4.0

#: Dots of a flank that are looked at, at most, and the fewest of cloth and of steel beside it; and the least skew that
#: usual tones make of so little contrast.
MOST_DOTS: Final = 3000
FEWEST_BESIDE: Final = 4
LEAST_SKEW: Final = 1e-3

#: What a mark is never better known to: rust, bevels and what else lies along edges (found on rendered scans).
LEAST_SE: Final = 0.04

#: Between what linear tones and what usual ones make (found on rendered scans: 0.04 ± 0.09, and 0.7 ± 0.2, since scan
#: lines out of step blur a skewed edge evenly), and how many standard uncertainties off it tell.
BETWEEN: Final = 0.33
CLEARLY: Final = 3.0

#: An edge so sharp, dots of blur, is too few dots wide for its skew: it seems less than it is, and linear tones are not
#: told of it (found on rendered scans: below 0.86).
LEAST_BLUR: Final = 0.90

#: Fronts and backs whose marks differ by more have a shadow or a bright bevel on one side: nothing is told.
MOST_APART: Final = 0.6


@dataclass(frozen=True, slots=True)
class EdgeSkew:
    """How skewed the edges of a picture are: marks of its flanks that rise and of those that fall, with their standard
    uncertainties; 0 as linear tones make them, about 0.7 as usual ones do. blur: sigma, dots."""

    marks: tuple[float, float]
    ses: tuple[float, float]
    blur: float

    @property
    def mark(self) -> float:
        """Of both sides together."""
        return (self.marks[0] + self.marks[1]) / 2.0

    @property
    def se(self) -> float:
        """Its standard uncertainty."""
        return math.hypot(*self.ses, 2.0 * LEAST_SE) / 2.0

    @property
    def linear(self) -> bool | None:
        """Whether the tones are linear; None where the edges do not tell."""
        if abs(self.marks[0] - self.marks[1]) > MOST_APART or abs(self.mark - BETWEEN) < CLEARLY * self.se:
            return None
        # Each side by itself has to say the same.
        sides = {one < BETWEEN for one in self.marks}
        if len(sides) > 1:
            return None
        linear = sides.pop()
        return None if linear and self.blur < LEAST_BLUR else linear


def edge_skew(band: Band, pairs: Sequence[tuple[Flank | None, Flank | None]], dot: float) -> EdgeSkew | None:
    """How skewed the flanks are; None where too few of them tell. dot: mm."""
    sides: tuple[list[FlankSkew], list[FlankSkew]] = ([], [])
    for pair in pairs[:: max(1, math.ceil(2 * len(pairs) / MOST_FLANKS))]:
        for side, flank in zip(sides, pair, strict=True):
            if flank is None or flank.kept < 1.0 - MOST_DUST:
                continue
            if (told := flank_skew(*_beside(band, flank, dot))) is not None:
                side.append(told)
    if min(map(len, sides)) < FEWEST_FLANKS:
        return None
    every = [*sides[0], *sides[1]]
    even = skew_of_usual(median(one.cloth for one in every), median(one.steel for one in every))
    if even is None:
        return None
    middles, ses = [], []
    for side in sides:
        marks = [one.skew / even for one in side]
        middles.append(median(marks))
        # Of the middle one of many: a quarter more than that of their mean.
        scatter = 1.4826 * median(abs(mark - middles[-1]) for mark in marks)
        ses.append(1.2533 * scatter / math.sqrt(len(marks)))
    blur = median(one.blur for one in every)
    return EdgeSkew((middles[0], middles[1]), (ses[0], ses[1]), blur)


@dataclass(frozen=True, slots=True)
class FlankSkew:
    """One edge read by linear tones: its skew, its blur in dots, and the lights of cloth and steel by usual tones."""

    skew: float
    blur: float
    cloth: float
    steel: float


def flank_skew(codes: Gray, off: Floats) -> FlankSkew | None:
    """The skew of one edge, from the codes of dots, and how far each lies off it, in dots, toward the cloth; None where
    they tell none."""
    each = max(1, math.ceil(len(codes) / MOST_DOTS))
    codes, off = codes[::each], off[::each]
    fitted = _skew(LINEAR[codes].astype(float), off, FIRST_BLUR)
    if fitted is None:
        return None
    skew, blur = fitted
    lights = [USUAL[codes[where]] for where in (off > 3.0 * blur, off < -3.0 * blur)]
    if min(map(len, lights)) < FEWEST_BESIDE:
        return None
    cloth, steel = (float(np.median(light)) for light in lights)
    return FlankSkew(skew, blur, cloth, steel) if abs(steel - cloth) > LEAST_CONTRAST else None


def skew_of_usual(cloth: float, steel: float) -> float | None:
    """The skew, read by linear tones, of an edge between these lights that is even in light and written in usual tones;
    None where it has none."""
    z = np.linspace(-REACH - 0.5, REACH + 0.5, 181)
    even = _skew(np.interp(cloth + (steel - cloth) * normal_share(-z), USUAL, LINEAR), z, 1.0)
    return None if even is None or abs(even[0]) < LEAST_SKEW else even[0]


def _beside(band: Band, flank: Flank, dot: float) -> tuple[Gray, Floats]:
    """The codes of the dots along the middle of a flank, and how far off it each lies, in dots."""
    far, half = REACH_DOTS * dot, 0.42 * flank.length
    cut = band.cutting(*flank.beside(half, far))
    if cut is None:
        return np.zeros(0, dtype=np.uint8), np.zeros(0)
    off = flank.off(cut.u, cut.v)
    near = (np.abs(flank.ways(cut.u, cut.v)) < half) & (np.abs(off) < far)
    return cut.codes[near], off[near] / dot


def _skew(light: Floats, off: Floats, blur: float) -> tuple[float, float] | None:
    """The skew of an edge and its blur, from ``light`` at places ``off`` it; None where it is no edge."""
    middle = 0.0
    for turn in range(4):
        z = (off - middle) / blur
        near = np.abs(z) < REACH
        if near.sum() < FEWEST_DOTS:
            return None
        z, seen = z[near], light[near]
        density = np.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)
        shapes = np.column_stack(
            [
                np.ones_like(z),
                normal_share(-z),
                density,
                z * density,
                (z * z - 1.0) * density,
                (z**3 - 3.0 * z) * density,
            ]
        )
        try:
            found = np.linalg.solve(shapes.T @ shapes, shapes.T @ seen)
            if turn:
                left = np.abs(seen - shapes @ found)
                kept = left < STRAYS * (1.4826 * float(np.median(left)) + 1e-6)
                found = np.linalg.solve(shapes[kept].T @ shapes[kept], shapes[kept].T @ seen[kept])
        except np.linalg.LinAlgError:
            return None
        if not abs(found[1]) > LEAST_CONTRAST / 2.0:
            return None
        move, wider = float(found[2] / found[1]), float(found[3] / found[1])
        middle += min(1.5, max(-1.5, move)) * blur
        blur *= 1.0 + min(0.4, max(-0.4, wider))
        if abs(middle) > 3.0:
            return None
    return float(found[4] / found[1]), blur
