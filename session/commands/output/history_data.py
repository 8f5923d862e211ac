"""History for other programs: one JSON value, or one row of CSV for each sharpening and each cut."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from session.advice.corner_advice import corner_to_use, limit_source
from session.advice.saw_advice import advice, loss
from session.commands.output.due_output import due_data
from session.files.cut_file import RecordedCut
from session.files.scanned_file import KeptScan
from session.machine.clean_text import clean
from session.machine.untrusted_text import shown
from session.till.corner_ledger import FileWear, corners_used
from session.till.due_date import due
from session.till.past_sharpening import Sharpening
from session.till.saw_history import SawHistory
from session.trade.file_life import TEETH_PER_CORNER, corner_in_use, is_done
from session.trade.rounding import significant
from session.trade.scanned_line import ToothState
from session.trade.trial_cut import TrialCut
from session.walk.stages import Stage

#: Columns, each with its unit where it has one.
COLUMNS: Final = (
    "saw",
    "record",
    "started_iso8601",
    "ended_iso8601",
    "state",
    "stages",
    "work_minutes",
    "strokes_count",
    "gullets_filed_count",
    "leveling_passes_count",
    "taken_off_line_mm",
    "set_found_per_side_mm",
    "set_left_per_side_mm",
    "low_teeth_count",
    "low_teeth_from_heel",
    "left_out_places_count",
    "flagged_places_count",
    "file_name",
    "file_corner_number",
    "cut_went",
    "cut_length_mm",
    "cut_thickness_mm",
    "cut_strokes_count",
    "cut_area_mm2_per_stroke",
    "cut_wander_mm_per_100_mm",
    "cut_wander_to",
    "cut_days_since_sharpening",
    "wood",
    "note",
    "file",
    "taken_off_line_least_mm",
    "taken_off_line_most_mm",
)


#: States of teeth that a scan lists.
_ODD: Final = (ToothState.LOW, ToothState.HIGH, ToothState.BROKEN, ToothState.NOT_SEEN)


def as_json(
    histories: Sequence[SawHistory],
    now: datetime,
    worn: Iterable[FileWear] = (),
    limit: int = TEETH_PER_CORNER,
    scans: Sequence[Sequence[KeptScan]] = (),
) -> dict[str, Any]:
    """The keys of ``history --json``; lengths in mm, None for what is not known.

    worn: the files owned, with what all saws of the till filed with them; limit: teeth a corner. scans: the lines
    measured of each saw, in the order of ``histories``.
    """
    measured = scans or [()] * len(histories)
    saws = [
        _saw(one, now) | {"scans": [_scan(scan) for scan in own]} for one, own in zip(histories, measured, strict=True)
    ]
    return {"saws": saws, "files": [_file(one, limit) for one in worn]}


def _scan(scan: KeptScan) -> dict[str, Any]:
    line = scan.line
    return {
        "at": scan.at,
        "count": line.count,
        "pitch_mm": line.pitch_mm,
        "line": str(line.shape),
        "line_gap_mm": line.line_gap_mm,
        "height_spread_mm": line.height_spread_mm,
        "spacing_error_mm": line.spacing_error_mm,
        "worst_spacing_error_mm": line.worst_spacing_error_mm,
        **{f"{state}_teeth_from_heel".replace(" ", "_"): list(line.those(state)) for state in _ODD},
    }


def _file(one: FileWear, limit: int) -> dict[str, Any]:
    return {
        "name": one.file.name,
        **teeth_filed(one),
        "sharpenings": one.sharpenings,
        "corner": corner_in_use(one.file, limit),
        "done": is_done(one.file, limit),
        "limit_teeth": limit,
        "corner_words": {"text": corner_to_use(one.file, limit), "source": limit_source(limit)},
    }


def teeth_filed(one: FileWear) -> dict[str, Any]:
    """The keys that say what a file has filed, for every command that tells it."""
    return {
        "teeth_filed": list(one.file.corners),
        "teeth_filed_in_records": list(one.recorded),
        "teeth_filed_corner_untold": one.untold,
    }


def as_csv(histories: Iterable[SawHistory]) -> str:
    """The header and the rows of ``history --csv``; an empty cell is not known."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\n")
    writer.writeheader()
    for told in histories:
        rows = [(_seconds(one.started), _sharpening_row(told, one)) for one in told.sharpenings]
        rows += [(cut.at.timestamp(), _cut_row(told, path, cut)) for path, cut in told.cuts]
        for _, row in sorted(rows, key=lambda row: row[0]):
            writer.writerow({name: _cell(value) for name, value in row.items() if value is not None})
    return out.getvalue()


def _seconds(at: datetime | None) -> float:
    return at.timestamp() if at is not None else float("-inf")


def _cell(value: Any) -> str:
    if isinstance(value, datetime):
        return value.isoformat()
    return significant(value, 6) if isinstance(value, float) else str(value)


def _sharpening_row(told: SawHistory, one: Sharpening) -> dict[str, Any]:
    line = one.summary.line
    row = {
        "saw": one.name,
        "record": "sharpening",
        "started_iso8601": one.started,
        "ended_iso8601": one.ended,
        "state": str(one.state),
        "stages": "; ".join(one.stages),
        "work_minutes": one.summary.minutes,
        "strokes_count": one.summary.all_strokes,
        "gullets_filed_count": one.gullets,
        "leveling_passes_count": line.passes,
        "taken_off_line_mm": one.off_mm,
        "set_found_per_side_mm": one.found_set_mm,
        "set_left_per_side_mm": one.left_set_mm,
        "low_teeth_count": line.low_count if line.low is not None else None,
        "low_teeth_from_heel": " ".join(str(tooth) for tooth in line.low or ()),
        "left_out_places_count": one.summary.left_out,
        "flagged_places_count": one.summary.flagged,
        "file_name": one.file_used,
        "file_corner_number": one.corner,
        "cut_went": one.cut_went,
        "file": shown(one.path),
        "taken_off_line_least_mm": None if one.lowered is None else one.lowered.least_mm,
        "taken_off_line_most_mm": None if one.lowered is None else one.lowered.most_mm,
    }
    return row | (_trial_row(one.trial) if one.trial is not None else {})


def _cut_row(told: SawHistory, path: Path, cut: RecordedCut) -> dict[str, Any]:
    days = told.days_after(cut)
    return {
        "saw": cut.saw or told.saw.name,
        "record": "cut",
        "started_iso8601": cut.at,
        **_trial_row(cut.trial(0.0)),
        "cut_days_since_sharpening": days,
        "note": cut.note,
        "file": shown(path),
    }


def _trial_row(cut: TrialCut) -> dict[str, Any]:
    return {
        "cut_length_mm": cut.length_mm,
        "cut_thickness_mm": cut.thickness_mm,
        "cut_strokes_count": cut.strokes,
        "cut_area_mm2_per_stroke": cut.area_mm2,
        "cut_wander_mm_per_100_mm": cut.wander_per_100_mm,
        "cut_wander_to": cut.wander_side,
        "cut_days_since_sharpening": cut.days,
        "wood": cut.wood,
    }


def _saw(told: SawHistory, now: datetime) -> dict[str, Any]:
    lost = loss(told.finished)
    known = [one for one in told.finished if one.off_mm is not None]
    return {
        "saw": clean(told.saw.slug),
        "name": told.saw.name,
        "formerly": list(told.saw.former),
        "retired": told.saw.retired,
        "sharpenings": [_sharpening(told, one) for one in told.sharpenings],
        "cuts": [_cut(told, path, cut) for path, cut in told.cuts],
        "sharpenings_since_set": told.since_set,
        "corners_used": [
            {
                "file_name": used.file or None,
                "file_corner_number": used.corner,
                "gullets_filed_count": used.gullets,
                "strokes_count": used.strokes,
            }
            for used in corners_used(told.finished)
        ],
        "taken_off_line_mm": lost.total_mm if known else None,
        "taken_off_known_of": [len(known), len(told.finished)],
        "due": due_data(due(told, now)),
        "next_time": [{"text": line.text, "source": line.source} for line in advice(told, now)],
        "unread": [{"file": shown(path), "reason": clean(why)} for path, why in told.unread],
        "copies": [{"file": shown(path), "reason": clean(why)} for path, why in told.copies],
    }


def _sharpening(told: SawHistory, one: Sharpening) -> dict[str, Any]:
    row = _sharpening_row(told, one)
    line = one.summary.line
    return {
        **{name: value for name, value in row.items() if name not in ("saw", "record") and name[:4] != "cut_"},
        "stages": list(one.stages),
        "places_done": dict(one.summary.done),
        "strokes_by_stage": dict(one.summary.strokes),
        "low_teeth_from_heel": None if line.low is None else list(line.low),
        "left_out_teeth": [{"tooth": tooth, "reason": reason} for tooth, reason in line.left_out.items()],
        "was_set": bool(one.summary.done.get(Stage.SET)),
        "cut_went": one.cut_went,
        "trial_cut": None if one.trial is None else _trial_row(one.trial),
        "summary": one.summary.to_dict(),
    }


def _cut(told: SawHistory, path: Path, cut: RecordedCut) -> dict[str, Any]:
    return {
        **cut.to_dict(),
        **_trial_row(cut.trial(0.0)),
        "cut_days_since_sharpening": told.days_after(cut),
        "file": shown(path),
    }
