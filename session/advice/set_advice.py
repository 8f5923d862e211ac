"""Whether a saw wants setting today, from what was measured over its points, and how long its set lasts."""

from __future__ import annotations

from typing import Final

from session.advice.findings import Findings
from session.texts.wording import fine, times
from session.trade.evening import LIGHT_MM
from session.trade.kerf import KerfError, set_from_measurement_mm
from session.trade.saw import Leans, Saw
from session.trade.setting import SetState, set_state
from session.trade.tooth import shallowest_mm

#: The least set where the recipe names none, as a share of the set it asks for: judgement.
LEAST_SHARE: Final = 0.5

#: From this many times the recipe's set on, the saw has more than it needs: judgement.
PLENTY: Final = 1.5

_UPPER: Final = "GRIF; FSMAN; RECIPE"  # no more set than lets the blade move freely


def least_set_mm(saw: Saw) -> float | None:
    """The set per side under which setting is due, in mm; None when the recipe says nothing of set."""
    if saw.least_per_side is not None:
        return saw.least_per_side.mm
    return None if saw.set_per_side is None else LEAST_SHARE * saw.set_per_side.mm


def set_today(
    saw: Saw, *, set_mm: float | None = None, came_down_mm: float = 0.0, each_time_mm: float | None = None
) -> SetState | None:
    """The set of ``saw`` by now and how many more sharpenings it outlives; None when the recipe does not tell.

    set_mm: set per side as it was last measured; None for the recipe's. came_down_mm: what the line has come down
    since then, 0 or more. each_time_mm: what one sharpening takes off; None for a light one, LIGHT_MM, from memory.
    Raises KerfError for amounts that cannot be, ToothError for angles that leave no tooth.
    """
    stood = set_mm if set_mm is not None or saw.set_per_side is None else saw.set_per_side.mm
    least = least_set_mm(saw)
    if stood is None or least is None:
        return None
    each = LIGHT_MM if each_time_mm is None else each_time_mm
    return set_state(stood, least, came_down_mm, each, shallowest_mm(saw), saw.bent_share)


def set_counsel(saw: Saw, findings: Findings, standing: bool) -> tuple[bool, str, str]:
    """Whether to take setting in, why, and who says so; ``standing`` is whether the plan has it already."""
    wanted = None if saw.set_per_side is None else saw.set_per_side.mm
    if findings.over_points_mm is None:
        return _unmeasured(saw, findings, wanted, standing)
    try:
        measured = set_from_measurement_mm(findings.over_points_mm, saw.plate.mm)
    except KerfError:
        width, plate = fine(findings.over_points_mm, saw.unit), fine(saw.plate.mm, saw.unit)
        why = f"{width} over the points is less than the plate, {plate}: measure again. The plan stands."
        return standing, why, "derived"
    least = least_set_mm(saw)
    has = f"The set is {fine(measured, saw.unit)} a side"
    if least is None:
        return standing, f"{has}; the recipe does not say how much it wants. The plan stands.", "derived"
    floor = f"{fine(least, saw.unit)}{'' if saw.least_per_side is not None else ' (half of the set asked for)'}"
    own = "" if saw.least_per_side is not None else "; judgement"
    # One ten-thousandth of a millimeter is below any caliper: a reading on the limit is not under it.
    if measured < least - 1e-4:
        return True, f"{has}, under the least of {floor}.{_since(findings)}", f"FSMAN{own}"
    if findings.last_cut == "binds" and wanted is not None and measured < wanted:
        return (
            True,
            f"It bound, and {has[0].lower()}{has[1:]} of {fine(wanted, saw.unit)}: a touch more.",
            "FSMAN; NOYES; GRIF",
        )
    if wanted is not None and wanted > 0 and measured > PLENTY * wanted:
        return (
            False,
            f"{has}, well over the {fine(wanted, saw.unit)} asked for: no more is needed.",
            f"{_UPPER}; judgement",
        )
    return False, f"{has}, and the least is {floor}: enough for today.{_since(findings)}", f"{_UPPER}{own}"


def _unmeasured(saw: Saw, findings: Findings, wanted: float | None, standing: bool) -> tuple[bool, str, str]:
    if wanted == 0:
        return False, "The recipe asks for no set.", "NOYES; GRIF art. 14; SLOJD"
    if saw.first_leans is Leans.UNSET and wanted is not None:
        return True, "No tooth of this saw has been set yet.", "FSMAN; LAUGH art. 2"
    if findings.last_cut == "binds":
        return True, "Not measured, but the saw bound: too little set is the likely cause.", "FSMAN; NOYES; GRIF"
    return standing, f"Not measured: the plan stands.{_since(findings)}", "common practice, no source"


def _since(findings: Findings) -> str:
    count = findings.sharpenings_since_set
    if count is None:
        return ""
    return f" It was last set {times(count, 'sharpening')} ago." if count else " It was set at the last sharpening."
