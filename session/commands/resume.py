"""`toothline resume [SAW]`: go on with an interrupted sharpening."""

from __future__ import annotations

import argparse

from session.commands.opening.bench_opening import (
    need_terminal,
    open_bench,
    plain_option,
    refuse_spoken_lines,
    spoken_option,
)
from session.commands.opening.line_streams import open_plain
from session.commands.output.standard_streams import say
from session.machine.refusal import Refusal

#: What the bench says when a copy of the log goes on in its own way: look at the saw before anything is marked.
COPIES = "A copy of this log has other marks: see toothline history. Look at the saw."

HELP = "go on with an interrupted sharpening"
EXAMPLE = "toothline resume netloft-panel-saw"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument(
        "saw", metavar="SAW", nargs="?", help="which saw's, by its name or a beginning of it; without it the latest"
    )
    plain_option(parser)
    spoken_option(parser)


def run(args: argparse.Namespace) -> int:
    """Find the log, open it at its exact place, and work until it is left."""
    refuse_spoken_lines(args)
    from session.log.sitting import Sitting
    from session.machine.clean_text import clean
    from session.machine.clock import SystemClock
    from session.machine.untrusted_text import told_of
    from session.till.known_saws import known_saws, only_saw, saws_called
    from session.till.till_folder import Till, till_folder

    till = Till(till_folder(args.till, must_exist=True))
    waiting = till.interrupted()
    if args.saw is not None:
        # Of the saws that wait, one may be meant by less than tells it from all others.
        names = {log.parent.name for log in waiting}
        found = saws_called([saw for saw in known_saws([till]) if names & set(saw.slugs)], args.saw)
        if not found:
            known = ", ".join(map(clean, sorted(names))) if names else "none"
            raise Refusal(f'no interrupted sharpening of "{clean(args.saw)[:60]}"; there are: {known}')
        meant = only_saw(found, args.saw)
        waiting = [log for log in waiting if log.parent.name in meant.slugs]
    if not waiting:
        odd = [f"{clean(ends.path.name)} ({ends.odd})" for ends in till.unfinished() if ends.odd is not None]
        more = f" and {len(odd) - 5} more" if len(odd) > 5 else ""
        rest = f"; not finished, but for reading only: {', '.join(odd[:5])}{more}" if odd else ""
        raise Refusal(f"no sharpening was interrupted; begin one: toothline start RECIPE{rest}")
    if not args.plain:
        need_terminal("resume")
    sitting = Sitting.resume(waiting[0], SystemClock())
    copies = till.copies_of(waiting[0])
    for copy in copies:
        say(told_of(copy.path, copy.words))
    note = COPIES if any(copy.parts for copy in copies) else ""
    return open_plain(till, sitting, note) if args.plain else open_bench(till, sitting, note, spoken=args.spoken)
