"""Each figure that was seen, held against what it can be; and what the recipe and the records expect in its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from statistics import median
from typing import Any, Final

from session.advice.saw_records import NO_HISTORY, SawRecords
from session.texts.wording import fine, teeth
from session.trade.kerf import CALIPER_MM, MOST_SET_MM, bent_height_mm
from session.trade.lengths import MM_PER, in_unit
from session.trade.observation import LineShape, Look, Seen
from session.trade.rounding import half_up, whole_number
from session.trade.saw import Leans, Saw
from session.trade.tooth import shallowest_mm

#: No western hand saw has fewer or more points in an inch: print goes from 3 to 18 (SPON, DREW; HOLTZ 3 1/2).
FEWEST_PER_INCH: Final = 2.5
MOST_PER_INCH: Final = 25.0

#: A count this far from the recipe's, as a share of it, is another saw's: judgment.
OTHER_SAW_SHARE: Final = 0.25

#: A hollow deeper than this many teeth are deep is more likely a slip: judgment.
DEEPEST_HOLLOW: Final = 3.0

#: Over what length points are counted where not the whole line is.
_OVER_MM: Final = {Look.IN_AN_INCH: 25.4, Look.IN_25MM: 25.0}


@dataclass(frozen=True, slots=True)
class Doubt:
    """A figure that cannot be, to be asked again: what was seen, what is expected, and why it is not believed."""

    look: Look
    seen: str
    expected: str
    why: str


def expected(saw: Saw, records: SawRecords = NO_HISTORY) -> Mapping[Look, str]:
    """What stands beside each question whose answer the recipe or the records foretell, in the owner's unit."""
    unit = saw.unit
    per_inch = sorted({half_up(MM_PER["in"] / mm + 1, 1) for mm in _pitches(saw)})
    per_25 = sorted({half_up(25.0 / mm + 1, 1) for mm in _pitches(saw)})
    found = {
        Look.FIRST_LEANS: f"{saw.first_leans} by the recipe",
        Look.IN_AN_INCH: f"{_span(per_inch)} by the recipe",
        Look.IN_25MM: f"{_span(per_25)} by the recipe",
        Look.IN_LINE: f"{saw.points} by the recipe",
        Look.HIGH: f"numbers from 1 at the heel to {saw.points}",
        Look.LOW: f"numbers from 1 at the heel to {saw.points}",
        Look.BROKEN: f"numbers from 1 at the heel to {saw.points}",
    }
    if records.line is not None:
        width = saw.plate.mm + 2 * records.line.left_mm
        found[Look.OVER_POINTS] = (
            f"about {_width(width, unit)} by the records; never under {_width(saw.plate.mm, unit)}"
        )
    elif saw.set_per_side is not None:
        width = saw.plate.mm + 2 * saw.set_per_side.mm
        found[Look.OVER_POINTS] = f"{_width(width, unit)} when newly set; never under {_width(saw.plate.mm, unit)}"
    else:
        found[Look.OVER_POINTS] = f"never under the plate, {_width(saw.plate.mm, unit)}"
    if records.last_sharpened is not None:
        found[Look.LAST_SHARPENED] = f"{records.last_sharpened} by the records"
    if records.broken:
        found[Look.BROKEN] = f"{', '.join(str(tooth) for tooth in records.broken)} by the records"
    return found


def doubts(saw: Saw, seen: Seen, records: SawRecords = NO_HISTORY, today: date | None = None) -> tuple[Doubt, ...]:
    """The figures of ``seen`` that cannot be, in the order in which things are looked at."""
    foretold = expected(saw, records)
    found: list[tuple[Look, str, str]] = []
    found += _counts(saw, seen)
    found += _widths(saw, seen)
    if seen.line_gap is not None:
        deepest = DEEPEST_HOLLOW * shallowest_mm(saw)
        if seen.line_gap.mm > deepest:
            why = (
                f"no line is hollow by more than {_width(deepest, saw.unit)}, {DEEPEST_HOLLOW:g} teeth deep (judgment)"
            )
            found.append((Look.LINE_GAP, str(seen.line_gap), why))
        elif seen.line is LineShape.STRAIGHT and seen.line_gap.mm > 0:
            found.append((Look.LINE, f"straight, with a gap of {seen.line_gap}", "a straight line shows no gap"))
    last = points_of(saw, seen)
    for look in (Look.HIGH, Look.LOW, Look.BROKEN):
        beyond = [tooth for tooth in getattr(seen, look) or () if not 1 <= tooth <= last]
        if beyond:
            found.append((look, teeth(beyond), f"the line has {last} points"))
    if seen.crack is not None and seen.crack.gullet is not None and not 1 <= seen.crack.gullet <= last:
        # A crack is believed wherever it is; only its place is asked again.
        found.append((Look.CRACK, f"gullet {seen.crack.gullet}", f"the line has {last} points"))
    if seen.last_sharpened is not None and today is not None and seen.last_sharpened > today:
        found.append((Look.LAST_SHARPENED, str(seen.last_sharpened), f"that day is still to come; today is {today}"))
    return tuple(Doubt(look, said, foretold.get(look, ""), why) for look, said, why in found)


def without(seen: Seen, doubted: tuple[Doubt, ...]) -> Seen:
    """``seen`` with every doubted figure unknown again. A crack stays: where it is may be wrong, that it is is not."""
    gone: dict[str, Any] = {
        one.look: () if one.look is Look.OVER_POINTS else None for one in doubted if one.look is not Look.CRACK
    }
    if any(one.look is Look.LINE for one in doubted):
        gone["line_gap"] = None
    return replace(seen, **gone)


def points_of(saw: Saw, seen: Seen) -> int:
    """Points of the line, as counted where that count can be, else the recipe's."""
    return seen.points_in_line if seen.points_in_line is not None and _can_be(saw, seen.points_in_line) else saw.points


def other_count(saw: Saw, seen: Seen) -> tuple[Look, float, float] | None:
    """The first count that differs from the recipe's, as the look, what was counted and what the recipe says.

    In the whole line every point counts; within an inch, one more or less than the recipe says.
    """
    if seen.points_in_line is not None and seen.points_in_line != saw.points:
        return Look.IN_LINE, seen.points_in_line, saw.points
    for look, over_mm in _OVER_MM.items():
        count = getattr(seen, look)
        said = [over_mm / mm + 1 for mm in _pitches(saw)]
        if count is not None and not min(said) - 0.75 < count < max(said) + 0.75:
            return look, count, min(said, key=lambda one: abs(one - count))
    return None


def by_count(saw: Saw, seen: Seen) -> Saw:
    """``saw`` as its counted points have it: pitch = length / (points − 1). Zones keep their own pitches."""
    if seen.points_in_line is None or seen.points_in_line == saw.points:
        return saw
    if saw.zones:
        return replace(saw, points=seen.points_in_line, points_counted=True)
    pitch = saw.toothed_length.mm / (seen.points_in_line - 1)
    return replace(saw, points=seen.points_in_line, points_counted=True, pitch_mm=pitch)


def leaning(saw: Saw, seen: Seen) -> Leans:
    """Which way tooth 1 leans: as seen, else by the recipe."""
    return seen.first_leans if seen.first_leans is not None else saw.first_leans


def _counts(saw: Saw, seen: Seen) -> list[tuple[Look, str, str]]:
    found = []
    if seen.points_in_line is not None and not _can_be(saw, seen.points_in_line):
        per_inch = (seen.points_in_line - 1) * MM_PER["in"] / saw.toothed_length.mm + 1
        why = f"that is {whole_number(per_inch)} points in an inch; "
        why += f"hand saws have {FEWEST_PER_INCH:g} to {MOST_PER_INCH:g}"
        found.append((Look.IN_LINE, f"{seen.points_in_line} points in {saw.toothed_length}", why))
    for look, over_mm in _OVER_MM.items():
        count = getattr(seen, look)
        if count is not None and not FEWEST_PER_INCH <= (count - 1) * 25.4 / over_mm + 1 <= MOST_PER_INCH:
            why = f"hand saws have {FEWEST_PER_INCH:g} to {MOST_PER_INCH:g} points in an inch"
            found.append((look, f"{count:g} points", why))
    return found


def _can_be(saw: Saw, points: int) -> bool:
    pitch = saw.toothed_length.mm / (points - 1) if points > 1 else 0.0
    return pitch > 0 and FEWEST_PER_INCH <= MM_PER["in"] / pitch + 1 <= MOST_PER_INCH


def _widths(saw: Saw, seen: Seen) -> list[tuple[Look, str, str]]:
    widths = [width.mm for width in seen.over_points]
    if not widths:
        return []
    told = ", ".join(str(width) for width in seen.over_points)
    # Half a thou is what a caliper may be wrong by, so a width that much under the plate still says "no set".
    if median(widths) < saw.plate.mm - CALIPER_MM or min(widths) < saw.plate.mm - 2 * CALIPER_MM:
        why = f"less than the plate, {_width(saw.plate.mm, saw.unit)}; measure both again, the plate beside the teeth"
        return [(Look.OVER_POINTS, told, why)]
    most = min(MOST_SET_MM, bent_height_mm(shallowest_mm(saw), 1.0))
    widest = max(widths)
    if (widest - saw.plate.mm) / 2 > most:
        has = fine((widest - saw.plate.mm) / 2, saw.unit)
        why = f"that is {has} of set a side, and {fine(most, saw.unit)} is more than a hand saw has (FSMAN, derived)"
        return [(Look.OVER_POINTS, told, why)]
    return []


def _pitches(saw: Saw) -> tuple[float, ...]:
    return tuple(zone.pitch_mm for zone in saw.zones) or (saw.pitch_mm,)


def _span(counts: list[float]) -> str:
    return f"{counts[0]:g}" if len(counts) == 1 else f"{counts[0]:g} to {counts[-1]:g}"


def _width(mm: float, unit: str) -> str:
    return in_unit(mm, "in" if unit == "thou" else unit)
