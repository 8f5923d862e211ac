"""How far a saw's line has come down since it was set, and how much a sharpening takes off it: from the records."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from session.records.sharpening import Sharpening
from session.trade.evening import LIGHT_MM


@dataclass(frozen=True, slots=True)
class SetWear:
    """each_mm: what the last sharpening of which it is known took off the line, None without one.
    came_down_mm: what those after the last setting took off together, 0 when no record set the teeth."""

    each_mm: float | None = None
    came_down_mm: float = 0.0


def set_wear(finished: Sequence[Sharpening]) -> SetWear:
    """What ``finished``, the finished sharpenings of one saw, oldest first, say of its set.

    A sharpening that leveled and whose flats nobody graded counts as one like the last known, else as a light
    one (LIGHT_MM, from memory). The leveling of the sharpening that set the teeth wears nothing off the new set
    as long as it comes before the setting, which is so in either order of work.
    """
    known = [off for one in finished if (off := one.off_mm)]
    each = known[-1] if known else None
    numbers = [number for number, one in enumerate(finished, 1) if one.was_set]
    since = finished[numbers[-1] :] if numbers else ()
    usual = each if each is not None else LIGHT_MM
    return SetWear(each, math.fsum(usual if one.off_mm is None else one.off_mm for one in since))
