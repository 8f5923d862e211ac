"""`toothline history [SAW]`: past sharpenings and trial cuts, trends, and when a saw is due."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from session.commands.trouble import DISK, Trouble

if TYPE_CHECKING:
    from session.records.till import Till

HELP = "past sharpenings and trial cuts, and when each saw is due"
EXAMPLE = "toothline history netloft-panel-saw --csv"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument("saw", metavar="SAW", nargs="?", help="which saw; without it all of the till")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="everything as JSON, lengths in mm")
    form.add_argument("--csv", action="store_true", help="a row a sharpening or cut, units in the column names")
    parser.add_argument(
        "--also", metavar="DIR", action="append", default=[], help="read this till too; may be given several times"
    )


def run(args: argparse.Namespace) -> int:
    """Print the history of one saw or of all."""
    from session.commands.as_data import print_json, write
    from session.commands.history_data import as_csv, as_json
    from session.commands.history_words import words
    from session.records.clock import SystemClock
    from session.records.history import history
    from session.records.known_saws import find_saw, known_saws

    tills = _tills(args)
    saws = known_saws(tills) if args.saw is None else [find_saw(tills, args.saw)]
    histories = [history(tills, saw) for saw in saws]
    now = SystemClock().now()
    if args.json:
        print_json(as_json(histories, now))
    elif args.csv:
        write(as_csv(histories))
    elif not histories:
        from session.records.reading import shown

        write(f"No saw is in {shown(tills[0].path)} yet. Start one: toothline start RECIPE\n")
    else:
        for told in histories:
            words(told, now)
    return 0


def _tills(args: argparse.Namespace) -> list[Till]:
    from session.records.disk import why
    from session.records.reading import shown
    from session.records.till import Till, till_folder

    tills = [Till(till_folder(args.till, must_exist=True))]
    for name in args.also:
        if not name.strip() or "\0" in name:
            raise Trouble("--also: not a folder's name; write the folder that another till is in")
        path = Path(name)
        try:
            if not path.is_dir():
                raise Trouble(f"--also: {shown(path)}: no such folder; allowed: the folder of another till")
        except OSError as problem:
            raise Trouble(f"--also: {shown(path)}: cannot be looked at: {why(problem)}", DISK) from None
        tills.append(Till(path.absolute()))
    return tills
