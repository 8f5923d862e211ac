"""All figures of a saw in one row, for tests that ask for one by its key."""

from __future__ import annotations

from typing import Any

from session.advice.saw_figures import figure_groups
from session.advice.sourced_figure import Figure
from session.trade.saw import Saw


def figures(saw: Saw, **known: Any) -> tuple[Figure, ...]:
    """The figures of ``saw`` one after the other; ``known`` as `figure_groups` takes it."""
    return tuple(figure for _, group in figure_groups(saw, **known) for figure in group)
