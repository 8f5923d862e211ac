"""The straight or the parabola that a line's points stand in, and how well it is known which of them do.

Most points of a long line say where it lies, whatever the others do. Few points lie on many parabolas, and two low ones
among nine pull a line that all of them lay. Which are odd is not known; so each choice of odd ones lays a line by the
others, and counts by how likely it makes what was measured. So does each way that a line may run: a parabola through
few points is bent by any one of them at an end, and they lie straight unless a bow makes what was measured likelier.
The line is the mean of those, and what they differ by at a tooth is in doubt there.
"""

from __future__ import annotations

import itertools
import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from session.scan.light_levels import Floats
from session.scan.most_points import off_most_points
from session.trade.scanned_line import FEWEST_TEETH, OFF_LINE_MM
from session.value_class import dataclass

#: The scatter of points about their line that is usual, mm: to so far off it Huber's squares count, and straight on
#: beyond (our own guess).
SCATTER_MM: Final = 0.02

#: Of a line's scatter so much is known beforehand: as from so many points.
SCATTER_KNOWN: Final = 2.0

#: A point stands in the line that is off it by less than so many times the scatter of all (our own limit).
STANDS: Final = 4.0

#: From so many points on, most of them say where the line lies (our own limit).
FEWEST_MOST: Final = 24

#: One point in so many is low or high, and stands anywhere over such a range, mm (our own guesses).
ONE_ODD_IN: Final = 14.0
ODD_OVER_MM: Final = 0.8

#: How far a line's middle is off its ends before anything was measured, in scatters: of a straight line, and of one
#: that is crowned or worn hollow; and how likely each is (our own guesses).
BOWS: Final = (1.5, 10.0)
BOWS_SHARES: Final = (0.5, 0.5)

#: At most such a share of the points is odd, all of them among so many that are farthest off a line by all.
MOST_ODD: Final = 1.0 / 3.0
FARTHEST: Final = 9

#: Choices of odd points that are less likely than the likeliest by this factor are left out.
UNLIKELY: Final = 0.003


@dataclass(frozen=True, slots=True)
class LaidLine:
    """A parabola over x, from −1 at the first point to 1 at the last: level + tilt·x + bow·x², mm.

    middle, half: of the line along u, mm. spread: how the three stray together over the likely choices of odd points,
    mm². pulls: by how much the height of each point moves the bow.
    """

    middle: float
    half: float
    level: float
    tilt: float
    bow: float
    spread: Floats
    pulls: Floats

    def height_at(self, u: float) -> float:
        """Height of the line at ``u``, mm."""
        x = (u - self.middle) / self.half
        return self.level + self.tilt * x + self.bow * x * x

    def se_at(self, u: float) -> float:
        """Standard uncertainty of that height from not knowing which points are odd, mm."""
        x = (u - self.middle) / self.half
        powers = np.array([1.0, x, x * x])
        return math.sqrt(max(0.0, float(powers @ self.spread @ powers)))


def laid_line(u: Floats, v: Floats, broken: float) -> LaidLine:
    """The line through points at places ``u``, in order, and heights ``v``, mm. One ``broken`` mm or more under it is a
    stump and lays none."""
    middle, half = float(u[0] + u[-1]) / 2.0, max(1e-6, float(u[-1] - u[0]) / 2.0)
    x = (u - middle) / half
    powers = np.column_stack([np.ones_like(x), x, x * x])
    every = np.ones(len(u), dtype=bool)
    if len(u) >= FEWEST_MOST:
        off = off_most_points(u, v)
        scatter = 1.4826 * float(np.median(np.abs(off)))
        stands = np.abs(off) < min(broken, max(OFF_LINE_MM, STANDS * scatter))
        kept = stands if stands.sum() >= FEWEST_TEETH and stands.mean() >= 0.5 else every
        found, pulls = _by_hubers_rule(powers, v, kept)
        return LaidLine(middle, half, *_three(found), np.zeros((3, 3)), pulls)
    found, _ = _by_hubers_rule(powers, v, every)
    stands = powers @ found - v < broken
    if stands.sum() < FEWEST_TEETH:
        stands = every
    choices, shares = _likely(powers, v, stands)
    laid = [_by_hubers_rule(powers, v, kept, bow) for kept, bow in choices]
    lines = np.array([line for line, _ in laid])
    mean = shares @ lines
    apart = lines - mean
    pulls = shares @ np.array([pull for _, pull in laid])
    return LaidLine(middle, half, *_three(mean), (apart * shares[:, None]).T @ apart, pulls)


def _three(found: Floats) -> tuple[float, float, float]:
    return float(found[0]), float(found[1]), float(found[2])


def _likely(
    powers: Floats, v: Floats, stands: NDArray[np.bool_]
) -> tuple[list[tuple[NDArray[np.bool_], float]], Floats]:
    """The likely choices of points that lay the line, of those that may, each with how bowed it may be in scatters, and
    the share that each choice has.

    By the marginal likelihood of normal scatter about a parabola, of all parabolas of such bows and of all widths of
    scatter, with some known of that beforehand (A. Gelman and others, Bayesian Data Analysis, on regression).
    """
    found, _ = _by_hubers_rule(powers, v, stands)
    off = np.where(stands, np.abs(v - powers @ found), -1.0)
    suspects = np.argsort(-off)[: min(FARTHEST, int(stands.sum()))]
    most = min(int(MOST_ODD * stands.sum()), int(stands.sum()) - FEWEST_TEETH)
    odds = math.log(1.0 / (ONE_ODD_IN - 1.0) / ODD_OVER_MM)
    choices, likely = [], []
    for count in range(max(0, most) + 1):
        for odd in itertools.combinations(suspects.tolist(), count):
            kept = stands.copy()
            kept[list(odd)] = False
            for bow, share in zip(BOWS, BOWS_SHARES, strict=True):
                choices.append((kept, bow))
                likely.append(_log_likelihood(powers[kept], v[kept], bow) + count * odds + math.log(share))
    worth = np.exp(np.array(likely) - max(likely))
    told = np.flatnonzero(worth > UNLIKELY)
    shares: Floats = worth[told] / worth[told].sum()
    return [choices[k] for k in told], shares


def _log_likelihood(powers: Floats, v: Floats, bow: float) -> float:
    free, known = len(v) - 2, SCATTER_KNOWN * SCATTER_MM**2
    inner = powers.T @ powers + np.diag([0.0, 0.0, bow**-2])
    found = np.linalg.solve(inner, powers.T @ v)
    off = v - powers @ found
    return (
        math.lgamma((SCATTER_KNOWN + free) / 2.0)
        - 0.5 * (SCATTER_KNOWN + free) * math.log(1.0 + (float(off @ off) + float(found[2] / bow) ** 2) / known)
        - 0.5 * free * math.log(math.pi * known)
        - 0.5 * float(np.linalg.slogdet(inner)[1])
        - math.log(bow)
    )


def _by_hubers_rule(powers: Floats, v: Floats, kept: NDArray[np.bool_], bow: float = math.inf) -> tuple[Floats, Floats]:
    """Level, tilt and bow by the points ``kept``, hardly pulled by odd ones, and how each point moves the bow, of a
    line that may be so bowed, in scatters.

    Huber's weights have one answer wherever they begin, and it moves little when a point does.
    """
    weight, known = kept.astype(float), np.array([[0.0, 0.0, 1.0 / bow]])
    root = np.sqrt(weight)
    found: Floats = np.array([float(np.median(v[kept])), 0.0, 0.0])
    for _ in range(500):
        root = np.sqrt(weight / np.maximum(1.0, np.abs(v - powers @ found) / SCATTER_MM))
        before = found
        rows = np.vstack([powers * root[:, None], known])
        found = np.asarray(np.linalg.lstsq(rows, np.append(v * root, 0.0), rcond=None)[0], dtype=float)
        if float(np.abs(found - before).max()) < 1e-7:
            break
    pulls: Floats = np.linalg.pinv(np.vstack([powers * root[:, None], known]))[2, :-1] * root
    return found, pulls
