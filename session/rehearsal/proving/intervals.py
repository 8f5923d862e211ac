"""Intervals of what was counted and of means: Wilson's for shares, a bootstrap over saws for the rest."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from random import Random
from statistics import fmean

#: Two-sided, of a hundred: the usual 95, and the normal deviate that goes with it.
_SURE = 0.95
_DEVIATE = 1.959964

_RESAMPLES = 300


def wilson(found: int, of: int) -> tuple[float, float]:
    """The interval of a share (0 … 1) of which ``found`` in ``of`` were seen (E. B. Wilson 1927); (0, 1) of nothing.

    Raises ValueError for more found than there were.
    """
    if not 0 <= found <= of:
        raise ValueError(f"{found} found of {of}; allowed: 0 to {of}")
    if of == 0:
        return 0.0, 1.0
    share, square = found / of, _DEVIATE**2
    middle = (share + square / (2 * of)) / (1 + square / of)
    half = _DEVIATE * sqrt(share * (1 - share) / of + square / (4 * of**2)) / (1 + square / of)
    return max(0.0, middle - half), min(1.0, middle + half)


def of_mean(values: Sequence[float], seed: int = 0) -> tuple[float, float]:
    """The interval of the mean of ``values``, one or more, by resampling them; the same for the same seed."""
    if len(values) == 1:
        return values[0], values[0]
    rng = Random(seed)
    means = sorted(fmean(rng.choices(values, k=len(values))) for _ in range(_RESAMPLES))
    cut = round(_RESAMPLES * (1.0 - _SURE) / 2.0)
    return means[cut], means[-cut - 1]
