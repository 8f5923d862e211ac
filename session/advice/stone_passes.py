"""How many light passes of the stone take an over-full set down, by what passes took on this saw today.

No work that was read says what a pass takes, and stones differ. So the first passes go a part of the way by what is
usual, the width is measured, and the rest is reckoned from what was measured.
"""

from __future__ import annotations

import math
from typing import Final

from session.advice.set_advice import PLENTY
from session.advice.sourced_figure import amount
from session.texts.wording import fine, times
from session.trade.kerf import SET_ERROR_MM, kerf_mm, set_from_measurement_mm
from session.trade.rounding import whole_number
from session.trade.saw import Saw
from session.trade.setting import STONE_PASS_MM
from session.trade.trade_error import TradeError
from session.value_class import dataclass
from session.walk.measurables import Measurable, length_mm
from session.walk.place import Place
from session.walk.stages import Kind, Stage
from session.walk.state import State

#: Of the passes that are usual, this share is made before the first measuring: a stone that takes three times as much
#: still goes no further than the set that is wanted (judgment).
SHARE_UNMEASURED: Final = 1 / 3

#: The most passes a side before the width is measured again: a fresh stone takes more than a worn one (judgment).
MOST_PASSES: Final = 20

#: Work after which two widths do not tell what the stone alone took.
_OTHER_WORK: Final = frozenset({Stage.LEVEL, Stage.RESHAPE, Stage.SET, Stage.FILE})

_WIDTHS: Final = frozenset({Measurable.OVER_POINTS, Measurable.OVER_POINTS_AFTER, Measurable.OVER_POINTS_END})


@dataclass(frozen=True, slots=True)
class Stoned:
    """What the stone took between two widths: of the set of a side, in mm, and by how many passes a side, 0 or more."""

    taken_mm: float
    passes: float

    @property
    def pass_mm(self) -> float | None:
        """What one pass took; None where it is no more than the caliper can be wrong."""
        return self.taken_mm / self.passes if self.passes > 0 and self.taken_mm > SET_ERROR_MM else None


NOT_STONED: Final = Stoned(0.0, 0.0)


def passes_down(over_mm: float, stoned: Stoned = NOT_STONED) -> int:
    """How many passes a side, 1 to MOST_PASSES, before the width is measured again.

    over_mm: how far the set of a side is to come down. They are as many as by the passes of today do not take more than
    that; where those tell nothing, a share of what is usual.
    """
    if stoned.pass_mm is not None:
        passes = over_mm / stoned.pass_mm
    else:
        # Too little to be measured still says what a pass takes at most.
        at_most = (stoned.taken_mm + SET_ERROR_MM) / stoned.passes if stoned.passes else math.inf
        passes = max(SHARE_UNMEASURED * over_mm / STONE_PASS_MM, over_mm / at_most)
    return min(MOST_PASSES, max(1, math.floor(passes + 1e-9)))


def enough_mm(saw: Saw) -> float | None:
    """The width over the points at which the stone has taken enough, in mm: that of the fullest useful set, PLENTY
    times the recipe's; None where the recipe says nothing of set."""
    return None if saw.set_per_side is None else kerf_mm(saw.plate.mm, PLENTY * saw.set_per_side.mm)


def passes_words(saw: Saw, over_mm: float, stoned: Stoned) -> str:
    """How many passes that are and what it rests on, as one sentence; empty where the recipe says nothing of set."""
    enough = enough_mm(saw)
    if enough is None:
        return ""
    count = f"about {times(passes_down(over_mm, stoned), 'pass')} a side"
    if stoned.pass_mm is None:
        why = "a third of what is usual, as stones differ"
    else:
        why = f"{times(whole_number(stoned.passes), 'pass')} took {fine(stoned.taken_mm, saw.unit)} a side here"
    return f"Enough at {amount(enough, saw.unit)} over the points: {count}, then measure ({why})."


def _bends_or_files(place: Place) -> bool:
    return place.stage in _OTHER_WORK and place.kind is not Kind.STEP


def stoned_since(state: State, saw: Saw) -> Stoned:
    """What the stone took to the width measured last, from the first one after which nothing else was done."""
    standing = [mark for mark in state.marks if mark.seq not in state.taken]
    widths = [
        (mark.seq, wide)
        for mark in standing
        if mark.what in _WIDTHS and (wide := length_mm(mark.value, mark.unit)) is not None
    ]
    other = max((mark.seq for place, mark in state.outcomes.items() if _bends_or_files(place)), default=0)
    widths = [(seq, wide) for seq, wide in widths if seq > other]
    if len(widths) < 2:
        return NOT_STONED
    (since, before), (until, after) = widths[0], widths[-1]
    passes = sum(
        place.stage is Stage.DRESS and place.kind is Kind.PASS and since < mark.seq < until
        for place, mark in state.outcomes.items()
    )
    try:
        taken = set_from_measurement_mm(before, saw.plate.mm) - set_from_measurement_mm(after, saw.plate.mm)
    except TradeError:
        return NOT_STONED
    return Stoned(max(0.0, taken), passes / 2.0)


def over_now_mm(saw: Saw, over_points_mm: float) -> float:
    """How far the set of a side is over the fullest useful one at a width of ``over_points_mm``, in mm; 0 or more."""
    enough = enough_mm(saw)
    return 0.0 if enough is None else max(0.0, (over_points_mm - enough) / 2.0)
