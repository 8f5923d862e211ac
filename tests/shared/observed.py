"""What is seen of a panel saw of 35 thou, said short: widths over its points, a sharp one, a dull one; what is told."""

from __future__ import annotations

from typing import Any

from session.advice.stops import Advised
from session.trade.lengths import Length
from session.trade.observation import Seen
from session.trade.seen_words import Bright, Cutting, Grain, Handle, Plate


def over(*thou: float) -> tuple[Length, ...]:
    """Widths over the points of the plate of 35 thou with so much set a side."""
    return tuple(Length.of((35.0 + 2 * one) * 0.0254, "in") for one in thou)


def sharp(**seen: Any) -> Seen:
    """A sharp saw with a straight, clean plate and a tight handle."""
    plate = frozenset({Plate.STRAIGHT, Plate.CLEAN, Plate.SOUND})
    return Seen(**{"bright": Bright.NONE, "plate": plate, "handle": Handle.TIGHT, **seen})


def dull(**seen: Any) -> Seen:
    """Most points shine and it cuts slowly across the grain."""
    return Seen(**{"bright": Bright.MOST, "last_cut": Cutting.SLOW, "cut": Grain.ACROSS, **seen})


def told(found: Advised) -> str:
    return " ".join([*(one.reason for one in found.work), *found.notes])
