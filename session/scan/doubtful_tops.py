"""How far a point may stand otherwise than told, where two dots do not tell a narrow flat from a sharp point.

A sharp tooth among flat ones or a flat one among sharp ones is so far under or over where it is told, should it be as
the others are. Told low or high is only what is so either way.
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median
from typing import Final

from session.scan.read_tooth import ReadTooth
from session.value_class import replace

#: A flat that ends so few dots under the meeting of its flanks may be a sharp point (found on rendered scans: of a
#: hundred sharp ones one seems to end 1.8 dots under it).
MAY_BE_SHARP: Final = 2.3

#: So large a share of the teeth tells of what kind the others are (our own choice).
CLEAR: Final = 0.7


def doubted(teeth: Sequence[ReadTooth], dot: float) -> tuple[ReadTooth, ...]:
    """``teeth``, each with how far it may stand higher and lower than told. dot: mm."""
    tops = [one for one in teeth if one.fit == "top"]
    if not tops:
        return tuple(teeth)
    flat = sum(_is_flat(one) for one in tops) / len(tops)
    usual = median(one.drop for one in tops if not _is_flat(one)) if flat <= 1.0 - CLEAR else 0.0
    kept = []
    for one in teeth:
        if _is_flat(one):
            higher, lower = one.drop if flat < CLEAR and one.drop < MAY_BE_SHARP * dot else 0.0, 0.0
        else:
            # Should what all of them seem to lack be theirs, the one that lacks less stands over them.
            higher, lower = max(0.0, usual - one.drop), max(0.0, one.drop - usual)
        kept.append(replace(one, higher=higher, lower=lower) if one.fit == "top" else one)
    return tuple(kept)


def _is_flat(one: ReadTooth) -> bool:
    return one.a is not None and one.b is not None and one.b > one.a
