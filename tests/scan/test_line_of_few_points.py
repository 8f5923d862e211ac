"""Where few points stand, the line is laid by every likely choice of odd ones, and what that leaves open is stated."""

from __future__ import annotations

import math

import numpy as np
import pytest

from known_line import random_line
from scan_judged import true_heights
from session.scan.laid_line import laid_line
from session.scan.light_levels import Floats

BROKEN_MM = 0.6


def heights(count: int, odd: dict[int, float], scatter: float = 0.01) -> tuple[Floats, Floats]:
    """Places and heights of points 5 mm apart that scatter by so much about a bowed line, odd ones moved down."""
    u = 5.0 * np.arange(count, dtype=float)
    v = scatter * np.random.default_rng(4).normal(size=count) + 0.2 * (2.0 * u / u[-1] - 1.0) ** 2
    for at, by in odd.items():
        v[at] -= by
    return u, v


def off_true(u: Floats, v: Floats) -> Floats:
    """By how much the line laid is off the one that was drawn, in the uncertainties that it states, mm."""
    laid = laid_line(u, v, BROKEN_MM)
    true = 0.2 * (2.0 * u / u[-1] - 1.0) ** 2
    return np.array(
        [(laid.height_at(at) - one) / math.hypot(0.01, laid.se_at(at)) for at, one in zip(u, true, strict=True)]
    )


@pytest.mark.parametrize("odd", [{}, {4: 0.2}, {3: 0.25, 5: 0.3}, {2: -0.2, 6: 0.2}, {3: 2.0}], ids=str)
def test_odd_ones_among_nine_hardly_pull_the_line(odd: dict[int, float]) -> None:
    assert np.abs(off_true(*heights(9, odd))).max() < 2.0


def test_a_low_point_at_an_end_with_none_beside_it_bends_a_straight_line_in_doubt_alone() -> None:
    u = 5.0 * np.array([0.0, 1.0, 3.0, 4.0, 5.0, 6.0, 10.0])
    v = 0.008 * np.random.default_rng(4).normal(size=7)
    v[-1] -= 0.17
    laid = laid_line(u, v, BROKEN_MM)
    # It is told neither whole nor low: not at two uncertainties.
    assert laid.height_at(50.0) - v[-1] + 2.0 * laid.se_at(50.0) > 0.085
    assert max(laid.se_at(at) for at in u[:-1]) < 0.01
    # A point more at that end, and the low one is told by as much as it is.
    u, v = np.append(u, 55.0), np.append(v, 0.005)
    laid = laid_line(u, v, BROKEN_MM)
    assert abs(laid.height_at(50.0) - v[-2] - 0.17) < 0.03


def test_a_bow_of_few_points_is_told_where_it_stands_out() -> None:
    u, _ = heights(9, {})
    x = 2.0 * u / u[-1] - 1.0
    scatter = 0.012 * np.random.default_rng(6).normal(size=9)
    assert abs(laid_line(u, scatter, BROKEN_MM).bow) < 0.7 * abs(float(np.polyfit(x, scatter, 2)[0]))
    assert abs(laid_line(u, scatter + 0.2 * x**2, BROKEN_MM).bow - 0.2) < 0.03


def test_a_line_of_which_two_choices_are_as_likely_is_in_doubt_where_they_differ() -> None:
    # Four points of seven on one parabola and three on another: which of them are odd nobody can tell.
    u, v = heights(7, {}, scatter=0.0)
    sure = laid_line(u, v, BROKEN_MM)
    v[[1, 5]] -= 0.15
    doubtful = laid_line(u, v, BROKEN_MM)
    assert max(sure.se_at(at) for at in u) < 0.01
    assert max(doubtful.se_at(at) for at in u) > 0.03


def test_a_long_line_is_laid_by_most_of_its_points() -> None:
    u, v = heights(40, {38: 0.4, 39: 0.3, 20: 0.2})
    laid = laid_line(u, v, BROKEN_MM)
    assert np.abs(off_true(u, v)).max() < 1.0
    assert laid.se_at(0.0) == 0.0


def test_no_whole_tooth_of_random_short_lines_is_told_low_or_high_by_two_uncertainties() -> None:
    lines = [line for line in map(random_line, range(300_000, 300_120)) if len(line.teeth) < 16]
    assert len(lines) > 20
    told, faults = 0, 0
    for line in lines:
        under, _ = true_heights(line)
        teeth = [(one, low) for one, low in zip(line.teeth, under, strict=True) if one.state != "broken"]
        laid = laid_line(np.array([one.place for one, _ in teeth]), np.array([one.v for one, _ in teeth]), BROKEN_MM)
        for one, low in teeth:
            found, se = laid.height_at(one.place) - one.v, laid.se_at(one.place)
            if abs(low) < 0.07:
                assert abs(found) < 0.085 + 2.0 * se, (line.seed, one)
            elif abs(low) > 0.1:
                faults += 1
                told += abs(found) > 0.085 + 2.0 * se
                assert abs(found) > 0.085 - 2.0 * se, (line.seed, one)
    assert told > 0.8 * faults
