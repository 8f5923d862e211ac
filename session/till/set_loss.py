"""How far a saw's line has come down since its set was known, and how much a sharpening takes off it: from the records.

Whatever tells how long a set lasts asks here, so that two screens never give two counts of one saw.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from session.till.past_sharpening import Sharpening
from session.trade.evening import LIGHT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class SetWear:
    """What the records of one saw say of its set.

    each_mm: what one sharpening takes off the line, the median of the ``known`` ones; None without one.
    set_mm: set per side that the last sharpening to tell it left; None when nobody measured since the last setting,
        so that the recipe's own set is the best guess. came_down_mm: what the sharpenings after that one (or
        after the last setting) took off together, 0 when no record tells of either.
    """

    each_mm: float | None = None
    known: int = 0
    set_mm: float | None = None
    came_down_mm: float = 0.0


def set_wear(finished: Sequence[Sharpening]) -> SetWear:
    """What ``finished``, the finished sharpenings of one saw, oldest first, say of its set.

    Only sharpenings that leveled count for the median: one that did not takes nothing off, and says nothing of one
    that does. A sharpening that leveled and whose flats nobody graded counts as the median, else as a light one
    (LIGHT_MM, from memory). The leveling of the sharpening that set the teeth wears nothing off the new set as long as
    it comes before the setting, which is so in either order of work.
    """
    known = [off for one in finished if (off := one.off_mm)]
    each = median(known) if known else None
    told = {number: left for number, one in enumerate(finished, 1) if (left := one.left_set_mm) is not None}
    numbers = [number for number, one in enumerate(finished, 1) if one.was_set or number in told]
    since = finished[numbers[-1] :] if numbers else ()
    usual = each if each is not None else LIGHT_MM
    return SetWear(
        each_mm=each,
        known=len(known),
        set_mm=told.get(numbers[-1]) if numbers else None,
        came_down_mm=math.fsum(usual if one.off_mm is None else one.off_mm for one in since),
    )
