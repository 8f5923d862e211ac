"""What set a saw has by now and how far its line comes down at a sharpening: from the records.

Whatever tells how long a set lasts asks here, so that two screens never give two counts of one saw.
"""

from __future__ import annotations

from collections.abc import Sequence

from session.till.past_sharpening import Sharpening
from session.trade.kerf import bent_height_mm
from session.trade.middle_values import median
from session.trade.saw import Order, Saw
from session.trade.setting import LEAST_ARM_SHARE, SetLine
from session.trade.strokes import LIGHT_MM
from session.trade.tooth import shallowest_mm
from session.trade.trade_error import TradeError
from session.value_class import dataclass
from session.walk.stages import Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class SetWear:
    """What the records of one saw say of its set.

    each_mm: what one sharpening takes off the line, the median of the ``known`` ones; None without one.
    line: the set by now and the slope by which it goes; None when no record says that it was set or measured.
    measured: whether ``line`` rests on a width over the points, and not only on the recipe of the day of setting.
    told_mm: the set per side as last measured, before what came off since; None without one.
    came_down_mm: what the line has come down since that measurement, or since the last setting, 0 or more.
    """

    each_mm: float | None = None
    known: int = 0
    line: SetLine | None = None
    measured: bool = False
    told_mm: float | None = None
    came_down_mm: float = 0.0


def set_wear(finished: Sequence[Sharpening]) -> SetWear:
    """What ``finished``, the finished sharpenings of one saw, oldest first, say of its set.

    Only sharpenings that leveled count for the median: a touch-up says nothing of one that levels. A sharpening that
    took an unknown amount counts as the median, else as a light one (LIGHT_MM, from memory).
    """
    known = [off for one in finished if one.summary.line.passes and (off := one.off_mm)]
    each = median(known) if known else None
    fold = _Fold(each if each is not None else LIGHT_MM)
    for one in finished:
        fold.add(one)
    return SetWear(
        each_mm=each,
        known=len(known),
        line=fold.line,
        measured=fold.told_mm is not None,
        told_mm=fold.told_mm,
        came_down_mm=fold.came_down_mm,
    )


class _Fold:
    """The set of one saw through its sharpenings; ``arm_mm`` is what is left of the bent part, None when not known."""

    def __init__(self, usual_mm: float) -> None:
        self._usual_mm = usual_mm
        self.line: SetLine | None = None
        self.arm_mm: float | None = None
        self.told_mm: float | None = None
        self.came_down_mm = 0.0
        # Whether the slope is that of a set measured on its own day; else a later measurement tells it better.
        self._own_slope = False

    def add(self, one: Sharpening) -> None:
        """One more sharpening: found, worked, set or not, stoned."""
        off = one.came_down_mm
        off_mm = self._usual_mm if off is None else off
        if (found := one.found_set_mm) is not None and one.saw is not None:
            self._found(found, one.saw)
        if one.was_set:
            self._bent(one, off_mm)
        else:
            self._wear(off_mm)
        if self.line is not None:
            self.line = self.line.after(0.0, one.stone_passes)
        if (end := one.measured_end_mm) is not None and one.saw is not None:
            # What was measured last is what the next sharpening begins with.
            self._found(end, one.saw)

    def _found(self, found_mm: float, saw: Saw) -> None:
        """A point on the line. Where the slope was only the recipe's, this point and what is left of the bent part
        tell it; where the day of setting is not known, the recipe's own set and bend are all there is."""
        slope = self.line.slope if self.line is not None else 0.0
        if self.arm_mm is None:
            wanted = 0.0 if saw.set_per_side is None else saw.set_per_side.mm
            slope = max(wanted, found_mm) / arm if (arm := _arm_mm(saw)) else 0.0
        elif not self._own_slope:
            slope = found_mm / self.arm_mm
        self.line, self.told_mm, self.came_down_mm = SetLine(found_mm, slope).measured(found_mm), found_mm, 0.0

    def _bent(self, one: Sharpening, off_mm: float) -> None:
        """Set anew. Leveling comes before setting in either order, so it wears nothing off the new set; where the teeth
        are set first, the gullets are not yet as deep again as the line has come down."""
        after, saw = one.measured_after_mm, one.saw
        arm = None if saw is None else _arm_mm(saw)
        wanted = None if saw is None or saw.set_per_side is None else saw.set_per_side.mm
        set_mm = after if after is not None else wanted
        self.line = self.arm_mm = self.told_mm = None
        self.came_down_mm, self._own_slope = 0.0, after is not None
        if saw is None or arm is None or set_mm is None:
            return
        leveled = bool(one.summary.done.get(Stage.LEVEL))
        if saw.order is Order.SET_FIRST and leveled and not one.summary.done.get(Stage.RESHAPE):
            arm = max(arm - saw.bent_share * off_mm, LEAST_ARM_SHARE * arm)
        self.arm_mm, self.told_mm, self.line = arm, after, SetLine(set_mm, set_mm / arm)
        if after is not None:
            self.line = self.line.measured(after)
        if saw.order is Order.SET_FIRST and not leveled:
            self._wear(off_mm)

    def _wear(self, off_mm: float) -> None:
        if self.line is None:
            return
        self.came_down_mm += off_mm
        self.line = self.line.after(off_mm)
        if self.arm_mm is not None:
            self.arm_mm = max(self.arm_mm - off_mm, LEAST_ARM_SHARE * self.arm_mm)


def _arm_mm(saw: Saw) -> float | None:
    """How long the bent part is on the day of setting; None for a recipe that makes no tooth."""
    try:
        return bent_height_mm(shallowest_mm(saw), saw.bent_share)
    except TradeError:
        return None
