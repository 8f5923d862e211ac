"""`toothline show LOG`: one record, or the last one of a saw, read without changing it."""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from session.commands.output.page_folder import paper_arguments
from session.machine.refusal import Refusal

if TYPE_CHECKING:
    from session.commands.output.replayed_record import ReplayedRecord
    from session.log.log_reader import LogFile
    from session.walk.known_teeth import Known
    from session.walk.mark import Mark

HELP = "show one record, or the last one of a saw"
EXAMPLE = "toothline show netloft-panel-saw --pdf report.pdf"

#: Cells that a line is drawn in: a terminal of 80 with a margin.
_WIDTH: Final = 76

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
    "off_of_the_pitch": "off",
    "reason": "reason",
    "takes_back_seq": "of",
    "marked_together": "many",
}


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument(
        "log", metavar="LOG", help="a log file, the file name alone of a log in the till, or a saw: its last one"
    )
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="header, marks, state and summary as JSON")
    form.add_argument("--csv", action="store_true", help="one row a mark, units in the column names")
    form.add_argument("--pdf", metavar="FILE", help="pages to print with the account and every line, into a new file")
    form.add_argument("--svg", metavar="FILE", help="the same pages below one another in one drawing, into a new file")
    paper_arguments(parser)


def run(args: argparse.Namespace) -> int:
    """Print the record in the form asked for."""
    from session.commands.output.plain_data import print_json, write
    from session.log.log_reader import read_log
    from session.machine.untrusted_text import shown

    path = _found(args)
    log = read_log(path)
    if "teeth" in log.header and "session" not in log.header:
        last = _last_of(str(path), args.till)
        if last is None:
            raise Refusal(f"{shown(path)}: this is a recipe, not a log; toothline plan shows a recipe")
        path, log = last, read_log(last)
    if args.json:
        print_json(_as_json(log))
    elif args.csv:
        write(_as_csv(log.marks))
    else:
        _told(path, log, args)
    return 0


def _told(path: Path, log: LogFile, args: argparse.Namespace) -> None:
    """Print the record in words, or as pages."""
    from session.commands.output.plain_data import write
    from session.commands.output.printed_width import wrapped_lines
    from session.commands.output.replayed_record import ReplayedRecord

    record = ReplayedRecord(path, log)
    if args.svg is not None:
        _svg(record, args)
    elif args.pdf is not None:
        _pdf(record, args)
    else:
        write(wrapped_lines(_words(record)))


def _found(args: argparse.Namespace) -> Path:
    """The log that is meant: a file, else the log of that name in the till, else the last one of the saw so called."""
    name: str = args.log
    path = Path(name)
    if "\0" in name or len(path.parts) != 1 or path.is_absolute() or _there(path):
        return path
    # For a file that says where it is, nothing that looks through a till is loaded.
    from session.commands.output.standard_streams import say
    from session.machine.clean_text import clean
    from session.till.known_saws import find_saw, known_saws
    from session.till.till_folder import Till, till_folder

    till = Till(till_folder(args.till, waits=say))
    found = [log for folder in till.log_folders() for log in till.logs(folder) if name in (log.name, log.stem)]
    if len(found) > 1:
        owners = ", ".join(clean(log.parent.name) for log in found)
        raise Refusal(f"{clean(name)[:80]}: several saws have a log of that name; write its path: {owners}")
    if found:
        return found[0]
    last = _last_of(name, args.till)
    if last is None and not path.suffix:
        # Neither a log nor a file: a saw was meant, and which ones there are is told.
        find_saw(known_saws([till]), name)
    return last or path


def _last_of(name: str, folder: str | None) -> Path | None:
    """The last log of the saw that ``name`` means; None where it means none. Raises Refusal for one without a log."""
    from session.commands.output.standard_streams import say
    from session.machine.clean_text import clean
    from session.till.known_saws import known_saws, only_saw, saws_called
    from session.till.till_folder import Till, till_folder

    till = Till(till_folder(folder, waits=say))
    saws = saws_called(known_saws([till]), name)
    if not saws:
        return None
    saw = only_saw(saws, name)
    logs = sorted((log for slug in saw.slugs for log in till.logs(slug)), key=lambda log: log.name)
    if not logs:
        raise Refusal(f"{clean(saw.slug)}: no sharpening of it is in this till yet")
    return logs[-1]


def _there(path: Path) -> bool:
    try:
        return path.exists()
    except OSError:
        return True  # reading it says why it cannot be read


def _as_json(log: LogFile) -> dict[str, Any]:
    """The record with its marks as read; ``odd`` only for one that may not be gone on with."""
    from session.log.summary import summary_of

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


def _as_csv(marks: Iterable[Mark]) -> str:
    """A row for each mark, in order."""
    import csv
    import io
    from datetime import datetime

    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for mark in marks:
        values = mark.to_dict()
        row = [values.get(name, "") for name in COLUMNS.values()]
        writer.writerow([value.isoformat() if isinstance(value, datetime) else value for value in row])
    return out.getvalue()


def _words(record: ReplayedRecord) -> list[str]:
    from session.commands.output.record_account import account_lines, next_time_lines
    from session.commands.output.record_line import flagged, left_out, place_words
    from session.log.summary import summarize
    from session.machine.clean_text import clean
    from session.machine.untrusted_text import shown
    from session.value_class import replace
    from session.walk.mark import Did
    from session.walk.measurables import NOT_LOOKED

    log, account, left = record.log, record.account, left_out(record)
    named = f"{clean(record.saw)}, " if record.saw else ""
    counts = replace(summarize(account), left_out=len(left))
    lines = [f"{named}{shown(record.path)}: {log.state}", *(clean(line) for line in counts.lines())]
    if told := account_lines(record):
        lines += ["", *(clean(line) for line in told)]
    lines += [f"{what}: none." for what, found in (("Left out", left), ("Flagged", flagged(account))) if not found]
    for heading, places in (("Left out", left), ("Flagged", flagged(account))):
        if places:
            lines += ["", f"{heading}:"]
        for place, reason in places:
            lines.append(clean(f"  {place_words(place)}{f': {reason}' if reason else ''}"))
    if passed := [place.step for place, mark in account.outcomes.items() if mark.reason == NOT_LOOKED]:
        # Passed over is not looked at and fine.
        lines += ["", f"Not looked at: {clean(', '.join(passed))}."]
    if log.marks and log.marks[-1].did is Did.GAVE_UP:
        last = log.marks[-1]
        why = f": {last.reason}" if last.reason else "; no reason was told"
        lines += ["", clean(f"Given up on {last.at:%Y-%m-%d %H:%M}{why}.")]
    if foreign := Counter(str(mark.did) for mark in log.marks if not mark.did.known):
        lines += ["", "Marks of another version, kept as they are:"]
        lines += [clean(f"  {word}: {count}") for word, count in foreign.items()]
    if later := next_time_lines(record):
        lines += ["", *(clean(line) for line in later)]
    lines += _line(record)
    if log.torn_bytes:
        lines += ["", f"At its end {log.torn_bytes} bytes are torn; opened for writing, it has them set aside."]
    if log.odd is not None:
        lines += ["", clean(f"Opened for reading only: {log.odd}")]
    return lines


def _line(record: ReplayedRecord) -> list[str]:
    """The line of each stage as text, as the person sees the saw with the handle on the right."""
    from session.commands.output.plain_data import can_show
    from session.commands.output.printed_width import columns
    from session.commands.output.record_line import drawings
    from session.pictures.line_strip import GLYPHS, known_legend, legend, strip
    from session.pictures.picture_rows import plain

    g, width = GLYPHS, min(_WIDTH, columns())
    ascii = not can_show("".join((g.ahead, g.now, g.done, g.left_out, g.both, g.handle, g.stump)))
    rows: list[str] = []
    kinds: tuple[Known, ...] = ()
    for drawn in drawings(record):
        flags, known = drawn.flags, drawn.known
        picture = strip(drawn.states, drawn.here, drawn.reaches, 1, width, flags=flags, known=known, ascii=ascii)
        rows += ["", f"{drawn.title}:", *(text.rstrip() for text in plain(picture) if text.strip())]
        kinds = known.kinds
    meant = [legend(width, kinds=(), ascii=ascii), *([known_legend(kinds, width, ascii=ascii)] if kinds else [])]
    return [*rows, "", *(text.rstrip() for text in plain(tuple(meant)))] if rows else rows


def _svg(record: ReplayedRecord, args: argparse.Namespace) -> None:
    from session.commands.output.page_folder import paper_stock
    from session.commands.output.record_page import file_named, place_drawing, record_matter
    from session.prints.record_sheets import record_sheets
    from session.prints.svg_sheets import svg_sheets

    matter, stock = record_matter(record), paper_stock(args)
    drawn = svg_sheets(matter.title, record_sheets(matter, stock))
    place_drawing("--svg", file_named("--svg", args.svg), drawn.encode("utf-8", "replace"))


def _pdf(record: ReplayedRecord, args: argparse.Namespace) -> None:
    from session.commands.output.page_folder import paper_stock, tell_of_signs
    from session.commands.output.record_page import file_named, place_drawing, record_matter
    from session.prints.pdf_sheets import pdf_sheets
    from session.prints.record_sheets import record_sheets

    matter, stock = record_matter(record), paper_stock(args)
    tell_of_signs(matter.saw)
    place_drawing("--pdf", file_named("--pdf", args.pdf), pdf_sheets(matter.title, record_sheets(matter, stock)))
