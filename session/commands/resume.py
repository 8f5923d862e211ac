"""`toothline resume [SAW]`: go on with an interrupted sharpening."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from session.commands.opening.bench_opening import (
    need_terminal,
    open_bench,
    plain_option,
    refuse_spoken_lines,
    spoken_option,
)
from session.commands.output.standard_streams import say
from session.machine.refusal import Refusal

#: What the bench says when a copy of the log goes on in its own way: look at the saw before anything is marked.
COPIES = "A copy of this log has other marks: see toothline history. Look at the saw."

#: Longest reason of one's own words.
LONGEST_REASON = 200

HELP = "go on with an interrupted sharpening"
EXAMPLE = "toothline resume netloft-panel-saw"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of the command."""
    parser.add_argument(
        "saw", metavar="SAW", nargs="?", help="which saw's, by its name or a beginning of it; without it the latest"
    )
    parser.add_argument("--give-up", action="store_true", help="end it as it stands instead: recorded as given up")
    parser.add_argument("--reason", metavar="TEXT", default="", help="why it is given up, in your words")
    plain_option(parser)
    spoken_option(parser)


def run(args: argparse.Namespace) -> int:
    """Find the log, open it at its exact place, and work until it is left."""
    refuse_spoken_lines(args)
    from session.commands.opening.line_streams import open_plain
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
    if args.give_up:
        return _give_up(waiting, args)
    if not args.plain:
        need_terminal("resume")
    sitting = Sitting.resume(waiting[0], SystemClock())
    copies = till.copies_of(waiting[0])
    for copy in copies:
        say(told_of(copy.path, copy.words))
    note = COPIES if any(copy.parts for copy in copies) else ""
    return open_plain(till, sitting, note) if args.plain else open_bench(till, sitting, note, spoken=args.spoken)


def _give_up(waiting: Sequence[Path], args: argparse.Namespace) -> int:
    """End the one that is meant; it cannot be undone, so that the saw has to be named."""
    from session.commands.output.plain_data import write
    from session.log.sitting import Sitting
    from session.machine.clean_text import clean
    from session.machine.clock import SystemClock
    from session.machine.untrusted_text import shown

    if args.saw is None:
        raise Refusal("SAW is missing: which saw's sharpening is given up; it cannot be gone on with afterwards")
    reason = " ".join(clean(args.reason).split())
    if len(reason) > LONGEST_REASON:
        raise Refusal(f"--reason: {len(reason)} characters; allowed: at most {LONGEST_REASON}")
    Sitting.give_up(waiting[0], SystemClock(), reason)
    write(f"Given up, and recorded so: {shown(waiting[0])}\n")
    return 0
