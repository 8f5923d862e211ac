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
from session.commands.output.standard_streams import say
from session.machine.refusal import Refusal

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
    parser.add_argument(
        "--lay-out",
        metavar="DIR",
        help="only lay the workshop and its two years of records out in the till DIR, for history and plan to look at",
    )
    parser.add_argument(
        "--watch",
        nargs="?",
        const=20.0,
        type=float,
        metavar="SPEED",
        help="watch the simulated filer work the real screen, so many times as quick as a person (default 20)",
    )
    plain_option(parser)
    spoken_option(parser)


def run(args: argparse.Namespace) -> int:
    """Play the demo: at the terminal in a till that is thrown away, or unattended in one that is kept."""
    refuse_spoken_lines(args)
    if args.lay_out is not None:
        return _laid_out(args)
    if args.watch is not None:
        return _watched(args)
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
        _hang_up(till.path, past=True)
        code = _line_by_line(till) if args.plain else open_bench(till, kept=False, spoken=args.spoken, practice=True)
    say("the demo's till was thrown away; nothing of it is kept")
    return code


def _line_by_line(till: Till) -> int:
    """Sharpen the demo's usual saw, as line by line there is no list to choose from."""
    from session.commands.opening.line_streams import open_plain
    from session.files.settings import Settings
    from session.files.supplied import DEMO_SAW, supplied_folder
    from session.machine.clock import SystemClock
    from session.till.till_list import begin

    return open_plain(till, begin(till, supplied_folder("demo") / DEMO_SAW, SystemClock(), Settings()))


def _unattended(args: argparse.Namespace) -> int:
    import tempfile

    from session.till.till_folder import Till

    till = Till(Path(tempfile.mkdtemp(prefix="toothline-demo-")) if args.to is None else _named(args.to, "--to"))
    _hang_up(till.path, past=False)
    from session.rehearsal.unattended import play  # with it comes the screen library, which a refusal need not wait for

    log = play(till, seed=args.seed, begun=_teller(sys.stderr))
    print(log)
    return 0


def _watched(args: argparse.Namespace) -> int:
    """Play a sharpening on the real screen, in a till that is thrown away."""
    import math
    import tempfile

    given = [name for name in ("to", "unattended", "plain", "spoken") if getattr(args, name)]
    if given:
        raise Refusal(f"--watch shows the screen in a till that is thrown away: leave --{given[0]} away")
    if not (math.isfinite(args.watch) and 1.0 <= args.watch <= 1000.0):
        raise Refusal(f"--watch {args.watch:g}: allowed: 1 (as quick as a person) to 1000 times as quick")
    need_terminal("demo --watch")
    from session.machine.clock import SystemClock
    from session.rehearsal.unattended import watch
    from session.till.till_folder import Till

    with tempfile.TemporaryDirectory(prefix="toothline-demo-") as folder:
        till = Till(Path(folder))
        _hang_up(till.path, past=True)
        watch(till, seed=args.seed, speed=args.watch, now=SystemClock().now())
    say("the demo's till was thrown away; nothing of it is kept")
    return 0


def _laid_out(args: argparse.Namespace) -> int:
    """Lay the workshop out, with its past, where it is kept."""
    given = [name for name in ("to", "unattended", "watch", "plain", "spoken") if getattr(args, name)]
    if given:
        raise Refusal(f"--lay-out only lays the workshop out, so that it goes with no --{given[0]}: leave one away")
    folder = _named(args.lay_out, "--lay-out")
    _hang_up(folder, past=True)
    print(folder)
    return 0


def _named(folder: str, option: str) -> Path:
    """The folder of a till that an option other than --till names."""
    from session.till.till_folder import till_folder

    try:
        return till_folder(folder)
    except Refusal as wrong:
        raise Refusal(str(wrong).replace("--till", option, 1), wrong.code) from None


def _hang_up(folder: Path, *, past: bool) -> None:
    """Put the workshop's saws into ``folder``, and its past up to today; a file already there is left as it is."""
    from session.machine.clock import SystemClock
    from session.rehearsal.past_laid_out import lay_out

    lay_out(folder, SystemClock().now().date(), past=past)


def _teller(stream: TextIO) -> Callable[[str], None]:
    """Says each stage to whoever waits at a terminal, where silence would look like a fault; a pipe has no use for it.

    The screen library keeps to itself what is printed meanwhile, so that it is written to the stream of before.
    """

    def tell(stage: str) -> None:
        with suppress(OSError):
            print(f"toothline: {stage}", file=stream, flush=True)

    return tell if stream.isatty() else lambda stage: None
