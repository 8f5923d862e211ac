"""Setting: which way each tooth leans, what set is left, and whether it is due today.

Filing lowers point and gullet together while the bend stays where it is in the steel. So the set wears
off with every sharpening, in proportion to what the line has come down.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from session.trade.kerf import KerfError, bent_height_mm
from session.trade.saw import Leans
from session.trade.sides import side_on_which_leans_away

#: Said before the first tooth is set. Keep a tooth bent as it goes: PSM89, NOYES. That it may break out when bent
#: back is common practice, no source. Cold, a little at a time: ROSS, KING, FSMAN.
NEVER_BACK: Final = (
    "Bend each tooth only the way it leans already (PSM89, NOYES). Bent back the other way it may break out; "
    "set cold, a little at a time (ROSS, KING, FSMAN)."
)


@dataclass(frozen=True, slots=True)
class SetState:
    """The set of a saw today and how long it will last.

    left_mm: set per side that is left, 0 or more.
    due: True when that is under the least set the work asks for.
    outlives: how many more sharpenings like the last one it lasts before it is due; None when nothing
        is known of what a sharpening takes off, or it takes off nothing.
    """

    left_mm: float
    due: bool
    outlives: int | None


def bends_back(tooth: int, side: int, first_leans: Leans) -> str | None:
    """The warning when ``tooth`` would be pushed away from the person on ``side`` against its lean; else None."""
    if first_leans is Leans.UNSET or side_on_which_leans_away(tooth, first_leans) == side:
        return None
    return f"Tooth {tooth} leans toward you on side {side}: leave it for the other side. {NEVER_BACK}"


def set_left_mm(set_mm: float, came_down_mm: float, depth_mm: float, bent_share: float) -> float:
    """Set per side after the line has come down ``came_down_mm`` in all since it was set.

    s' = s·(1 − δ/(q·h)), 0 once δ has reached the bend at q·h: what is left of a straight bent part, by
    similar triangles. All in millimeters. Raises KerfError for a negative or infinite amount.
    """
    arm = bent_height_mm(depth_mm, bent_share)
    _zero_or_more("set per side", set_mm)
    _zero_or_more("what the line has come down", came_down_mm)
    return set_mm * max(0.0, 1.0 - came_down_mm / arm)


def set_state(
    set_mm: float,
    least_mm: float,
    came_down_mm: float,
    each_time_mm: float | None,
    depth_mm: float,
    bent_share: float,
) -> SetState:
    """The set left, whether setting is due today, and how many more sharpenings the set outlives.

    set_mm, least_mm: per side, as set and as the work asks for; came_down_mm: what the line has come down
    since; each_time_mm: what one sharpening takes off, None when not known. All in millimeters.
    Raises KerfError as set_left_mm does.
    """
    _zero_or_more("least set per side", least_mm)
    left = set_left_mm(set_mm, came_down_mm, depth_mm, bent_share)
    due = left < least_mm * (1.0 - 1e-12)
    if each_time_mm is not None:
        _zero_or_more("what one sharpening takes off", each_time_mm)
    if due:
        return SetState(left, True, 0)
    if not each_time_mm or set_mm == 0.0:
        return SetState(left, False, None)
    arm = bent_height_mm(depth_mm, bent_share)
    lasts_mm = arm * (1.0 - least_mm / set_mm) - came_down_mm
    return SetState(left, False, max(0, math.floor(lasts_mm / each_time_mm + 1e-9)))


def _zero_or_more(what: str, mm: float) -> None:
    if not (math.isfinite(mm) and mm >= 0.0):
        raise KerfError(f"{what} {mm:g} mm; allowed: 0 mm or more")
