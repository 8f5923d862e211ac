"""Setting: which way each tooth leans, what set is left, and whether it is due today.

Filing lowers point and gullet together while the bend stays where it is in the steel: the bent part is q·h long on the
day of setting and only gets shorter. So the set wears off along one straight line, whose slope is fixed on that day; a
set measured later is a point on the same line.
"""

from __future__ import annotations

import math
from typing import Final

from session.trade.kerf import CALIPER_MM, SET_ERROR_MM, bent_height_mm
from session.trade.saw import Leans
from session.trade.sides import side_on_which_leans_away
from session.trade.trade_error import TradeError
from session.value_class import dataclass

#: Said before the first tooth is set. Keep a tooth bent as it goes: PSM89, NOYES. That it may break out when bent
#: back is common practice, no source. Cold, a little at a time: ROSS, KING, FSMAN.
NEVER_BACK: Final = (
    "Bend each tooth only the way it leans already (PSM89, NOYES). Bent back the other way it may break out; "
    "set cold, a little at a time (ROSS, KING, FSMAN)."
)


#: What one light pass of the stone takes off the set of its side, in mm: judgment; no work that was read says.
STONE_PASS_MM: Final = 0.005

#: Where the line is said to have come down by the whole bent part and yet has set, one of the two is misread. Then at
#: least this share of the bent part is taken to be left: judgment.
LEAST_ARM_SHARE: Final = 0.1

_ROUNDING_MM: Final = 1e-9


@dataclass(frozen=True, slots=True)
class SetLine:
    """The set of a saw: what is left of it now, and how much of it goes with the steel.

    left_mm: set per side, 0 or more. slope: set lost for each mm that the line of points comes down, 0 or more; it is
    fixed on the day of setting, because the bend stays where it is in the steel. doubt_mm: by how much the reading that
    ``left_mm`` rests on may have been too much, 0 where none was taken.
    """

    left_mm: float
    slope: float
    doubt_mm: float = 0.0

    def after(self, down_mm: float, stone_passes: float = 0) -> SetLine:
        """The same line once the points have come down by ``down_mm`` and each side was stoned ``stone_passes`` times.

        s' = s − σ·δ − passes·STONE_PASS_MM, never under 0. Raises TradeError for a negative or infinite amount.
        """
        _zero_or_more("what the line comes down", down_mm)
        _zero_or_more("what the stone takes", stone_passes * STONE_PASS_MM)
        left = self.left_mm - self.slope * down_mm - stone_passes * STONE_PASS_MM
        return SetLine(max(0.0, left), self.slope, self.doubt_mm)

    def measured(self, left_mm: float) -> SetLine:
        """The same line with what was measured today: a point on it, and no fresh bend.

        The width may have been read too large by CALIPER_MM, the set of a side so by half of that.
        """
        _zero_or_more("set per side", left_mm)
        return SetLine(left_mm, self.slope, CALIPER_MM / 2)


@dataclass(frozen=True, slots=True)
class SetState:
    """Whether the set of a saw is due today, and how long it lasts.

    left_mm: set per side before today's work. after_mm: what today's work leaves of it. due: whether that is under the
    least set the work asks for by more than a caliper can be wrong. outlives: how many sharpenings like today's leave
    the least set or more; None when they take nothing off it.
    """

    left_mm: float
    after_mm: float
    due: bool
    outlives: int | None


def bends_back(tooth: int, side: int, first_leans: Leans) -> str | None:
    """The warning when ``tooth`` would be pushed away from the person on ``side`` against its lean; else None."""
    if first_leans is Leans.UNSET or side_on_which_leans_away(tooth, first_leans) == side:
        return None
    return f"Tooth {tooth} leans toward you on side {side}: leave it for the other side. {NEVER_BACK}"


def set_slope(set_mm: float, depth_mm: float, bent_share: float, came_down_mm: float = 0.0) -> float:
    """Set lost for each mm that the line comes down: σ = s/(q·h − δ), a number of 0 or more.

    set_mm: set per side as measured when the line had come down by ``came_down_mm`` since the day of setting, on which
    the tooth was ``depth_mm`` deep and bent at the share ``bent_share`` of it. The bent part is straight and was
    q·h long that day (similar triangles). Raises TradeError for a negative or infinite amount.
    """
    arm = bent_height_mm(depth_mm, bent_share)
    _zero_or_more("set per side", set_mm)
    _zero_or_more("what the line has come down", came_down_mm)
    return set_mm / max(arm - came_down_mm, LEAST_ARM_SHARE * arm)


def set_due(after_mm: float, least_mm: float) -> bool:
    """Whether ``after_mm``, the set per side that today's work will leave, calls for setting: it is under ``least_mm``
    by more than a caliper can be wrong (SET_ERROR_MM); short by rounding is not short."""
    return after_mm < least_mm - SET_ERROR_MM - _ROUNDING_MM


def set_state(line: SetLine, least_mm: float, down_mm: float, stone_passes: float = 0) -> SetState:
    """Whether setting is due today, and how many sharpenings the set outlives.

    least_mm: the least set per side that the work asks for. down_mm: what today's leveling and filing, and each
    sharpening after it, take off the line; stone_passes: passes of the stone a side. Raises TradeError for a negative
    or infinite amount.
    """
    _zero_or_more("least set per side", least_mm)
    after = line.after(down_mm, stone_passes)
    due = set_due(after.left_mm, least_mm)
    loss = line.slope * down_mm + stone_passes * STONE_PASS_MM
    if due:
        outlives: int | None = 0
    elif loss == 0.0:
        outlives = None
    else:
        # On the safe side: a life told too long is a saw that binds.
        outlives = max(0, math.floor((line.left_mm - line.doubt_mm - least_mm) / loss + 1e-9))
    return SetState(line.left_mm, after.left_mm, due, outlives)


def _zero_or_more(what: str, mm: float) -> None:
    if not (math.isfinite(mm) and mm >= 0.0):
        raise TradeError(f"{what} {mm:g} mm; allowed: 0 mm or more")
