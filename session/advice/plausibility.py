"""Each figure that was seen, held against what it can be; and what the recipe and the records expect in its place."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, Final

from session.advice.saw_records import NO_HISTORY, SawRecords
from session.texts.wording import fine, teeth, times
from session.trade.kerf import CALIPER_MM, MOST_SET_MM, bent_height_mm
from session.trade.lengths import MM_PER, Length, in_unit
from session.trade.middle_values import median
from session.trade.observation import Look, Seen
from session.trade.rounding import half_up, whole_number
from session.trade.saw import Leans, Saw
from session.trade.seen_words import Bright, LineShape
from session.trade.tooth import shallowest_mm
from session.trade.tooth_numbers import numbers_in_words
from session.value_class import dataclass, replace

#: No western hand saw has fewer or more points in an inch: print goes from 3 to 18 (SPON, DREW; HOLTZ 3 1/2).
FEWEST_PER_INCH: Final = 2.5
MOST_PER_INCH: Final = 25.0

#: A count this far from the recipe's, as a share of it, is another saw's: judgment.
OTHER_SAW_SHARE: Final = 0.25

#: A hollow deeper than this many teeth are deep is more likely a slip: judgment.
DEEPEST_HOLLOW: Final = 3.0

#: Up to so many days after a sharpening most points hardly are dull: what shines may be flats of that day (judgment).
FRESH_DAYS: Final = 2

#: Over so much set per side teeth lean: a width and the plate may each be wrong, and a burr stands on both sides.
SURELY_SET_MM: Final = 2 * CALIPER_MM

#: Over what length points are counted where not the whole line is.
_OVER_MM: Final = {Look.IN_AN_INCH: 25.4, Look.IN_25MM: 25.0}


@dataclass(frozen=True, slots=True)
class Doubt:
    """A figure that cannot be, to be asked again: what was seen, what is expected, and why it is not believed.

    rest: what of the same answer is believed all the same, such as the other widths.
    """

    look: Look
    seen: str
    expected: str
    why: str
    rest: tuple[int, ...] | tuple[Length, ...] | None = None


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
        found[Look.OVER_POINTS] = (
            f"{_width(width, unit)} when newly set; never under the plate's {_width(saw.plate.mm, unit)}"
        )
    else:
        found[Look.OVER_POINTS] = f"never under the plate, {_width(saw.plate.mm, unit)}"
    if records.last_sharpened is not None:
        found[Look.LAST_SHARPENED] = f"{records.last_sharpened} by the records"
    for look, told in ((Look.BROKEN, records.broken), (Look.LOW, records.low)):
        if told:
            found[look] = f"{numbers_in_words(told)} by the records"
    return found


def doubts(saw: Saw, seen: Seen, records: SawRecords = NO_HISTORY, today: date | None = None) -> tuple[Doubt, ...]:
    """The figures of ``seen`` that cannot be, in the order in which things are looked at."""
    found: list[Doubt] = []
    found += _lean(saw, seen)
    found += _counts(saw, seen)
    found += _teeth(seen, points_of(saw, seen))
    found += _widths(saw, seen)
    found += _line(saw, seen)
    last = points_of(saw, seen)
    if seen.crack is not None and seen.crack.gullet is not None and not 1 <= seen.crack.gullet <= last:
        # A crack is believed wherever it is; only its place is asked again.
        found.append(Doubt(Look.CRACK, f"gullet {seen.crack.gullet}", "", f"the line has {last} points"))
    if seen.last_sharpened is not None and today is not None:
        found += _dates(seen, seen.last_sharpened, today)
    foretold = expected(saw, records)
    order = list(Look)
    found.sort(key=lambda one: order.index(one.look))
    return tuple(replace(one, expected=one.expected or foretold.get(one.look, "")) for one in found)


def without(seen: Seen, doubted: tuple[Doubt, ...]) -> Seen:
    """``seen`` with every doubted figure unknown again. A crack stays: where it is may be wrong, that it is is not."""
    gone: dict[str, Any] = {
        one.look: one.rest or (() if one.look is Look.OVER_POINTS else None)
        for one in doubted
        if one.look is not Look.CRACK
    }
    if any(one.look is Look.LINE for one in doubted):
        gone["line_gap"] = None
    return replace(seen, **gone)


def believed(seen: Seen, doubted: tuple[Doubt, ...], records: SawRecords) -> Seen:
    """What is judged by: ``seen`` without what is doubted, a hollow of nothing read as a straight line, and the teeth
    that the records tell broken where nobody looked today."""
    found = without(seen, doubted)
    if found.line in (None, LineShape.HOLLOW) and found.line_gap is not None and found.line_gap.mm <= 0:
        found = replace(found, line=LineShape.STRAIGHT, line_gap=None)
    if found.broken is None and records.broken and not any(one.look is Look.BROKEN for one in doubted):
        found = replace(found, broken=tuple(sorted(set(records.broken))))
    # A stump stands low: it is broken, and waits for no line.
    if found.low and found.broken:
        found = replace(found, low=tuple(tooth for tooth in found.low if tooth not in found.broken))
    return found


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
        if count is not None and not _fits(_pitches(saw), over_mm, count):
            said = [over_mm / mm + 1 for mm in _pitches(saw)]
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


def _lean(saw: Saw, seen: Seen) -> list[Doubt]:
    widths = [width.mm for width in seen.over_points]
    if seen.first_leans is not Leans.UNSET or not widths:
        return []
    has = (median(widths) - saw.plate.mm) / 2
    if not SURELY_SET_MM < has <= _most_set_mm(saw):
        return []
    return [Doubt(Look.FIRST_LEANS, "unset", "", f"the points measure {fine(has, saw.unit)} of set a side: they lean")]


def _counts(saw: Saw, seen: Seen) -> list[Doubt]:
    found = []
    line = seen.points_in_line
    if line is not None and not _can_be(saw, line):
        per_inch = (line - 1) * MM_PER["in"] / saw.toothed_length.mm + 1
        why = f"that is {whole_number(per_inch)} points in an inch; "
        why += f"hand saws have {FEWEST_PER_INCH:g} to {MOST_PER_INCH:g}"
        found.append(Doubt(Look.IN_LINE, f"{line} points in {saw.toothed_length}", "", why))
    for look, over_mm in _OVER_MM.items():
        count = getattr(seen, look)
        if count is None:
            continue
        if not FEWEST_PER_INCH <= (count - 1) * 25.4 / over_mm + 1 <= MOST_PER_INCH:
            why = f"hand saws have {FEWEST_PER_INCH:g} to {MOST_PER_INCH:g} points in an inch"
            found.append(Doubt(look, f"{count:g} points", "", why))
        elif line is not None and _can_be(saw, line):
            found += _two_counts(saw, look, count, line)
    return found


def _two_counts(saw: Saw, look: Look, count: float, line: int) -> list[Doubt]:
    """What is doubted of two counts that do not agree: the one that the recipe does not bear out; of two that it does
    not, the one over a short stretch, where a slip of one point weighs most."""
    over_mm = _OVER_MM[look]
    told = f"{count:g} points in {'an inch' if look is Look.IN_AN_INCH else '25 mm'}"
    if line == saw.points:
        if _fits(_pitches(saw), over_mm, count):
            return []
        return [Doubt(look, told, "", f"{line} points along the line agree with the recipe, and not with that")]
    if saw.zones or _fits((saw.toothed_length.mm / (line - 1),), over_mm, count):
        return []
    if _fits(_pitches(saw), over_mm, count):
        return [Doubt(Look.IN_LINE, f"{line} points", "", f"{told} agree with the recipe, and not with that")]
    return [Doubt(look, told, "", f"{line} points along the line do not agree with that")]


def _fits(pitches: tuple[float, ...], over_mm: float, count: float) -> bool:
    """Whether ``count`` points over ``over_mm`` are within one of what such pitches give, as a short count may be."""
    said = [over_mm / mm + 1 for mm in pitches]
    return min(said) - 0.75 < count < max(said) + 0.75


def _teeth(seen: Seen, last: int) -> list[Doubt]:
    """Teeth that are not there, and such as cannot be what they are said to be at once."""
    broken, low = set(seen.broken or ()), set(seen.low or ())
    found = []
    for look, others in ((Look.HIGH, (("broken", broken), ("low", low))), (Look.LOW, ()), (Look.BROKEN, ())):
        numbers: tuple[int, ...] = getattr(seen, look) or ()
        beyond = [tooth for tooth in numbers if not 1 <= tooth <= last]
        both = [
            (name, [tooth for tooth in numbers if tooth in other and tooth not in beyond]) for name, other in others
        ]
        why = [f"the line has {last} points"] if beyond else []
        why += [f"{teeth(many)} cannot be high and {name} at once" for name, many in both if many]
        if why:
            odd = {*beyond, *(tooth for _, many in both for tooth in many)}
            rest = tuple(tooth for tooth in numbers if tooth not in odd)
            once = "" if beyond else "each tooth told as one thing"
            found.append(Doubt(look, teeth(sorted(odd)), once, "; ".join(why), rest or None))
    return found


def _line(saw: Saw, seen: Seen) -> list[Doubt]:
    gap = seen.line_gap
    if gap is None:
        return []
    deepest = DEEPEST_HOLLOW * shallowest_mm(saw)
    if gap.mm > deepest:
        why = f"no line is hollow by more than {_width(deepest, saw.unit)}, {DEEPEST_HOLLOW:g} teeth deep (judgment)"
        return [Doubt(Look.LINE_GAP, str(gap), "", why)]
    if seen.line is LineShape.STRAIGHT and gap.mm > 0:
        return [Doubt(Look.LINE, f"straight, with a gap of {gap}", "", "a straight line shows no gap")]
    if seen.line is None and gap.mm > 0:
        why = "it is hollow where the gap is in the middle, crowned where it is at both ends"
        return [Doubt(Look.LINE, f"a gap of {gap}, and no word of its shape", "", why)]
    return []


def _dates(seen: Seen, day: date, today: date) -> list[Doubt]:
    if day > today:
        return [Doubt(Look.LAST_SHARPENED, str(day), "", f"that day is still to come; today is {today}")]
    days = (today - day).days
    if seen.bright is Bright.MOST and days <= FRESH_DAYS:
        ago = "today" if not days else f"{times(days, 'day')} ago"
        why = f"{ago}, and most points shine: look again whether these are flats of that day, left to be filed away"
        return [Doubt(Look.LAST_SHARPENED, str(day), "", why)]
    return []


def _can_be(saw: Saw, points: int) -> bool:
    pitch = saw.toothed_length.mm / (points - 1) if points > 1 else 0.0
    return pitch > 0 and FEWEST_PER_INCH <= MM_PER["in"] / pitch + 1 <= MOST_PER_INCH


def _widths(saw: Saw, seen: Seen) -> list[Doubt]:
    widths = seen.over_points
    if not widths:
        return []
    # Half a thou is what a caliper may be wrong by, so a width that much under the plate still says "no set".
    lean = [width for width in widths if width.mm < saw.plate.mm - 2 * CALIPER_MM]
    most = _most_set_mm(saw)
    wide = [width for width in widths if (width.mm - saw.plate.mm) / 2 > most]
    odd = [*lean, *wide]
    if not odd and median(width.mm for width in widths) >= saw.plate.mm - CALIPER_MM:
        return []
    if lean or not odd:
        why = f"less than the plate, {_width(saw.plate.mm, saw.unit)}; measure both again, the plate beside the teeth"
    else:
        has = fine((max(width.mm for width in wide) - saw.plate.mm) / 2, saw.unit)
        why = f"that is {has} of set a side, and {fine(most, saw.unit)} is more than a hand saw has (FSMAN, derived)"
    rest = tuple(width for width in widths if width not in odd)
    if odd and 2 * len(odd) < len(widths) and median(width.mm for width in rest) >= saw.plate.mm - CALIPER_MM:
        # One slip among several: the others hold.
        return [Doubt(Look.OVER_POINTS, ", ".join(str(width) for width in odd), "", f"{why}; the others hold", rest)]
    return [Doubt(Look.OVER_POINTS, ", ".join(str(width) for width in widths), "", why)]


def _most_set_mm(saw: Saw) -> float:
    return min(MOST_SET_MM, bent_height_mm(shallowest_mm(saw), 1.0))


def _pitches(saw: Saw) -> tuple[float, ...]:
    return tuple(zone.pitch_mm for zone in saw.zones) or (saw.pitch_mm,)


def _span(counts: list[float]) -> str:
    return f"{counts[0]:g}" if len(counts) == 1 else f"{counts[0]:g} to {counts[-1]:g}"


def _width(mm: float, unit: str) -> str:
    return in_unit(mm, "in" if unit == "thou" else unit)
