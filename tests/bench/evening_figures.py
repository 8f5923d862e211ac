"""What the evening plan takes, beside scipy's bounded least squares on the same line."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from session.trade.evening import even_points
from session.trade.uneven_line import MOST_TEETH
from tests.bench.bench_evening import scipy_points, uneven
from tests.bench.figures import Figure, figure, in_turn, processor_ms


def evening_figures(*, quick: bool) -> Iterator[Figure]:
    """The points of short and long lines."""
    for teeth in (100, 1000) if quick else (100, 1000, MOST_TEETH):
        line = uneven(teeth)
        ours, least = (
            partial(processor_ms, partial(even_points, line)),
            partial(processor_ms, partial(scipy_points, line)),
        )
        yield figure(f"evening, {teeth:,} teeth", "scipy bounded least squares", "ms", in_turn(ours, least, 3))
