"""A record as a page, SVG or PDF: what stands on it, and its place in a new file of the person's."""

from __future__ import annotations

from pathlib import Path

from session.commands.output.plain_data import write
from session.commands.output.record_account import account_lines, next_time_lines
from session.commands.output.record_line import drawings, flagged, left_out, place_words
from session.commands.output.replayed_record import ReplayedRecord
from session.files.scanned_file import KeptScan
from session.machine.disk import REAL, why
from session.machine.new_file import place_file
from session.machine.refusal import DISK, Refusal
from session.machine.untrusted_text import shown
from session.prints.record_matter import RecordMatter
from session.till.scan_pair import pair_of, scans_of
from session.walk.measurables import NOT_LOOKED


def record_matter(record: ReplayedRecord) -> RecordMatter:
    """What a page tells of a record. Raises Refusal where no line can be drawn."""
    lines, path = drawings(record), record.path
    if not lines:
        raise Refusal(f"{shown(path)}: no line can be drawn: its header holds no plan that this version can follow")
    account, left = record.account, left_out(record)
    notes = [f"left out: {place_words(place)}{f': {reason}' if reason else ''}" for place, reason in left]
    notes += [f"flagged: {place_words(place)}{f': {reason}' if reason else ''}" for place, reason in flagged(account)]
    notes += [f"{what}: none" for what, found in (("left out", left), ("flagged", flagged(account))) if not found]
    if passed := [place.step for place, mark in account.outcomes.items() if mark.reason == NOT_LOOKED]:
        notes.append(f"not looked at: {', '.join(passed)}")
    return RecordMatter(
        saw=record.saw or path.parent.name,
        record=f"{path.stem}: {record.log.state}",
        account=tuple(account_lines(record)),
        lines=tuple(lines),
        notes=tuple(notes),
        later=tuple(next_time_lines(record)),
        scans=tuple((f"Scan of {scan.at:%Y-%m-%d %H:%M}", scan.line) for scan in _scans_beside(record)),
    )


def _scans_beside(record: ReplayedRecord) -> list[KeptScan]:
    """The scans that tell what this sharpening did, before and after it; the one there is where there are no two."""
    pair = pair_of(record.sharpening)
    return [pair.before, pair.after] if pair is not None else list(scans_of(record.sharpening)[-1:])


def file_named(option: str, target: str) -> Path:
    """The file that ``option`` names. Raises Refusal for what is the name of none."""
    if "\0" in target or not Path(target).name:
        raise Refusal(f"{option}: not a file name; write the file that the drawing goes into")
    return Path(target)


def place_drawing(option: str, file: Path, drawing: bytes) -> None:
    """The drawing into the new ``file``, and its name to stdout. Raises Refusal where it cannot be made."""
    try:
        if not file.parent.is_dir():
            raise Refusal(f"{option}: {shown(file.parent)}: no such folder; allowed: a file in a folder that is there")
        placed = place_file(file, drawing, REAL)
    except OSError as problem:
        raise Refusal(f"{option}: {shown(file)}: the drawing was not written: {why(problem)}", DISK) from None
    if not placed:
        raise Refusal(f"{option}: {shown(file)}: is there already; allowed: the name of a new file")
    write(f"{shown(file)}\n")
