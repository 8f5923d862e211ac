"""How far below the meeting of its flanks a tooth ends: the flat on its point, to a part of a dot.

Summed along the line, the dots of a point give its width at each height, whatever the blur along the line. Of two
flanks that meet at height P, cut off flat at height t, the width at height v is T·(P − v) below t and nothing above, T
being the run of both flanks for each mm of height. Blur of sigma s across the line makes of it

    T · ((P − v)·N((t − v)/s) + s·n((t − v)/s))

with N and n the normal distribution and its density. Only t is looked for.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from session.scan.crest_shares import crest_shares, normal_share
from session.scan.fine_contour import Band
from session.scan.flank_lines import Flank, meeting
from session.scan.light_levels import Floats
from session.value_class import dataclass

#: A flat is told when it explains the dots better than a sharp point by so much of chi squared.
TOLD: Final = 9.0

#: Widths off by more sigmas count less.
FAR: Final = 3.0

#: A share of steel at the edge is never better known.
LEAST_SHARE: Final = 0.05

#: The light beside a point is told by so many dots or more, and is off the line's by less than this share.
FEWEST_BESIDE: Final = 20
MOST_OTHER: Final = 0.4

#: The light of a point's own steel is known beforehand to one in the root of this (our own guess: to a tenth).
LIGHT_KNOWN: Final = 100.0

#: Of fewer dots over the end of an edge nothing is said.
FEWEST_DOTS: Final = 6


@dataclass(frozen=True, slots=True)
class Top:
    """The top of a tooth. drop: below the meeting of the flanks, mm, 0 where sharp. se: its standard uncertainty, mm.

    misfit: scatter of the widths about those of such a top, by what noise would give; far over 1 where it is none.
    seems: the drop that the dots fit best, told or not. gain: by how much of chi squared it explains the dots better
    than a sharp point.
    """

    drop: float
    se: float
    misfit: float
    seems: float
    gain: float = math.inf


def read_top(
    band: Band,
    back: Flank,
    front: Flank,
    peak: tuple[float, float],
    seen_drop: float,
    crest: tuple[float, float] | None,
    blur: float,
    noise: float,
) -> Top | None:
    """The top between two flanks that meet at ``peak`` (u, v).

    seen_drop: how far below that the edge was seen, mm; crest: place and height of
    the edge over the middle of the top. blur: sigma of the point spread, mm. noise: sigma of a dot's
    share of steel. None where the picture ends, or the dots make no sense.
    """
    dot = 1.0 / min(band.per_mm)
    run_back = _run(back)
    run_front = _run(front)
    if not (math.isfinite(run_back) and math.isfinite(run_front)):
        return None
    run = run_back + run_front
    deep = max(0.0, seen_drop) + max(7.0 * dot, 4.5 * blur)
    high = max(4.0 * dot, 4.0 * blur)
    reach = max(abs(run_back), abs(run_front)) * deep + 5.0 * blur + 3.0 * dot
    u0, v0 = peak
    cut = band.cutting(
        np.array([u0 - reach, u0 + reach] * 2), np.array([v0 - deep - 2 * dot] * 2 + [v0 + high + 2 * dot] * 2)
    )
    if cut is None or not cut.whole:
        return None
    share, u, v = cut.shares, cut.u, cut.v
    # How deep inside the flanks a dot lies, mm: what is well inside is steel, what is well outside is not.
    inside = np.minimum(_inside(back, u, v), _inside(front, u, v))
    sure = 3.6 * blur + dot
    deep_in = (inside > sure) & (v < v0 - seen_drop - sure)
    raw = share
    low, high_share = _beside(share, (inside < -sure) & (inside > -2.0 * sure), deep_in)
    share = (share - low) / (high_share - low)
    share = np.where(inside < -sure, 0.0, share)
    if deep_in.sum() >= FEWEST_BESIDE:
        share = np.where(deep_in & (share > 0.6), 1.0, share)
    area = 1.0 / (band.per_mm[0] * band.per_mm[1])
    step = dot
    count = int((deep + high) / step)
    place = (v - (v0 - deep)) / step
    floor = np.floor(place).astype(int)
    part = place - floor
    widths = np.zeros(count + 2)
    loose = np.zeros(count + 2)  # dots of a height that are not sure, for its noise
    unsure = (np.abs(inside) <= sure) | ((inside > sure) & ~deep_in)
    for cell, amount in ((floor, 1.0 - part), (floor + 1, part)):
        fit = (cell >= 0) & (cell < count + 2)
        widths += np.bincount(cell[fit], (share * amount)[fit], count + 2)
        loose += np.bincount(cell[fit], (unsure * amount**2)[fit], count + 2)
    widths *= area / step
    heights: Floats = v0 - deep + step * np.arange(count + 2, dtype=np.float64)
    kept = slice(2, count)
    widths, heights, loose = widths[kept], heights[kept], loose[kept]
    sigma: Floats = np.array(np.sqrt(np.maximum(loose, 2.0)) * noise * area / step + 0.02 * dot, dtype=np.float64)
    spread = math.hypot(blur, step / math.sqrt(6.0))
    edge = None
    if crest is not None and crest[1] < v0:
        # The edge was followed by the line's light: by that over the point another share of a dot is steel there.
        over = (v > crest[1] + 2.5 * blur) & (v < crest[1] + 5.0 * blur + 2.0 * dot)
        light = _over(raw, over & (np.abs(u - crest[0]) < 2.0 * dot + blur))
        edge = _Crest(v0 - crest[1], crest[0] - u0, light, (low, high_share), noise, (run_back, run_front), blur)
    return _fitted(heights, widths, sigma, v0, run, spread, seen_drop, edge)


def steel_beyond(band: Band, back: Flank, front: Flank, low: float) -> bool:
    """Whether there is steel between the flanks over the height ``low``, where the edge was followed no further."""
    peak = meeting(back, front)
    if peak is None or peak[1] <= low:
        return False
    dot = 1.0 / min(band.per_mm)
    reach = max(abs(_run(back)), abs(_run(front))) * (peak[1] - low)
    if not math.isfinite(reach):
        return False
    cut = band.cutting(np.array([peak[0] - reach, peak[0] + reach] * 2), np.array([low, low, peak[1], peak[1]]))
    if cut is None:
        return False
    within = (np.minimum(_inside(back, cut.u, cut.v), _inside(front, cut.u, cut.v)) > dot) & (cut.v > low)
    return int(within.sum()) >= FEWEST_DOTS and float(np.median(cut.shares[within])) > 0.5


def _beside(share: Floats, cloth: NDArray[np.bool_], steel: NDArray[np.bool_]) -> tuple[float, float]:
    """The shares that cloth and steel seem to have beside the point itself: shadow, mottle and rust make their light
    other there than along the line. Where it is too much other, 0 and 1 are kept: something lies there."""
    levels = [
        float(np.median(share[where])) if where.sum() >= FEWEST_BESIDE else usual
        for where, usual in ((cloth, 0.0), (steel, 1.0))
    ]
    low, high = (
        level if abs(level - usual) < MOST_OTHER else usual for level, usual in zip(levels, (0.0, 1.0), strict=True)
    )
    return low, high


def _over(share: Floats, over: NDArray[np.bool_]) -> float:
    """The share that the cloth over a point seems to have by the line's light."""
    low = float(np.median(share[over])) if over.sum() >= FEWEST_BESIDE // 2 else 0.0
    return low if abs(low) < MOST_OTHER else 0.0


@dataclass(frozen=True, slots=True)
class _Crest:
    """The edge over the middle of a top: where, so far under the meeting of the flanks and beside it, mm, the line's
    light calls a dot half steel. over: the share that cloth seems to have there; beside: those of cloth and steel
    beside the point."""

    drop: float
    aside: float
    over: float
    beside: tuple[float, float]
    noise: float
    runs: tuple[float, float]
    blur: float

    def off(self, drops: Floats, lights: Floats) -> Floats:
        """By how many se the share of flats that far under the meeting is another, whose steel is so light."""
        low, high = self.beside
        steel = low + lights * (high - low)
        half = (0.5 - self.over) / np.maximum(0.3, steel - self.over)
        se = np.sqrt(LEAST_SHARE**2 + self.noise**2 + (0.5 * (half - 0.5)) ** 2)
        off: Floats = (crest_shares(drops, self.drop, self.aside, self.runs, self.blur) - half) / se
        return off


def _fitted(
    heights: Floats,
    widths: Floats,
    sigma: Floats,
    peak: float,
    run: float,
    spread: float,
    seen: float,
    crest: _Crest | None,
) -> Top:
    def model(drop: float) -> Floats:
        t = (peak - drop - heights) / spread
        density = np.exp(-0.5 * t * t) / math.sqrt(2.0 * math.pi)
        made: Floats = run * ((peak - heights) * normal_share(t) + spread * density)
        return made

    def shone(drop: float) -> tuple[Floats, float]:
        """The widths of such a top, and how light its own steel is by that of the steel below: a bevel, or a lack of
        one, is not known."""
        made = model(drop)
        part = made / sigma
        light = float((part @ (widths / sigma) + LIGHT_KNOWN) / (part @ part + LIGHT_KNOWN))
        return light * made, light

    def by_widths(drop: float) -> float:
        off = np.abs((widths - shone(drop)[0]) / sigma)
        # Squares, and straight on beyond (P. Huber): a rule that takes all far ones for alike finds any drop as good.
        return float(np.sum(np.where(off < FAR, off * off, 2.0 * FAR * off - FAR * FAR)))

    most = max(seen, 0.0) + 3.0 * spread
    grid: Floats = np.linspace(0.0, most, max(8, int(most / (0.5 * spread)) + 1))
    values = np.array([by_widths(float(drop)) for drop in grid])
    by_widths_alone = float(grid[int(np.argmin(values))])
    # What the best of them leaves over says how much the widths are to be believed at all.
    misfit = max(1.0, math.sqrt(float(values.min()) / max(1, len(heights) - 1)))

    def off_crest(drops: Floats) -> Floats:
        if crest is None:
            return np.zeros_like(drops)
        return crest.off(drops, np.array([shone(float(drop))[1] for drop in drops]))

    def worth(drop: float) -> float:
        edge = float(off_crest(np.array([drop]))[0])
        return by_widths(drop) / misfit**2 + edge * edge

    values = values / misfit**2 + off_crest(grid) ** 2
    at = int(np.argmin(values))
    low, high = float(grid[max(0, at - 1)]), float(grid[min(len(grid) - 1, at + 1)])
    for _ in range(14):  # golden section
        one, other = high - 0.618 * (high - low), low + 0.618 * (high - low)
        if worth(one) <= worth(other):
            high = other
        else:
            low = one
    drop = (low + high) / 2.0
    step = 0.05 * spread
    before, behind = max(0.0, drop - step), drop + step
    changes = (shone(behind)[0] - shone(before)[0]) / (behind - before)
    told = float(np.sum((changes / sigma) ** 2)) / misfit**2
    first, last = off_crest(np.array([before, behind]))
    told += ((last - first) / (behind - before)) ** 2
    se = 1.0 / math.sqrt(told) if told > 0.0 else spread
    if crest is not None:
        # Where widths and edge tell another drop, one of them is of something else: half of it is in doubt.
        se = math.hypot(se, (drop - by_widths_alone) / 2.0)
    gain = float(values[0]) - worth(drop)
    if gain < TOLD:
        return Top(0.0, min(se, spread), misfit, drop, gain)
    return Top(drop, se, misfit, drop, gain)


def _run(flank: Flank) -> float:
    """Run along the line for each mm of height, toward the top where the flank leans as a tooth's does."""
    steep = abs(math.sin(flank.turn))
    rises = math.copysign(1.0, math.sin(flank.turn))
    return math.inf if steep < 1e-6 else math.cos(flank.turn) * rises / steep * rises


def _inside(flank: Flank, u: Floats, v: Floats) -> Floats:
    """How far inside the steel places lie by this flank: an edge in the order of u has the steel on its right."""
    return -flank.off(u, v)
