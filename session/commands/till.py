"""`toothline` without a command: the till."""

from __future__ import annotations

import argparse

from session.commands.opening.bench_opening import need_terminal, open_bench


def run(args: argparse.Namespace) -> int:
    """Open the till."""
    need_terminal("")
    from session.till.till_folder import Till, till_folder

    return open_bench(Till(till_folder(args.till)))
