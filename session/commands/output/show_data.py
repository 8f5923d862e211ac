"""One record for other programs: JSON with the keys that others rely on, or a row of CSV for each mark."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from datetime import datetime
from typing import Any, Final

from session.log.log_reader import LogFile
from session.log.summary import summary_of
from session.walk.mark import Mark

#: Columns of the CSV, each with its unit where it has one, and the mark's field in it.
COLUMNS: Final = {
    "seq": "seq",
    "at_iso8601": "at",
    "did": "did",
    "stage": "stage",
    "side": "side",
    "tooth_from_heel": "tooth",
    "pass_number": "number",
    "step": "step",
    "round": "round",
    "strokes_count": "strokes",
    "confirmed_by": "by",
    "what": "what",
    "value": "value",
    "value_unit": "unit",
    "entered": "entered",
    "reason": "reason",
    "takes_back_seq": "of",
    "marked_together": "many",
}


def as_json(log: LogFile) -> dict[str, Any]:
    """The record with its marks as read; ``odd`` only for one that may not be gone on with."""
    told: dict[str, Any] = {
        "header": log.header,
        "marks": [mark.to_dict() for mark in log.marks],
        "torn_bytes": log.torn_bytes,
        "state": str(log.state),
        "summary": summary_of(log).to_dict(),
    }
    if log.odd is not None:
        told["odd"] = str(log.odd)
    return told


def as_csv(marks: Iterable[Mark]) -> str:
    """A row for each mark, in order."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for mark in marks:
        values = mark.to_dict()
        row = [values.get(name, "") for name in COLUMNS.values()]
        writer.writerow([value.isoformat() if isinstance(value, datetime) else value for value in row])
    return out.getvalue()
