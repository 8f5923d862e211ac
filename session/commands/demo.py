"""`toothline demo`: the same program on an invented workshop, with a person or without one."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from session.commands.opening.bench_opening import (
    need_terminal,
    open_bench,
    plain_option,
    refuse_spoken_lines,
    spoken_option,
)
from session.commands.opening.line_streams import open_plain
from session.commands.output.standard_streams import say
from session.machine.refusal import DISK, Refusal

if TYPE_CHECKING:
    from session.till.till_folder import Till

HELP = "try the program on an invented workshop"
EXAMPLE = "toothline demo --unattended --seed 7 --to /tmp/demo-till"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument(
        "--unattended", action="store_true", help="a simulated filer presses the keys; needs no terminal"
    )
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="which simulated saw and filer (default 1)")
    parser.add_argument(
        "--to", metavar="DIR", help="with --unattended: the till to leave the log in (else a new temporary folder)"
    )
    plain_option(parser)
    spoken_option(parser)


def run(args: argparse.Namespace) -> int:
    """Play the demo: at the terminal in a till that is thrown away, or unattended in one that is kept."""
    refuse_spoken_lines(args)
    if args.unattended:
        return _unattended(args)
    if args.to is not None:
        raise Refusal("--to goes with --unattended; without it the demo's till is thrown away")
    if not args.plain:
        need_terminal("demo")
    import tempfile

    from session.till.till_folder import Till

    with tempfile.TemporaryDirectory(prefix="toothline-demo-") as folder:
        till = Till(Path(folder))
        _hang_up(till.path)
        code = _line_by_line(till) if args.plain else open_bench(till, kept=False, spoken=args.spoken)
    say("the demo's till was thrown away; nothing of it is kept")
    return code


def _line_by_line(till: Till) -> int:
    """Sharpen the demo's usual saw, as line by line there is no list to choose from."""
    from session.files.settings import Settings
    from session.files.supplied import DEMO_SAW, supplied_folder
    from session.machine.clock import SystemClock
    from session.till.till_list import begin

    return open_plain(till, begin(till, supplied_folder("demo") / DEMO_SAW, SystemClock(), Settings()))


def _unattended(args: argparse.Namespace) -> int:
    import tempfile

    from session.till.till_folder import Till, till_folder

    try:
        till = Till(Path(tempfile.mkdtemp(prefix="toothline-demo-")) if args.to is None else till_folder(args.to))
    except Refusal as wrong:
        raise Refusal(str(wrong).replace("--till", "--to", 1), wrong.code) from None
    _hang_up(till.path)
    from session.rehearsal.unattended import play  # with it comes the screen library, which a refusal need not wait for

    log = play(till, seed=args.seed, begun=_teller(sys.stderr))
    print(log)
    return 0


def _teller(stream: TextIO) -> Callable[[str], None]:
    """Says each stage to whoever waits at a terminal, where silence would look like a fault; a pipe has no use for it.

    The screen library keeps to itself what is printed meanwhile, so that it is written to the stream of before.
    """

    def tell(stage: str) -> None:
        with suppress(OSError):
            print(f"toothline: {stage}", file=stream, flush=True)

    return tell if stream.isatty() else lambda stage: None


def _hang_up(folder: Path) -> None:
    """Put the workshop's saws into ``folder``; a saw already there is left as it is."""
    from session.files.supplied import supplied_folder

    try:
        folder.mkdir(parents=True, exist_ok=True)
        for recipe in sorted(supplied_folder("demo").glob("*.toml")):
            target = folder / recipe.name
            if not target.exists():
                target.write_bytes(recipe.read_bytes())
    except OSError as wrong:
        raise Refusal(f"{folder}: the demo cannot be laid out there: {wrong.strerror or wrong}", DISK) from None
