"""How wide a range is to be that holds about seven times in ten: the one meaning of every range the program states."""

from __future__ import annotations

from typing import Final

#: Standard deviations to either side within which a normal value lies seven times in ten.
KNOWN_SPREAD: Final = 1.0364


def either_side(free: float) -> float:
    """How many standard deviations to either side, when the deviation itself was learned from ``free`` (above 0)
    differences that were free to vary: Student's t of seven in ten by Cornish and Fisher's first term; no fewer than
    KNOWN_SPREAD. ``math.inf`` for a deviation that is known."""
    return KNOWN_SPREAD + (KNOWN_SPREAD**3 + KNOWN_SPREAD) / (4.0 * free)
