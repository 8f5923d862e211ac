"""History as a person reads it: one table a saw, what it sums up to, and what it says to the next sharpening."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from session.advice.corner_advice import corner_to_use, limit_source
from session.advice.saw_advice import advice
from session.advice.scan_change import newest_change
from session.commands.output.due_output import due_line
from session.commands.output.plain_data import write
from session.commands.output.printed_tables import print_heading, print_table
from session.commands.output.printed_width import wrapped_lines
from session.files.cut_file import RecordedCut
from session.files.scanned_file import KeptScan
from session.log.line_facts import LineFacts
from session.machine.clean_text import clean
from session.texts.wording import fine, off_line, times, within
from session.till.corner_ledger import FileWear, corners_used
from session.till.due_date import due
from session.till.past_sharpening import Sharpening
from session.till.saw_history import SawHistory, in_words
from session.trade.rounding import whole_number
from session.trade.trial_cut import TrialCut
from session.walk.corner_work import CornerWork

#: What stands where nobody measured.
UNKNOWN: Final = "–"

#: Rows of a saw that are printed before all of its records are read, and without ``--all`` no others.
MOST_ROWS: Final = 200

_HEADS: Final = ("begun", "done", "strokes", "min", "set found", "taken off", "low teeth", "cut, mm² a stroke")


def words(told: SawHistory, now: datetime, scans: Sequence[KeptScan] = (), *, rows: bool = True) -> None:
    """Print all of one saw. scans: the lines that were measured of it, the oldest first.

    rows: whether a row for each record is wanted; else they are above already (`newest`), and what they sum up to
    follows.
    """
    if not (told.sharpenings or told.cuts or told.unread or told.copies or scans):
        write(f"{_name(told)}: no record yet\n\n")
        return
    counts = f"{times(len(told.finished), 'sharpening')} finished, {times(len(told.cuts), 'cut')} between"
    if rows:
        print_heading(f"{_name(told)}: {counts}")
        if told.sharpenings or told.cuts:
            _table(told)
    else:
        write(wrapped_lines([f"  In all {counts}."]))
    lines = [f"  {line}" for line in (*_sums(told), *_measured(told, scans), *_due(told, now))]
    later = advice(told, now)
    lines += [*(["  Next time:"] if later else []), *(f"    {one.text} [{one.source}]" for one in later)]
    lines += [f"  Read only in part, or not at all: {clean(problem)}" for problem in in_words(told.unread)]
    lines += [f"  Not counted: {clean(copy)}" for copy in in_words(told.copies)]
    write(wrapped_lines([*lines, ""]))


def newest(told: SawHistory) -> None:
    """Print the newest `MOST_ROWS` records of one saw that has more of them."""
    print_heading(f"{_name(told)}: the newest {MOST_ROWS} records; --all lists every one")
    _table(told, MOST_ROWS)


def _name(told: SawHistory) -> str:
    folder = clean(told.saw.slug)
    return told.saw.called if told.saw.name == folder else f"{told.saw.called} ({folder})"


def _table(told: SawHistory, most: int | None = None) -> None:
    heads = [*_HEADS, "file corner"] if _corners(told) else list(_HEADS)
    rows = [(_seconds(one.started), _sharpening(one)) for one in told.sharpenings]
    rows += [(cut.at.timestamp(), _cut(told, cut)) for _, cut in told.cuts]
    in_turn = [row[: len(heads)] for _, row in sorted(rows, key=lambda row: row[0])]
    # A date that is cut off says nothing; words may go on below.
    print_table(
        "",
        heads,
        in_turn if most is None else in_turn[-most:],
        right=("strokes", "min"),
        whole=("begun", "strokes", "min"),
    )


def _corners(told: SawHistory) -> bool:
    return any(one.corner is not None or one.file_used is not None for one in told.sharpenings)


def _seconds(at: datetime | None) -> float:
    return at.timestamp() if at is not None else float("-inf")


def _sharpening(one: Sharpening) -> tuple[str, ...]:
    unit = one.saw.unit if one.saw is not None else "mm"
    stages = ", ".join(stage for stage in one.stages if stage not in ("look over", "close"))
    if not one.finished:
        stages = f"{one.state.upper()}: {stages}" if stages else one.state.upper()
    line = one.summary.line
    corner = " ".join(str(part) for part in (one.file_used, one.corner) if part is not None)
    return (
        f"{one.started:%Y-%m-%d}" if one.started is not None else UNKNOWN,
        stages or UNKNOWN,
        str(one.summary.all_strokes),
        f"{one.summary.minutes:g}",
        _length(one.found_set_mm, unit),
        UNKNOWN if one.lowered is None else within(one.lowered.least_mm, one.lowered.most_mm, unit),
        UNKNOWN if line.low is None else _low(line, whole=one.finished),
        _speed(one.trial, one.cut_went, unit),
        corner or UNKNOWN,
    )


def _cut(told: SawHistory, cut: RecordedCut) -> tuple[str, ...]:
    days = told.days_after(cut)
    after = "" if days is None else f", {times(whole_number(days), 'day')} after"
    note = f": {cut.note}" if cut.note else ""
    speed = _speed(cut.trial(0.0), None, cut.length.unit)
    return (f"{cut.at:%Y-%m-%d}", f"trial cut{after}{note}", "", "", "", "", "", speed, "")


def _speed(cut: TrialCut | None, went: str | None, unit: str) -> str:
    if cut is None:
        return went or UNKNOWN
    wander = f", {off_line(cut.wander_per_100_mm, unit)} {cut.wander_side}" if cut.wander_mm else ""
    return f"{whole_number(cut.area_mm2)}{f', {went}' if went else ''}{wander}"


def _length(mm: float | None, unit: str) -> str:
    return UNKNOWN if mm is None else fine(mm, unit)


def _low(line: LineFacts, *, whole: bool) -> str:
    low, count = line.low or (), line.low_count
    # Half a line graded says nothing of the other half.
    of = "" if whole or not line.flats else f" of {sum(line.flats[max(line.flats)])}"
    named = ", ".join(str(tooth) for tooth in low[:6])
    more = f" and {count - 6} more" if count > 6 else ""
    return f"{count}{of}: {named}{more}" if count else f"none{of}"


def _sums(told: SawHistory) -> list[str]:
    if not told.finished:
        return []
    lines = []
    count, since = len(told.finished), told.since_set
    lowered = [one.lowered for one in told.finished if one.lowered is not None]
    unit = next((one.saw.unit for one in reversed(told.finished) if one.saw is not None), "mm")
    if lowered:
        lost = within(sum(one.least_mm for one in lowered), sum(one.most_mm for one in lowered), unit)
        by_scan = any(one.lowered is not None and one.summary.line.by_scan for one in told.finished)
        flats = "flats, graded or measured by a scan" if by_scan else "graded flats"
        lines.append(f"Taken off the line: {lost} in {len(lowered)} of {count}, from the {flats} (an estimate).")
    else:
        lines.append("Taken off the line: not known; no flats were graded.")
    if since is None:
        lines.append("Set: no record of setting.")
    else:
        lines.append(
            "Set at the last sharpening." if since == 0 else f"Set {times(since, 'sharpening')} before the last."
        )
    by_corner = corners_used(told.finished)
    filed = sum(one.gullets for one in by_corner)
    told_corners = [
        f"{used_in_words(one)} {one.gullets}" + (f" ({times(one.strokes, 'stroke')} counted)" if one.strokes else "")
        for one in by_corner
    ]
    if not any(one.file or one.corner for one in by_corner):
        told_corners = ["by which corner of the file is not recorded"]
    lines.append(f"Gullets filed: {filed}; {'; '.join(told_corners)}.")
    return lines


def _measured(told: SawHistory, scans: Sequence[KeptScan]) -> list[str]:
    """The newest scan, and what the last sharpening did that two of them tell of."""
    if not scans:
        return []
    unit = next((one.saw.unit for one in reversed(told.sharpenings) if one.saw is not None), "mm")
    line = scans[-1].line
    spread = fine(line.height_spread_mm, unit)
    newest = (
        f"{times(len(scans), 'scan')}, the last of {scans[-1].at:%Y-%m-%d}: {line.count} teeth, heights by {spread}."
    )
    return [newest, *newest_change(told, scans, unit)]


def used_in_words(used: CornerWork) -> str:
    """ "6 in slim, corner 2": a file and its corner, as far as they were told."""
    parts = (used.file, f"corner {used.corner}" if used.corner else "")
    return ", ".join(part for part in parts if part) or "not told"


def files(worn: Sequence[FileWear], limit: int) -> None:
    """Print what each file of the till has filed."""
    if not worn:
        return
    write("Files\n")
    for one in worn:
        corners = ", ".join(f"corner {number} {teeth}" for number, teeth in enumerate(one.file.corners, 1))
        untold = f"; {times(one.untold, 'gullet')} by a corner that was not told" if one.untold else ""
        named = times(one.sharpenings, "sharpening")
        filed = f"  {one.file.name}: {corners} teeth filed, {sum(one.recorded)} of them in {named}{untold}"
        write(wrapped_lines([filed, f"    {corner_to_use(one.file, limit)} [{limit_source(limit)}]"]))
    write("\n")


def _due(told: SawHistory, now: datetime) -> list[str]:
    return [due_line(due(told, now))] if told.finished else []
