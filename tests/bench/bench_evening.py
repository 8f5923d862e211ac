"""How long the evening plan takes in pure Python, beside scipy on the same line in the same run.

    python tests/bench/bench_evening.py

Not a test: times differ between machines, so the ratio is what to look at. The aim is a plan of 1,000 teeth within
50 ms, so that a form can show it as the numbers change.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import lsq_linear
from scipy.sparse import diags

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from session.trade.evening import even_points, plan_evening
from session.trade.uneven_line import UnevenLine, line_from_flats

PITCH = 3.629
AIM_MS = 50.0


def uneven(teeth: int) -> UnevenLine:
    """A line whose teeth drift out of step and come back, with flats of several widths."""
    rng = random.Random(teeth)
    flats, off = [], 0.0
    for tooth in range(teeth):
        off = 0.9 * off + rng.gauss(0.0, 0.12)
        half = rng.uniform(0.02, 0.25)
        flats.append([tooth * PITCH + off - half, tooth * PITCH + off + half])
    return line_from_flats(flats, PITCH)


def milliseconds(work: Callable[[], object], repeats: int = 9) -> float:
    """Median time of ``work``."""
    times = []
    for _ in range(repeats):
        start = perf_counter()
        work()
        times.append(1000.0 * (perf_counter() - start))
    return median(times)


def scipy_points(line: UnevenLine) -> NDArray[np.float64]:
    """The same points by scipy's bounded least squares on a sparse matrix (an interior method: near, not exact)."""
    teeth = len(line.flats)
    nominal = np.arange(teeth) * PITCH
    low, high = np.array(line.flats, dtype=float).T
    rises = diags([-np.ones(teeth - 1), np.ones(teeth - 1)], [0, 1], shape=(teeth - 1, teeth)).tocsr()
    solved = lsq_linear(rises, np.zeros(teeth - 1), (low - nominal, high - nominal), tol=1e-12, lsmr_tol="auto")
    points: NDArray[np.float64] = np.asarray(solved.x) + nominal
    return points


def main() -> int:
    """Print a table; the exit status is 1 when 1,000 teeth miss the aim."""
    missed = False
    print(
        f"{'teeth':>6} {'points ms':>10} {'whole plan ms':>14} {'scipy ms':>9} {'scipy / ours':>13} {'differ mm':>10}"
    )
    for teeth in (60, 200, 400, 1000):
        line = uneven(teeth)
        ours = milliseconds(partial(even_points, line))
        whole = milliseconds(partial(plan_evening, line, 2.594, 0.889))
        theirs = milliseconds(partial(scipy_points, line), repeats=3)
        differ = float(np.abs(np.array(even_points(line), dtype=float) - scipy_points(line)).max())
        print(f"{teeth:>6} {ours:>10.2f} {whole:>14.2f} {theirs:>9.2f} {theirs / ours:>13.1f} {differ:>10.1e}")
        missed = missed or (teeth == 1000 and whole > AIM_MS)
    print("aim missed" if missed else f"aim met: 1,000 teeth within {AIM_MS:g} ms")
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
