"""`toothline history [SAW]`: past sharpenings and trial cuts, trends, and when a saw is due."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from session.commands.output.standard_streams import say
from session.machine.refusal import DISK, Refusal

if TYPE_CHECKING:
    from datetime import datetime

    from session.files.scanned_file import KeptScan
    from session.till.corner_ledger import FileWear
    from session.till.known_saws import KnownSaw
    from session.till.saw_history import SawHistory
    from session.till.till_folder import Till

HELP = "past sharpenings and trial cuts, and when each saw is due"
EXAMPLE = "toothline history netloft-panel-saw --csv"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("saw", metavar="SAW", nargs="?", help="which saw; without it all of the till")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="everything as JSON, lengths in mm")
    form.add_argument("--csv", action="store_true", help="a row a sharpening or cut, units in the column names")
    parser.add_argument("--all", action="store_true", help="a row for every record, however many")
    parser.add_argument(
        "--also", metavar="DIR", action="append", default=[], help="read this till too; may be given several times"
    )


def run(args: argparse.Namespace) -> int:
    """Print the history of one saw or of all."""
    from session.commands.output.plain_data import write
    from session.machine.clock import SystemClock
    from session.till.known_saws import find_saw, known_saws
    from session.till.saw_history import history

    tills = _tills(args)
    saws = known_saws(tills)
    if args.saw is not None:
        saws = [find_saw(saws, args.saw)]
    # Saws that were retired are told apart, after those in use.
    saws = sorted(saws, key=lambda saw: saw.retired)
    now = SystemClock().now()
    # Then all records of the one till are read, and once is enough.
    whole = args.saw is None and len(tills) == 1
    if args.json:
        from session.commands.output.history_data import as_json
        from session.commands.output.plain_data import print_json

        told = [history(tills, saw) for saw in saws]
        kept = _files(tills[0], told if whole else None)
        print_json(as_json(told, now, *kept, scans=[_scans(tills, saw) for saw in saws]))
    elif args.csv:
        from session.commands.output.history_data import as_csv

        write(as_csv(history(tills, saw) for saw in saws))
    elif not saws:
        from session.machine.untrusted_text import shown

        write(f"No saw is in {shown(tills[0].path)} yet. Start one: toothline start RECIPE\n")
    else:
        from session.commands.output.history_words import files

        told = [_printed(tills, saw, now, everything=args.all) for saw in saws]
        if args.saw is None:
            files(*_files(tills[0], told if whole else None))
    return 0


def _printed(tills: Sequence[Till], saw: KnownSaw, now: datetime, *, everything: bool) -> SawHistory:
    """Print the history of ``saw``; of a long one the newest rows before the rest is read, and no others."""
    from session.commands.output.history_words import MOST_ROWS, newest, words
    from session.till.saw_history import history

    scans = _scans(tills, saw)
    long = not everything and any(till.holds_more_than(MOST_ROWS, name) for till in tills for name in saw.slugs)
    if long:
        newest(history(tills, saw, newest=MOST_ROWS))
    told = history(tills, saw)
    words(told, now, scans, rows=not long)
    return told


def _scans(tills: Sequence[Till], saw: KnownSaw) -> Sequence[KeptScan]:
    """The lines that scans measured of a saw, the oldest first; one that two tills hold counts once."""
    from session.till.kept_scans import measured

    found = dict.fromkeys(scan for till in tills for scan in measured(till, saw))
    return sorted(found, key=lambda scan: scan.at)


def _files(till: Till, told: Sequence[SawHistory] | None) -> tuple[Sequence[FileWear], int]:
    """The files of the till with what its own records add, and how many teeth a corner may file.

    told: the histories of all its saws, where they are known.
    """
    from session.till.drawer import Drawer, drawer_of

    drawer = Drawer()
    try:
        drawer = drawer_of(till, None if told is None else [one for saw in told for one in saw.finished])
    except Refusal as wrong:
        # The records are as good without it.
        for error in wrong.lines:
            say(error)
    for complaint in drawer.complaints:
        say(complaint)
    return drawer.worn, drawer.limit


def _tills(args: argparse.Namespace) -> list[Till]:
    from session.machine.disk import why
    from session.machine.untrusted_text import shown
    from session.till.till_folder import Till, till_folder

    tills = [Till(till_folder(args.till, must_exist=True, waits=say))]
    for name in args.also:
        if not name.strip() or "\0" in name:
            raise Refusal("--also: not a folder's name; write the folder that another till is in")
        path = Path(name)
        try:
            if not path.is_dir():
                raise Refusal(f"--also: {shown(path)}: no such folder; allowed: the folder of another till")
        except OSError as problem:
            raise Refusal(f"--also: {shown(path)}: cannot be looked at: {why(problem)}", DISK) from None
        tills.append(Till(path.absolute()))
    return tills
