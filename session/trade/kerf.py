"""Kerf, set, and the bend that makes the set.

Set is the distance one point stands out from the plane of the plate (FSMAN glossary), so it counts
per side, and the kerf is the plate and one set on either side of it.
"""

from __future__ import annotations

import math
from typing import Final

from session.trade.lengths import MM_PER, in_unit
from session.trade.rounding import decimals, percent, significant
from session.trade.trade_error import TradeError

#: The deepest bend that ROSS p. 9, MTS and SHOP1/2 print: half of the tooth.
HALF_OF_TOOTH: Final = 0.5

#: The largest set in a side that FSMAN prints, for two-man saws in soft punky wood; that a hand saw wants
#: less is implied by it, printed by no source.
MOST_SET_MM: Final = 0.030 * MM_PER["in"]

#: A caliper read to half a thousandth of an inch can be wrong by that, at each reading: judgment.
CALIPER_MM: Final = 0.0005 * MM_PER["in"]

#: So the set of one side, half of the difference of two readings (over the points, and the plate), can be wrong by
#: half of both together.
SET_ERROR_MM: Final = (CALIPER_MM + CALIPER_MM) / 2.0

#: A kerf rarely goes beyond this many times the plate: from memory.
USUAL_KERF_RATIO: Final = 1.5


def kerf_mm(plate_mm: float, set_mm: float) -> float:
    """Width of the slot: plate + 2·set, for a set of ``set_mm`` per side (0 or more), in millimeters.

    Source: FSMAN's definition of set as the distance of the tip from the plane of the saw.
    Raises TradeError for a plate that is not above 0 or a set below 0.
    """
    _above_zero("plate thickness", plate_mm)
    _zero_or_more("set per side", set_mm)
    return plate_mm + 2.0 * set_mm


def set_from_measurement_mm(over_points_mm: float, plate_mm: float) -> float:
    """Set per side from the width over the points: (width − plate) / 2, in millimeters.

    Raises TradeError when the width is under the plate: no set makes a saw thinner than its plate, so
    one of the two was misread.
    """
    _above_zero("plate thickness", plate_mm)
    _above_zero("width over the points", over_points_mm)
    if over_points_mm < plate_mm:
        raise TradeError(
            f"width over the points {over_points_mm:g} mm is less than the plate, {plate_mm:g} mm; "
            f"allowed: {plate_mm:g} mm or more"
        )
    return (over_points_mm - plate_mm) / 2.0


def bent_height_mm(depth_mm: float, bent_share: float) -> float:
    """How far below the point the bend sits: the share (above 0, up to 1) of the tooth's depth."""
    _above_zero("depth of the tooth", depth_mm)
    if not (math.isfinite(bent_share) and 0.0 < bent_share <= 1.0):
        raise TradeError(f"bent share {bent_share:g} of the tooth; allowed: above 0, up to 1")
    return depth_mm * bent_share


def bend_angle_deg(set_mm: float, depth_mm: float, bent_share: float) -> float:
    """Angle of the bend in degrees: asin(set / (share · depth)).

    The part above the bend, as long as the share of the depth, swings about the bend line until its
    end stands out by the set. Raises TradeError when the set is not less than that length.
    """
    _zero_or_more("set per side", set_mm)
    arm = bent_height_mm(depth_mm, bent_share)
    if set_mm >= arm:
        raise TradeError(
            f"a set of {set_mm:g} mm cannot come from a bend {significant(arm, 3)} mm below the point; "
            f"allowed: less than {significant(arm, 3)} mm"
        )
    return math.degrees(math.asin(set_mm / arm))


def kerf_warnings(plate_mm: float, set_mm: float, bent_share: float, unit: str = "in") -> tuple[str, ...]:
    """What is unusual about a set that is possible, one sentence each with its source; none when all is usual.

    ``unit`` is the unit the lengths are written in. Nothing here is an error: printed practice differs.
    """
    found: list[str] = []
    if bent_share > HALF_OF_TOOTH:
        found.append(
            f"The bend takes {percent(bent_share)} of the tooth; ROSS p. 9, MTS and SHOP bend half at most, because a "
            "deeper bend may spring the plate or break the tooth (BS3159 prints two thirds for saws as made, ZERBE "
            "the whole tooth)."
        )
    if set_mm > MOST_SET_MM * (1 + 1e-9):
        found.append(
            f"A set of {in_unit(set_mm, unit)} per side is more than {in_unit(MOST_SET_MM, unit)}, the most that FSMAN "
            "prints, for two-man saws in soft punky wood; a hand saw seldom needs it."
        )
    if plate_mm > 0 and kerf_mm(plate_mm, set_mm) > USUAL_KERF_RATIO * plate_mm * (1 + 1e-9):
        ratio = kerf_mm(plate_mm, set_mm) / plate_mm
        found.append(
            f"The kerf is {decimals(ratio, 2)} times the plate; it is rarely over {USUAL_KERF_RATIO:g} times "
            "(from memory), though MTS's third of the plate, read per side, gives 1.67."
        )
    return tuple(found)


def _above_zero(what: str, mm: float) -> None:
    if not (math.isfinite(mm) and mm > 0.0):
        raise TradeError(f"{what} {mm:g} mm; allowed: above 0 mm")


def _zero_or_more(what: str, mm: float) -> None:
    if not (math.isfinite(mm) and mm >= 0.0):
        raise TradeError(f"{what} {mm:g} mm; allowed: 0 mm or more")
