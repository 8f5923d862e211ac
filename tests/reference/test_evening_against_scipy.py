"""The evening plan against general-purpose optimizers: scipy's bounded least squares and linear programme."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from law_budget import examples
from session.trade.evening import even_points, extra_leveling_mm, worst_spacing_error_mm
from session.trade.uneven_line import UnevenLine, line_from_flats
from soak_table import tried

PITCH = 4.6
SAME_MM = 1e-9


@st.composite
def uneven_lines(draw: st.DrawFn, most: int = 400) -> UnevenLine:
    """A line of 2 to ``most`` teeth out of step by up to a fifth of the pitch, some teeth low or broken."""
    teeth = draw(st.integers(2, most))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    restless = draw(st.sampled_from([0.02, 0.1, 0.3]))
    drift = np.clip(np.cumsum(rng.normal(0.0, restless, teeth)) * 0.5, -1e9, 1e9) + rng.normal(0.0, restless, teeth)
    step = np.clip(np.diff(drift), -0.9, 0.9)
    middles = np.arange(teeth) * PITCH + np.concatenate([[0.0], np.cumsum(step)])
    half = rng.uniform(0.01, 0.4, teeth) / 2
    missing = rng.random(teeth) < draw(st.sampled_from([0.0, 0.05, 0.3]))
    missing[[0, -1]] = False
    flats = [[] if gone else [m - h, m + h] for m, h, gone in zip(middles, half, missing, strict=True)]
    broken = [int(k) + 1 for k in rng.choice(teeth, size=min(2, teeth - 2), replace=False) if 0 < k < teeth - 1]
    return line_from_flats(flats, PITCH, broken)


def _problem(line: UnevenLine) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Difference matrix and bounds in which every tooth without a flat is free to lie anywhere."""
    n = len(line.flats)
    nominal = np.arange(n) * PITCH
    low = np.array([-np.inf if flat is None else flat[0] for flat in line.flats]) - nominal
    high = np.array([np.inf if flat is None else flat[1] for flat in line.flats]) - nominal
    return np.diff(np.eye(n), axis=0), low, high


@examples(40)
@given(uneven_lines(most=100))
def test_points_are_those_of_bounded_least_squares(line: UnevenLine) -> None:
    hold_against_least_squares(line)


@pytest.mark.soak("a plan of evening by an optimizer")
@examples(80)
@given(uneven_lines())
def test_points_of_long_lines_are_those_of_bounded_least_squares(line: UnevenLine) -> None:
    hold_against_least_squares(line)


def hold_against_least_squares(line: UnevenLine) -> None:
    tried()
    rises, low, high = _problem(line)
    n = len(low)
    from scipy.optimize import lsq_linear  # slow to import, and only this file needs it

    solved = lsq_linear(rises, np.zeros(n - 1), (low, high), method="bvls", tol=1e-15, max_iter=10 * n)
    points = even_points(line)
    seen = [tooth for tooth, x in enumerate(points) if x is not None]
    ours = np.array([points[tooth] for tooth in seen], dtype=float) - np.array(seen) * PITCH
    theirs = solved.x[seen]
    if np.ptp(ours) < 1e-12:  # a level string fits, at any height between the bounds: only the spacing is told
        assert np.ptp(theirs) == pytest.approx(0.0, abs=1e-7)
    else:
        assert ours == pytest.approx(theirs, abs=SAME_MM)


@examples(40)
@given(uneven_lines())
def test_no_linear_programme_finds_a_smaller_worst_error(line: UnevenLine) -> None:
    assert worst_spacing_error_mm(PITCH, even_points(line)) == pytest.approx(_least_worst(line), abs=1e-7)


@examples(25)
@given(uneven_lines(most=120), st.floats(0.01, 0.3))
def test_extra_leveling_is_where_the_linear_programme_first_reaches_the_tolerance(
    line: UnevenLine, within: float
) -> None:
    depth = 3.1
    extra = extra_leveling_mm(line, depth, within)
    if extra is None:
        return
    assert _least_worst(_leveled(line, extra * PITCH / depth)) <= within + 1e-7
    if extra > 1e-6:
        assert _least_worst(_leveled(line, extra * PITCH / depth - 2e-6)) > within


def _leveled(line: UnevenLine, wider: float) -> UnevenLine:
    """The same line with every flat ``wider``, split between its edges as a rake of 15 degrees would."""
    flats = tuple(None if f is None else (f[0] - 0.79 * wider, f[1] + 0.21 * wider) for f in line.flats)
    return UnevenLine(line.pitch_mm, flats, line.low, line.broken)


def _least_worst(line: UnevenLine) -> float:
    tried()
    rises, low, high = _problem(line)
    n = len(low)
    from scipy.optimize import linprog
    from scipy.sparse import csr_matrix, hstack, vstack

    sparse, error = csr_matrix(rises), csr_matrix(-np.ones((n - 1, 1)))
    both = vstack([hstack([sparse, error]), hstack([-sparse, error])])
    bounds = [*zip(low, high, strict=True), (0.0, None)]
    solved = linprog(np.r_[np.zeros(n), 1.0], both, np.zeros(2 * n - 2), bounds=bounds)
    assert solved.status == 0
    return float(solved.fun)
