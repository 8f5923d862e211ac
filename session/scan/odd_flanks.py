"""Teeth with a flank that no file has left there: something lies on it, and the tooth was not seen."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median
from typing import Final

from session.scan.read_tooth import ReadTooth
from session.value_class import replace

#: A flank that leans otherwise than the middle one of those around it by more is none, degrees (our own limit).
MOST_OTHER_DEG: Final = 6.0

#: So many teeth on either side are around one: rakes may change along a line.
AROUND: Final = 4


def believed(teeth: Sequence[ReadTooth]) -> tuple[ReadTooth, ...]:
    """``teeth``, those with such a flank told covered; of the outer ones the outer flank may be the plate's end."""
    lefts, rights = [one.left for one in teeth], [one.right for one in teeth]
    kept = []
    for at, one in enumerate(teeth):
        odd = one.fit == "top" and ((at > 0 and _odd(lefts, at)) or (at < len(teeth) - 1 and _odd(rights, at)))
        # Such flanks meet nowhere that says anything: how high the edge comes does.
        kept.append(replace(one, fit="covered", v=one.edge) if odd else one)
    return tuple(kept)


def _odd(leans: Sequence[float | None], at: int) -> bool:
    """Whether a flank leans otherwise than those around it."""
    own = leans[at]
    around = [one for one in leans[max(0, at - AROUND) : at + AROUND + 1] if one is not None]
    return own is not None and abs(own - median(around)) > MOST_OTHER_DEG
