"""`toothline`, or `toothline till`: the till on the screen; and all of it into one file and back."""

from __future__ import annotations

import argparse
from pathlib import Path

from session.commands.opening.bench_opening import need_terminal, open_bench
from session.commands.output.standard_streams import say
from session.machine.refusal import Refusal

HELP = "open the till, or back it up: all of it into one file, and back"
EXAMPLE = "toothline till --export till-of-march.zip"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    way = parser.add_mutually_exclusive_group()
    way.add_argument("--export", metavar="FILE", help="write the whole till into a new ZIP archive, with checksums")
    way.add_argument(
        "--import",
        metavar="FILE",
        dest="taken_from",
        help="bring such an archive in: all of it or nothing, and nothing is overwritten without a copy",
    )


def run(args: argparse.Namespace) -> int:
    """Open the till, or write it into a file, or bring such a file in."""
    for option, name in (("--export", getattr(args, "export", None)), ("--import", getattr(args, "taken_from", None))):
        if name is not None:
            if not name.strip() or "\0" in name:
                raise Refusal(f"{option}: not a file's name; write the file that the backup is to be in")
            return (_export if option == "--export" else _import)(args, Path(name))
    need_terminal("")
    from session.till.till_folder import Till, till_folder

    return open_bench(Till(till_folder(args.till)))


def _export(args: argparse.Namespace, file: Path) -> int:
    from session.commands.output.plain_data import write
    from session.machine.clock import SystemClock
    from session.machine.untrusted_text import shown
    from session.till.backup_writer import contents, write_backup
    from session.till.till_folder import Till, till_folder

    till = Till(till_folder(args.till, must_exist=True, waits=say))
    written = write_backup(till, file.absolute(), SystemClock().now())
    for line in written.told:
        say(line)
    write(f"{contents(written.files)}, read again and whole: {shown(file)}\n")
    return 0


def _import(args: argparse.Namespace, file: Path) -> int:
    from session.commands.output.plain_data import write
    from session.machine.clock import SystemClock
    from session.machine.untrusted_text import shown
    from session.till.backup_intake import read_backup
    from session.till.till_folder import Till, till_folder

    till = Till(till_folder(args.till))
    intake = read_backup(till, file, SystemClock().now())
    for line in intake.told:
        say(line)
    write(
        f"{shown(till.path)}: {intake.new} brought in, {intake.replaced} replaced with a copy kept, "
        f"{intake.equal} already there, {intake.kept} left as they are\n"
    )
    return 0
