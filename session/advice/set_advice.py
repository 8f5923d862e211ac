"""Whether a saw wants setting today, from what was measured over its points, and how long its set lasts."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from session.texts.wording import fine
from session.trade.kerf import MOST_SET_MM, SET_ERROR_MM, set_from_measurement_mm
from session.trade.saw import Saw
from session.trade.set_readings import SetReadings
from session.trade.setting import SetLine, SetState, set_slope, set_state
from session.trade.strokes import LIGHT_MM
from session.trade.tooth import shallowest_mm
from session.trade.trade_error import TradeError
from session.value_class import dataclass

#: The least set where the recipe names none, as a share of the set it asks for: judgment.
LEAST_SHARE: Final = 0.5

#: The fullest useful set, as a multiple of the recipe's; over it the saw has more than it needs: judgment.
PLENTY: Final = 1.3


def least_set_mm(saw: Saw) -> float | None:
    """The set per side under which setting is due, in mm; None when the recipe says nothing of set."""
    if saw.least_per_side is not None:
        return saw.least_per_side.mm
    return None if saw.set_per_side is None else LEAST_SHARE * saw.set_per_side.mm


def slope_of(saw: Saw, set_mm: float | None = None) -> float | None:
    """Set lost for each mm off the line of ``saw`` where no record tells of the day it was set: by the recipe's own set
    and bend, or by ``set_mm``, measured per side, where that is more. None when neither is known.

    Raises TradeError for angles that leave no tooth.
    """
    known = [mm for mm in (set_mm, None if saw.set_per_side is None else saw.set_per_side.mm) if mm is not None]
    return set_slope(max(known), shallowest_mm(saw), saw.bent_share) if known else None


def set_today(
    saw: Saw, line: SetLine | None, *, down_mm: float | None = None, stone_passes: float | None = None
) -> SetState | None:
    """The set of ``saw`` before and after today's work, whether it is due, and how many sharpenings it outlives.

    line: the set by now, from the records (session.till.set_loss) or from a measurement of today with ``slope_of``;
    None when it was never set in the records and never measured, and then None comes back: not known.
    down_mm: what today's leveling and filing take off the line, 0 when nothing is leveled or filed; None for a light
    sharpening, LIGHT_MM, from memory. stone_passes: passes of the stone a side, 0 or more; None for the recipe's.
    None comes back as well where the recipe does not say how much set it asks for. Raises TradeError for amounts that
    cannot be.
    """
    least = least_set_mm(saw)
    if line is None or least is None:
        return None
    passes = saw.dressing_passes if stone_passes is None else stone_passes
    return set_state(line, least, LIGHT_MM if down_mm is None else down_mm, passes)


def over_set(saw: Saw, set_mm: float) -> bool:
    """Whether a set of ``set_mm`` per side is over the fullest useful one, PLENTY times the recipe's, by more than a
    caliper can be wrong: then the stone takes it down, and nothing else does (judgment)."""
    wanted = None if saw.set_per_side is None else saw.set_per_side.mm
    return bool(wanted) and wanted is not None and set_mm > PLENTY * wanted + SET_ERROR_MM


def stone_alone_evens(saw: Saw, readings: SetReadings, *, down_mm: float | None = None) -> bool:
    """Whether an uneven set has enough everywhere to be stoned even: its leanest place still has the least set after
    today's work. Else the teeth are set up to PLENTY times the recipe's and stoned down to one width (judgment).

    Nothing is given to the caliper: all of the line is brought to that place, and is measured against the least when it
    is done, as `set_told` has it.
    down_mm: as for ``set_today``. False where the recipe says nothing of set.
    """
    slope, least = slope_of(saw, readings.least_mm), least_set_mm(saw)
    if slope is None or least is None:
        return False
    state = set_today(saw, SetLine(readings.least_mm, slope), down_mm=down_mm)
    return state is not None and state.after_mm >= least - _SAME_MM


#: Two figures closer than this are the same, in mm: what is left over where thousandths of an inch are reckoned in mm.
_SAME_MM: Final = 1e-6


class WrongSet(StrEnum):
    """Which way a set is out of what the work can use."""

    OVER = "too much"
    UNDER = "too little"


@dataclass(frozen=True, slots=True)
class SetTold:
    """What a width over the points says at the moment it is told, just after setting.

    text: one sentence, empty when the set is as the recipe asks. again: the width cannot be, so that it is to be
    measured again before anything rests on it. wrong: which way the set is out of what the work can use.
    """

    text: str = ""
    again: bool = False
    wrong: WrongSet | None = None


def set_told(saw: Saw, over_points_mm: float) -> SetTold:
    """Hold ``over_points_mm``, measured just after setting, against the plate, the set asked for and the least.

    So a wrong reading or a wrong set is put right while the saw is still in hand. Nothing is said where the recipe
    says nothing of set.
    """
    try:
        got = set_from_measurement_mm(over_points_mm, saw.plate.mm)
    except TradeError:
        width, plate = fine(over_points_mm, saw.unit), fine(saw.plate.mm, saw.unit)
        return SetTold(f"{width} is less than the plate, {plate}: measure again, the plate beside the teeth too.", True)
    wanted, least = None if saw.set_per_side is None else saw.set_per_side.mm, least_set_mm(saw)
    has = f"That is {fine(got, saw.unit)} a side"
    if got > MOST_SET_MM:
        most = fine(MOST_SET_MM, saw.unit)
        return SetTold(f"{has}, over the {most} that FSMAN prints as the most: measure again.", True)
    if wanted is None or least is None:
        return SetTold()
    asked = f"the {fine(wanted, saw.unit)} asked for"
    if over_set(saw, got):
        return SetTold(f"{has}, well over {asked}: measure again, then stone both sides down.", wrong=WrongSet.OVER)
    # After setting nothing is given to the caliper: what reads under the least is asked about while the set is in hand.
    if got < least - _SAME_MM:
        text = f"{has}, under the least of {fine(least, saw.unit)}: measure again, then set once more."
        return SetTold(text, wrong=WrongSet.UNDER)
    if abs(got - wanted) > SET_ERROR_MM:
        over, off = got > wanted, fine(abs(got - wanted), saw.unit)
        what = "still of use, go on" if over else "enough, go on"
        return SetTold(f"{fine(got, saw.unit)} a side, {off} {'over' if over else 'under'} {asked}: {what}.")
    return SetTold()
