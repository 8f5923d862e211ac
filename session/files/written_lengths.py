"""Lengths in a model: written as a text with its unit, and held as `Length`."""

from __future__ import annotations

import math
from collections.abc import Callable

from session.machine.clean_text import clean
from session.trade.lengths import Length, parse_length


def length_check(example: str, least_mm: float = 0.0, most_mm: float = math.inf) -> Callable[[object], Length]:
    """A check for lengths from ``least_mm`` to ``most_mm``; ``example`` shows one."""

    def check(value: object) -> Length:
        if not isinstance(value, str):
            raise ValueError(f'not a text with a unit, such as "{example}"; allowed units: mm, cm, m, in or thou')
        length = parse_length(clean(value), example)
        if not least_mm <= length.mm <= most_mm:
            raise ValueError(f"{length.text} is out of range; allowed: {_said(least_mm)} to {_said(most_mm)}")
        return length

    return check


def _said(mm: float) -> str:
    return f"{mm / 1000:g} m" if mm >= 1000 else f"{mm:g} mm"
