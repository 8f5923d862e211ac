"""How much filing a saw needs today: none, a touch up, a light leveling and filing, or reshaping as well."""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum
from typing import Final

from session.advice.causes import LOW_MAY_WAIT, idle_teeth, wrong_saw
from session.advice.high_teeth import gullets_beside, lean_words
from session.advice.saw_records import SawRecords
from session.advice.work import FULL_PASSES, LIGHT_PASSES, filing_mm, passes_mm, touch_up_mm
from session.texts.wording import LEVELED, capital, fine, teeth
from session.trade.dulling import DUE_SHARE
from session.trade.observation import Look, Seen
from session.trade.saw import Saw
from session.trade.seen_words import Bright, Cutting, LineShape, Plate, Sizes
from session.trade.strokes import LIGHT_MM
from session.trade.tooth import shallowest_mm
from session.value_class import dataclass, replace

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

    few: the gullets that alone are filed; () for all. fault: what was seen that asks for it, as a clause to stand
    beside another's reason; empty where the reason says nothing else. spare: whether there is little steel left, so
    that no more than this is to be offered.
    """

    degree: Degree
    level_mm: float
    reason: str
    source: str
    looks: tuple[Look, ...] = ()
    few: tuple[int, ...] = ()
    fault: str = ""
    spare: bool = False


_SOME: Final = "some points shine"


def sharpness(saw: Saw, seen: Seen, records: SawRecords, *, by_default: bool) -> Sharpness:
    """What filing ``saw`` needs. by_default: whether to touch it up when neither points nor cut were looked at."""
    by_points = _by_points(saw, seen, records, by_default=by_default)
    found = _together([*_by_line(saw, seen, records), by_points])
    return _spared(saw, seen, records, found) if found.degree > Degree.NONE else found


def _together(found: list[Sharpness]) -> Sharpness:
    """One answer to all that was found: the greatest of each, in the words of the one that asks for most.

    The others are named beside it, so that nothing seen is dropped. What asks for no filing has no part in it.
    """
    asking = [one for one in found if one.degree > Degree.NONE] or found
    most = max(asking, key=lambda one: (one.degree, one.level_mm))
    others = [one for one in asking if one is not most and one.fault and one.fault != most.fault]
    also = f" Also: {'; '.join(one.fault for one in others)}." if others else ""
    few = {gullet for one in asking for gullet in one.few} if all(one.few for one in asking) else ()
    return replace(
        most,
        level_mm=max(one.level_mm for one in asking),
        reason=most.reason + also,
        source=_sources(one.source for one in (most, *others)),
        looks=tuple(dict.fromkeys(look for one in asking for look in one.looks)),
        few=tuple(sorted(few)),
        fault="; ".join(one.fault for one in (most, *others) if one.fault),
    )


def _sources(sources: Iterable[str]) -> str:
    """Several sources together, each once."""
    return "; ".join(dict.fromkeys(one for told in sources for one in told.split("; ")))


def left_mm(records: SawRecords) -> float | None:
    """What the line may still come down, in mm; None when no limit is stated."""
    return None if records.limit_mm is None else max(0.0, records.limit_mm - (records.lost_mm or 0.0))


def sharp_and_good(seen: Seen) -> bool:
    """Whether it is known to be sharp and to cut well: then it is left alone."""
    return seen.bright is Bright.NONE and seen.last_cut is Cutting.GOOD


def in_one_sitting(seen: Seen) -> Sharpness:
    """The filing of a saw of which some points shine, and whose uneven set is evened today in any case.

    By every print a line that is set is leveled as well (GRIF and SHEAR after it, so that the tips are true once they
    are bent). Left for the next cut it would be filed then, and its set evened a second time.
    """
    why = "Some points shine, and the set is evened today: one light pass, look, then file the flats, in one sitting."
    return _level(seen, LIGHT_PASSES, why, "GRIF; SHEAR; KING 64; MTS; judgment", _SOME)


def _slow(seen: Seen, records: SawRecords) -> bool:
    if seen.last_cut is Cutting.SLOW:
        return True
    return records.share_now is not None and records.share_now < DUE_SHARE and seen.last_cut is not Cutting.GOOD


def _by_line(saw: Saw, seen: Seen, records: SawRecords) -> list[Sharpness]:
    """What the shape of the line and the sizes of the teeth ask for by themselves; empty when they ask for nothing."""
    good, sharp = seen.last_cut is Cutting.GOOD, seen.bright is Bright.NONE
    idle = seen.last_cut in (Cutting.SLOW, Cutting.JUMPS, Cutting.WANDERS)
    found: list[Sharpness] = []
    if good and sharp:
        return found
    if seen.sizes is Sizes.ALTERNATE and (
        seen.bright is Bright.MOST or (not good and (idle or not sharp) and not _elsewhere(saw, seen))
    ):
        why = "Big and small teeth by turns: level until the flats tell, file them to one size, level again."
        looks = () if seen.over_points else (Look.OVER_POINTS,)
        source = "GOR p. 150; FIT; KING; DREW"
        fault = "big and small teeth by turns"
        found.append(Sharpness(Degree.RESHAPE, passes_mm(FULL_PASSES), why, source, looks, fault=fault))
    if hollow_counts(saw, seen, records):
        found.append(_hollow(saw, seen))
    if seen.high and not good:
        found.append(_high(seen))
    return found


def hollow_counts(saw: Saw, seen: Seen, records: SawRecords) -> bool:
    """Whether the line is hollow and that has to be mended: it is left alone where the saw cuts well or is sharp."""
    if seen.line is not LineShape.HOLLOW or seen.last_cut is Cutting.GOOD:
        return False
    dull = seen.bright is Bright.MOST and seen.last_cut not in (None, Cutting.UNTRIED)
    return dull or (_slow(seen, records) and not _elsewhere(saw, seen))


def _by_points(saw: Saw, seen: Seen, records: SawRecords, *, by_default: bool) -> Sharpness:
    slow, good = _slow(seen, records), seen.last_cut is Cutting.GOOD
    untried = seen.last_cut in (None, Cutting.UNTRIED)
    match seen.bright:
        case Bright.MOST:
            why = f"Most points shine: dull. Level lightly until {LEVELED}, then file the flats away."
            return _level(seen, FULL_PASSES, why, "FIT; KING 64; MTS", "most points shine")
        case Bright.SOME if slow and not wrong_saw(saw, seen):
            why = "Some points shine and it cuts slowly: one light pass, look, then file the flats away."
            return _level(seen, LIGHT_PASSES, why, "FIT; RECIPE; KING 64; MTS", _SOME)
        case Bright.SOME if (good or untried) and not _even(seen):
            why = "Some points shine and the line is not even: one light pass, look, then file the flats away."
            return _level(seen, LIGHT_PASSES, why, "FIT; KING 64; MTS; SICK", _SOME)
        case Bright.SOME if seen.line is LineShape.CROWNED:
            why = "Some points shine: one light pass, look, file."
            return _level(seen, LIGHT_PASSES, why, "FIT; KING 64; MTS", _SOME)
        case Bright.SOME:
            why = "Some points shine: the same one or two light strokes in every gullet, or wait; you choose."
            return Sharpness(Degree.TOUCH_UP, 0.0, why, "FIT; ZERBE; NOYES; judgment", fault=_SOME)
        case Bright.NONE:
            # Only idle teeth are left as a cause that filing mends; high ones alone are judged by themselves.
            if slow and idle_teeth(replace(seen, high=())) and not wrong_saw(saw, seen):
                why = "Short teeth are idle: one light pass, look, file."
                return _level(seen, LIGHT_PASSES, why, "RECIPE; NOYES", "short teeth are idle")
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
        return _level(seen, LIGHT_PASSES, why, "RECIPE; NOYES", "short teeth are idle")
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


def _level(seen: Seen, passes: int, why: str, source: str, fault: str) -> Sharpness:
    if seen.line is LineShape.CROWNED:
        why, source = f"{why} The line is crowned: keep the crown, follow it with the file.", _sources((source, "DREW"))
    looks = (Look.OVER_POINTS,) if not seen.over_points else ()
    return Sharpness(Degree.LEVEL_AND_FILE, passes_mm(passes), why, source, looks, fault=fault)


def _high(seen: Seen) -> Sharpness:
    high = seen.high or ()
    sharp = seen.bright is Bright.NONE
    lean, they = lean_words(high, alone=sharp), "it agrees" if len(high) == 1 else "they agree"
    stands = f"{teeth(high)} {'stands' if len(high) == 1 else 'stand'} high"
    why = f"{capital(stands)}: one pass, look, until {they} with the others. Then {lean}."
    passes = FULL_PASSES if seen.bright is Bright.MOST else LIGHT_PASSES
    # A sharp tooth without a flat is never filed.
    few = gullets_beside(high) if sharp else ()
    return replace(_level(seen, passes, why, "RECIPE; KING 64; DREW; FIT", f"{stands}: {lean}"), few=few)


def _hollow(saw: Saw, seen: Seen) -> Sharpness:
    gap, depth = seen.line_gap, shallowest_mm(saw)
    if gap is None:
        why = "The line is hollow, how deep nobody measured: level lightly, and share the rest out over the next times."
        shared = _level(seen, FULL_PASSES, why, "DREW; GOR p. 149", "the line is hollow, how deep nobody measured")
        return replace(shared, looks=(Look.LINE_GAP, *shared.looks))
    most = WIDE_SHARE * depth
    fault = f"the line is hollow by {gap}"
    if gap.mm <= most:
        why = f"The line is hollow by {gap}: level until it is straight, in one go; look after each pass."
        straight = _level(seen, FULL_PASSES, why, "DREW; GOR p. 149", fault)
        return replace(straight, level_mm=max(gap.mm, straight.level_mm))
    why = (
        f"The line is hollow by {gap}, more than the {fine(most, gap.unit)} of one go: in rounds. Level until flats "
        "are about a third of the pitch, file to one size, level again; or share it out over the next sharpenings."
    )
    return Sharpness(Degree.RESHAPE, gap.mm, why, "DREW; GOR p. 149; GOR p. 150; judgment", fault=fault)


def _spared(saw: Saw, seen: Seen, records: SawRecords, found: Sharpness) -> Sharpness:
    """The same with the least leveling and no reshaping, for a plate that has little steel left; with a touch up or
    nothing where even that is more than the owner lets the line come down."""
    left, narrow = left_mm(records), seen.is_plate(Plate.NARROW)
    little = left is not None and left < max(found.level_mm, FEW_SHARPENINGS * LIGHT_MM)
    if not little and not narrow:
        return found
    told = f"{fine(left, saw.unit)} of its line is left" if left is not None else "little steel is left"
    asks = capital(found.fault) or found.reason.rstrip(".")
    source, light = _sources((found.source, "GOR p. 150")), passes_mm(LIGHT_PASSES)
    less = replace(found, source=source, spare=True)
    if found.degree > Degree.TOUCH_UP and (left is None or light + filing_mm(saw, light, records.bite) <= left):
        crown = " Keep the crown." if seen.line is LineShape.CROWNED else ""
        why = f"{asks}. But {told}: the least leveling that will do, and no reshaping.{crown}"
        return replace(less, degree=Degree.LEVEL_AND_FILE, level_mm=min(found.level_mm, light), reason=why)
    if left is None:
        return less
    if touch_up_mm(saw, records.bite) <= left:
        why = f"{asks}. But {told}: one light stroke in every gullet, no leveling."
        return replace(less, degree=Degree.TOUCH_UP, level_mm=0.0, reason=why, few=())
    why = f"{asks}. But {told}, less than a file takes: use it as it is, or have the line retoothed."
    return replace(less, degree=Degree.NONE, level_mm=0.0, reason=why, few=())
