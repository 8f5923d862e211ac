"""`toothline show LOG`: one record, read without changing it."""

from __future__ import annotations

import argparse
import csv
import json
import sys
from datetime import date, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from session.records.reader import LogFile
    from session.records.summary import Summary

HELP = "show one record"
EXAMPLE = "toothline show 2026-03-07T09-00-00.toml --csv"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("log", metavar="LOG", help="a log file")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="header, marks, state and summary as JSON")
    form.add_argument("--csv", action="store_true", help="one row a mark, units in the column names")


def run(args: argparse.Namespace) -> int:
    """Print the record in the form asked for."""
    from session.records.reader import read_log
    from session.records.summary import summary_of

    log = read_log(Path(args.log))
    if args.json:
        told = {
            "header": log.header,
            "marks": [mark.to_dict() for mark in log.marks],
            "torn_bytes": log.torn_bytes,
            "state": str(log.state),
            "summary": summary_of(log).to_dict(),
        }
        if log.odd is not None:
            told["odd"] = str(log.odd)
        json.dump(told, sys.stdout, indent=2, ensure_ascii=False, default=_plain)
        print()
    elif args.csv:
        _csv(log)
    else:
        _words(Path(args.log), log, summary_of(log))
    return 0


#: Columns of the CSV, each with its unit where it has one, and the mark's field in it.
_COLUMNS = {
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


def _csv(log: LogFile) -> None:
    out = csv.writer(sys.stdout)
    out.writerow(_COLUMNS)
    for mark in log.marks:
        values = mark.to_dict()
        row = [values.get(field, "") for field in _COLUMNS.values()]
        out.writerow([value.isoformat() if isinstance(value, datetime) else value for value in row])


def _words(path: Path, log: LogFile, summary: Summary) -> None:
    print(f"{path.name}: {log.state}")
    for line in summary.lines():
        print(line)
    if log.torn_bytes:
        print(f"At its end {log.torn_bytes} bytes are torn; they are set aside when the log is opened for writing.")
    if log.odd is not None:
        print(f"Opened for reading only: {log.odd}")


def _plain(value: Any) -> Any:
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    raise TypeError(f"{type(value).__name__} in a log header")
