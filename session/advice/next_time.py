"""What one finished sharpening says to the next: what to do first, and when."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, floor
from typing import Final

from session.texts.faults import fault
from session.texts.faults import names as fault_names
from session.texts.wording import area, fine, median_of, teeth, times, within
from session.trade.dulling import DUE_SHARE
from session.trade.rounding import percent
from session.value_class import dataclass, field

#: The most lines: more would not be read on the closing screen.
MOST_LINES: Final = 8


_AMOUNTS: Final = (
    *("passes", "taken_off_mm", "taken_least_mm", "strokes", "set_mm", "told_set_mm", "least_set_mm", "outlives"),
    *("rests_on", "area_mm2", "cuts_missing"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """The numbers of one finished record; None means that it was not measured.

    unit: the owner's unit. left_out: tooth to reason, for gullets and teeth left out and not low or broken.
    low: those that are named, of low_count in all; low_by: by what, where not by grades of its flats. passes: leveling
    passes. taken_off_mm: what the line came down; the most of it where taken_least_mm says the least. strokes: middle
    count per gullet.
    set_mm, least_set_mm: per side. told_set_mm: the set as last measured, before what came off since. outlives: more
    sharpenings until setting is due. rests_on: of how many records the median stands for each of them, 0 when a light
    one from memory does; None for sharpenings like this one.
    area_mm2: area per stroke of today's trial cut. due: the date with its range, as session.till.due_date words it
    behind "Due", empty when the records tell none. cuts_missing: how many later cuts are missing for that.
    cut_fault: how the trial cut went, one of the names of session.texts.faults, or "good".
    """

    unit: str
    left_out: Mapping[int, str] = field(default_factory=dict)
    low: tuple[int, ...] = ()
    low_by: str = ""
    low_count: int = 0
    broken: tuple[int, ...] = ()
    passes: int | None = None
    taken_off_mm: float | None = None
    taken_least_mm: float | None = None
    strokes: float | None = None
    set_mm: float | None = None
    told_set_mm: float | None = None
    least_set_mm: float | None = None
    outlives: int | None = None
    rests_on: int | None = None
    area_mm2: float | None = None
    due: str = ""
    cuts_missing: int | None = None
    cut_fault: str | None = None


@dataclass(frozen=True, slots=True)
class NextLine:
    """One line of advice for next time, and who says so."""

    text: str
    source: str


#: How the line begins that says that the saw is due for set.
SET_IT: Final = "Set it next time:"

#: How the reason begins that says that a gullet needed nothing.
SHARP_ALREADY: Final = "sharp already"


def next_time(record: Finished) -> tuple[NextLine, ...]:
    """At most `MOST_LINES` lines, what matters most first; the first always says when.

    Raises ValueError for a negative amount.
    """
    for name in _AMOUNTS:
        amount = getattr(record, name)
        if amount is not None and not amount >= 0:
            raise ValueError(f"{name} is {amount:g}; allowed: 0 or more")
    lines = [_when(record)]
    if record.cut_fault is not None and record.cut_fault in fault_names():
        first = fault(record.cut_fault).causes[0]
        lines.append(NextLine(f"{fault(record.cut_fault).sees} First try: {first.remedy}", first.source))
    lines.append(_set(record))
    lines += _teeth(record)
    if record.strokes is not None and record.strokes > 0:
        lines.append(NextLine(f"Start from {_strokes(record.strokes)} a gullet, the middle of this filing.", "derived"))
    if record.passes is not None and record.taken_off_mm is not None:
        most, least = record.taken_off_mm, record.taken_least_mm
        took = fine(most, record.unit) if least is None else f"about {within(least, most, record.unit)}"
        off = f"Leveling took {took} in {times(record.passes, 'pass')}"
        lines.append(NextLine(f"{off}; the line has that much less to give.", "derived"))
    return tuple(lines)


def _when(record: Finished) -> NextLine:
    if record.due:
        return NextLine(f"Due{record.due}.", "derived; judgment")
    missing = record.cuts_missing
    if record.area_mm2:
        limit = record.area_mm2 * DUE_SHARE
        like = f"{area(limit, record.unit)} a stroke, {percent(DUE_SHARE)} of this trial cut's"
        tell = f"; {times(missing, 'later cut')} would tell the date" if missing else ""
        return NextLine(f"Due again when a like cut takes under {like}{tell}.", "judgment")
    tell = f"A trial cut soon and {missing} later ones tell" if missing else "A trial cut now and then tells"
    return NextLine(f"Due again when its points shine. {tell} it sooner.", "FIT; FSMAN")


def _set(record: Finished) -> NextLine:
    if record.set_mm is None:
        return NextLine("Measure over the set before the next sharpening: it was not measured.", "FSMAN")
    left = _left(record.set_mm, record)
    if record.least_set_mm is not None and record.set_mm < record.least_set_mm:
        return NextLine(f"{SET_IT} {left} is under {fine(record.least_set_mm, record.unit)}.", "FSMAN")
    if record.outlives is None:
        return NextLine(f"The set is {left}; measure it again next time.", "FSMAN")
    source = "derived; from memory" if record.rests_on == 0 else "derived"
    if record.outlives == 0:
        return NextLine(f"{SET_IT} {left} will not outlive another sharpening.", source)
    like = " like this one"
    if record.rests_on is not None:
        like = f", going by {median_of(record.rests_on)}" if record.rests_on else ", if light ones"
    more = times(record.outlives, "more sharpening")
    return NextLine(f"The set, {left}, outlives {more}{like}.", source)


def _left(set_mm: float, record: Finished) -> str:
    """The set by now; what nobody measured is told by what was, and what came off since."""
    by_now = fine(set_mm, record.unit)
    told = by_now if record.told_set_mm is None else fine(record.told_set_mm, record.unit)
    return f"{told} a side" if told == by_now else f"{told} a side as measured (by now about {by_now})"


def _teeth(record: Finished) -> list[NextLine]:
    lines: list[NextLine] = []
    if record.low:
        by = f" by {record.low_by}" if record.low_by else ""
        come = "it comes" if len(record.low) == 1 else "they come"
        lines.append(
            NextLine(
                f"Low{by}: {teeth(record.low, of=record.low_count)}. Leave alone until {come} into line.", "HASL p. 74"
            )
        )
    if record.broken:
        lines.append(NextLine(f"Broken: {teeth(record.broken)}. Keep the neighbors their own size.", "DREW"))
    sharp = {tooth for tooth, why in record.left_out.items() if why.lower().startswith(SHARP_ALREADY)}
    rest = sorted(set(record.left_out) - set(record.low) - set(record.broken) - sharp)
    if rest:
        # What was left out may be the gullet in front of the tooth, which has its number.
        it, why = ("it", f" ({record.left_out[rest[0]]})") if len(rest) == 1 else ("them", "")
        lines.append(
            NextLine(f"Left out this time, so look first here and in front of {it}: {teeth(rest)}{why}.", "judgment")
        )
    return lines


def _strokes(count: float) -> str:
    """Whole strokes; a middle of 1.5 is of as many gullets with one as with two."""
    fewest, most = floor(count), ceil(count)
    return times(fewest, "stroke") if fewest == most else f"{fewest} or {times(most, 'stroke')}"
