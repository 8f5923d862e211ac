"""How much filing a saw needs today: none, a touch up, a light leveling and filing, or reshaping as well."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum
from typing import Final

from session.advice.causes import LOW_MAY_WAIT, idle_teeth, wrong_saw
from session.advice.saw_records import SawRecords
from session.advice.work import FULL_PASSES, LIGHT_PASSES, passes_mm
from session.texts.wording import fine, teeth
from session.trade.dulling import DUE_SHARE
from session.trade.observation import Bright, Cutting, LineShape, Look, Plate, Seen, Sizes
from session.trade.saw import Saw
from session.trade.strokes import LIGHT_MM
from session.trade.tooth import shallowest_mm

#: Flats wider than this share of the pitch are filed to one size first (judgment): so the line may come down by the
#: same share of the tooth's depth in one go.
WIDE_SHARE: Final = 1 / 3

#: Steel for fewer light sharpenings than this is little: judgment.
FEW_SHARPENINGS: Final = 10


class Degree(IntEnum):
    """How far the filing goes, in the order of the steel it costs."""

    NONE = 0
    TOUCH_UP = 1
    LEVEL_AND_FILE = 2
    RESHAPE = 3


@dataclass(frozen=True, slots=True)
class Sharpness:
    """What filing is needed, by how much the line comes down in leveling, why, who says so, and what to look at first.

    few: the teeth whose gullets alone are filed; () for all.
    """

    degree: Degree
    level_mm: float
    reason: str
    source: str
    looks: tuple[Look, ...] = ()
    few: tuple[int, ...] = ()


def sharpness(saw: Saw, seen: Seen, records: SawRecords, *, by_default: bool) -> Sharpness:
    """What filing ``saw`` needs. by_default: whether to touch it up when neither points nor cut were looked at."""
    found = _by_line(saw, seen, records) or _by_points(saw, seen, records, by_default=by_default)
    return _spared(saw, seen, records, found) if found.degree > Degree.TOUCH_UP else found


def left_mm(records: SawRecords) -> float | None:
    """What the line may still come down, in mm; None when no limit is stated."""
    return None if records.limit_mm is None else max(0.0, records.limit_mm - (records.lost_mm or 0.0))


def sharp_and_good(seen: Seen) -> bool:
    """Whether it is known to be sharp and to cut well: then it is left alone."""
    return seen.bright is Bright.NONE and seen.last_cut is Cutting.GOOD


def _slow(seen: Seen, records: SawRecords) -> bool:
    if seen.last_cut is Cutting.SLOW:
        return True
    return records.share_now is not None and records.share_now < DUE_SHARE and seen.last_cut is not Cutting.GOOD


def _by_line(saw: Saw, seen: Seen, records: SawRecords) -> Sharpness | None:
    """What the shape of the line and the sizes of the teeth ask for by themselves; None when they ask for nothing."""
    good, sharp = seen.last_cut is Cutting.GOOD, seen.bright is Bright.NONE
    idle = seen.last_cut in (Cutting.SLOW, Cutting.JUMPS, Cutting.WANDERS)
    if good and sharp:
        return None
    if seen.sizes is Sizes.ALTERNATE and (
        seen.bright is Bright.MOST or (not good and (idle or not sharp) and not _elsewhere(saw, seen))
    ):
        why = "Big and small teeth by turns: level until the flats tell, file them to one size, level again."
        looks = () if seen.over_points else (Look.OVER_POINTS,)
        return Sharpness(Degree.RESHAPE, passes_mm(FULL_PASSES), why, "GOR p. 150; FIT; KING; DREW", looks)
    if seen.line is LineShape.HOLLOW and not good:
        dull = seen.bright is Bright.MOST and seen.last_cut not in (None, Cutting.UNTRIED)
        if (_slow(seen, records) and not _elsewhere(saw, seen)) or dull:
            return _hollow(saw, seen, records)
    if seen.high and not good:
        return _high(seen)
    return None


def _by_points(saw: Saw, seen: Seen, records: SawRecords, *, by_default: bool) -> Sharpness:
    slow, good = _slow(seen, records), seen.last_cut is Cutting.GOOD
    untried = seen.last_cut in (None, Cutting.UNTRIED)
    match seen.bright:
        case Bright.MOST:
            why = "Most points shine: dull. Level lightly until every point is touched, then file the flats away."
            return _level(seen, FULL_PASSES, why, "FIT; KING 64; MTS")
        case Bright.SOME if slow and not wrong_saw(saw, seen):
            why = "Some points shine and it cuts slowly: one light pass, look, then file the flats away."
            return _level(seen, LIGHT_PASSES, why, "FIT; RECIPE; KING 64; MTS")
        case Bright.SOME if (good or untried) and not _even(seen):
            why = "Some points shine and the line is not even: one light pass, look, then file the flats away."
            return _level(seen, LIGHT_PASSES, why, "FIT; KING 64; MTS; SICK")
        case Bright.SOME if seen.line is LineShape.CROWNED:
            return _level(seen, LIGHT_PASSES, "Some points shine: one light pass, look, file.", "FIT; KING 64; MTS")
        case Bright.SOME:
            why = "Some points shine: the same one or two light strokes in every gullet, or wait; you choose."
            return Sharpness(Degree.TOUCH_UP, 0.0, why, "FIT; ZERBE; NOYES; judgment")
        case Bright.NONE:
            # Only idle teeth are left as a cause that filing mends.
            if slow and idle_teeth(seen) and not wrong_saw(saw, seen):
                return _level(seen, LIGHT_PASSES, "Short teeth are idle: one light pass, look, file.", "RECIPE; NOYES")
            if seen.last_cut in (None, Cutting.UNTRIED):
                why = "No point shines, and nobody has cut with it since: a trial cut settles it."
                return Sharpness(Degree.NONE, 0.0, why, "FIT; FSMAN", (Look.LAST_CUT,))
            return Sharpness(Degree.NONE, 0.0, "No point shines: it is sharp and is not filed.", "FIT; GOR p. 150")
        case _:
            return _unlooked(saw, seen, slow=slow, good=good, by_default=by_default)


def _unlooked(saw: Saw, seen: Seen, *, slow: bool, good: bool, by_default: bool) -> Sharpness:
    """What is done when nobody looked whether the points shine: the smaller work, because more can be done later."""
    looks = (Look.BRIGHT,) if seen.last_cut not in (None, Cutting.UNTRIED) else (Look.BRIGHT, Look.LAST_CUT)
    if good:
        why = "It cut well; whether its points shine nobody looked. It can wait."
        return Sharpness(Degree.NONE, 0.0, why, "FIT; GOR p. 150; judgment", looks)
    if slow and idle_teeth(seen) and not wrong_saw(saw, seen):
        why = "It cuts slowly and some teeth are idle: one light pass, look, then file the flats away."
        return _level(seen, LIGHT_PASSES, why, "RECIPE; NOYES")
    if slow and not wrong_saw(saw, seen):
        why = "It cuts slowly, and nobody looked whether the points shine: no more than a touch, then cut again."
        return Sharpness(Degree.TOUCH_UP, 0.0, why, "NOYES; FIT; judgment", looks)
    if by_default and seen.last_cut in (None, Cutting.UNTRIED):
        why = "Too little was looked at to say more. More can be done after the trial cut, and none undone."
        return Sharpness(Degree.TOUCH_UP, 0.0, why, "judgment", looks)
    return Sharpness(Degree.NONE, 0.0, "Whether it is sharp nobody looked.", "judgment", looks)


def _elsewhere(saw: Saw, seen: Seen) -> bool:
    """Whether the fault has its cause outside the teeth."""
    return wrong_saw(saw, seen) or seen.last_cut in (Cutting.ROUGH, Cutting.BINDS, Cutting.HARD_TO_START)


def _even(seen: Seen) -> bool:
    """Whether nothing was seen that makes the line uneven."""
    return seen.sizes in (None, Sizes.EVEN) and not seen.high and len(seen.low or ()) <= LOW_MAY_WAIT


def _level(seen: Seen, passes: int, why: str, source: str) -> Sharpness:
    if seen.line is LineShape.CROWNED:
        why, source = f"{why} The line is crowned: keep the crown, follow it with the file.", f"{source}; DREW"
    looks = (Look.OVER_POINTS,) if not seen.over_points else ()
    return Sharpness(Degree.LEVEL_AND_FILE, passes_mm(passes), why, source, looks)


def _high(seen: Seen) -> Sharpness:
    high = seen.high or ()
    where = "; ".join(f"toward {tooth} in gullets {tooth - 1} and {tooth}" for tooth in high[:3] if tooth > 1)
    more = f" and so for {len(high) - 3} more" if len(high) > 3 else ""
    lean = f" Then lean {where}{more}, straight in all others." if where else ""
    stands = "stands" if len(high) == 1 else "stand"
    why = f"{teeth(high).capitalize()} {stands} high: one pass, look, until it agrees with the others.{lean}"
    passes = FULL_PASSES if seen.bright is Bright.MOST else LIGHT_PASSES
    # A sharp tooth without a flat is never filed.
    few = high if seen.bright is Bright.NONE else ()
    return replace(_level(seen, passes, why, "RECIPE; KING 64; DREW; FIT"), few=few)


def _hollow(saw: Saw, seen: Seen, records: SawRecords) -> Sharpness:
    gap, depth = seen.line_gap, shallowest_mm(saw)
    if gap is None:
        why = "The line is hollow, how deep nobody measured: level lightly, and share the rest out over the next times."
        shared = _level(seen, FULL_PASSES, why, "DREW; GOR p. 149")
        return replace(shared, looks=(Look.LINE_GAP, *shared.looks))
    most = WIDE_SHARE * depth
    if gap.mm <= most:
        why = f"The line is hollow by {gap}: level until it is straight, in one go; look after each pass."
        straight = _level(seen, FULL_PASSES, why, "DREW; GOR p. 149")
        return replace(straight, level_mm=max(gap.mm, straight.level_mm))
    why = (
        f"The line is hollow by {gap}, more than the {fine(most, saw.unit)} of one go: in rounds. Level until flats "
        "are about a third of the pitch, file to one size, level again; or share it out over the next sharpenings."
    )
    return Sharpness(Degree.RESHAPE, gap.mm, why, "DREW; GOR p. 149; GOR p. 150; judgment")


def _spared(saw: Saw, seen: Seen, records: SawRecords, found: Sharpness) -> Sharpness:
    """The same with the least leveling and no reshaping, for a plate that has little steel left."""
    left = left_mm(records)
    little = left is not None and left < max(found.level_mm, FEW_SHARPENINGS * LIGHT_MM)
    if not little and not seen.is_plate(Plate.NARROW):
        return found
    told = f"{fine(left, saw.unit)} of its line is left" if left is not None else "little steel is left"
    least = min(found.level_mm, passes_mm(LIGHT_PASSES))
    reason = f"{found.reason} But {told}: the least leveling that will do, and no reshaping."
    return replace(
        found, degree=Degree.LEVEL_AND_FILE, level_mm=least, reason=reason, source=f"{found.source}; GOR p. 150"
    )
