from __future__ import annotations

import random

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from session.trade.taut_string import taut_string


@st.composite
def tubes(draw: st.DrawFn) -> tuple[list[float], list[float], list[float]]:
    """Places with gaps between them, some wide, some a single height, some with equal edges in a row."""
    count = draw(st.integers(1, 60))
    places = [0.0]
    for _ in range(count - 1):
        places.append(places[-1] + draw(st.integers(1, 4)))
    grid = st.integers(-20, 20).map(lambda n: n / 8)
    low = [draw(grid) for _ in range(count)]
    high = [floor + draw(st.sampled_from([0.0, 0.125, 0.5, 2.0])) for floor in low]
    return places, low, high


@given(tubes())
@example(([0.0, 4.0, 9.0], [-0.5, -0.125, 0.125], [0.5, -0.125, 0.125]))
@example(([0.0, 1.0, 2.0, 3.0], [0.0, 0.0, 0.0, 0.0], [1.0, 0.0, 0.0, 1.0]))
def test_the_string_keeps_in_its_tube_and_bends_only_around_edges(
    tube: tuple[list[float], list[float], list[float]],
) -> None:
    places, low, high = tube
    y = taut_string(places, low, high)
    slopes = [0.0, *((b - a) / (q - p) for a, b, p, q in zip(y, y[1:], places, places[1:], strict=False)), 0.0]
    for k, height in enumerate(y):
        assert low[k] <= height <= high[k]
        turn = slopes[k + 1] - slopes[k]
        if turn > 1e-9:  # bends upward: it hangs over an upper edge
            assert height == pytest.approx(high[k], abs=1e-9)
        elif turn < -1e-9:  # bends downward: it rests on a lower edge
            assert height == pytest.approx(low[k], abs=1e-9)


@given(tubes(), st.integers(-8, 8), st.sampled_from([0.25, 2.0, 16.0]))
def test_lifting_and_scaling_the_tube_lifts_and_scales_the_string(
    tube: tuple[list[float], list[float], list[float]], lift: int, scale: float
) -> None:
    places, low, high = tube
    y = taut_string(places, low, high)
    moved = taut_string(places, [scale * v + lift for v in low], [scale * v + lift for v in high])
    assert moved == pytest.approx([scale * v + lift for v in y], abs=1e-9)


@given(tubes())
def test_a_tube_turned_end_for_end_gives_the_same_string(tube: tuple[list[float], list[float], list[float]]) -> None:
    places, low, high = tube
    turned = taut_string([places[-1] - p for p in reversed(places)], low[::-1], high[::-1])
    assert turned[::-1] == pytest.approx(taut_string(places, low, high), abs=1e-9)


def test_a_level_string_takes_the_mean_of_the_middles() -> None:
    assert taut_string([0, 1, 2], [0, 0, 0], [1, 1, 4]) == pytest.approx([1.0] * 3)
    assert taut_string([0, 1], [0, 0], [1, 2]) == pytest.approx([0.75] * 2)
    assert taut_string([3], [1], [2]) == [1.5]


def test_a_string_over_one_post() -> None:
    assert taut_string([0, 2, 4], [0, 1, 0], [0, 3, 0]) == pytest.approx([0, 1, 0])
    assert taut_string([0, 2, 6], [0, -9, 3], [0, 9, 3]) == pytest.approx([0, 1, 3])


def test_work_grows_with_the_line_and_not_with_its_square() -> None:
    # Counted in comparisons of an edge, not in seconds: every corner is put in and taken out once.
    def edges_read(count: int) -> int:
        rng = random.Random(7)
        low = [_Counted(rng.gauss(0.0, 0.2)) for _ in range(count)]
        high = [_Counted(value + 0.3) for value in low]
        _Counted.reads = 0
        taut_string(range(count), low, high)
        return _Counted.reads

    assert edges_read(4000) < 4.5 * edges_read(1000)


class _Counted(float):
    """A height that counts how often it is subtracted: once for every slope that is computed."""

    reads = 0

    def __sub__(self, other: float) -> float:
        _Counted.reads += 1
        return float(self) - float(other)
