"""What the commands take that only print, beside a bare command."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from tests.bench.figures import Figure, figure, in_turn
from tests.bench.floors import BARE_COMMAND
from tests.bench.made_work import SLUG, log_at_filing
from tests.bench.own_runs import FLOOR, OURS, ROOT, run_times


def command_figures(*, quick: bool) -> Iterator[Figure]:
    """Each command once with little to do."""
    with tempfile.TemporaryDirectory() as folder:
        till = Path(folder)
        log = log_at_filing(till, 60)
        line = next((ROOT / "demo" / "lines").glob("*.toml"))
        commands = (
            ("--help",),
            ("--version",),
            ("recipes",),
            ("plan", "crosscut-panel"),
            ("advise", "crosscut-panel"),
            ("check", str(till / "saw.toml")),
            ("even", str(line)),
            ("history", SLUG),
            ("show", str(log)),
        )
        floor = partial(run_times, (*FLOOR, BARE_COMMAND), till)
        for command in commands:
            ours = partial(run_times, (*OURS, *command), till)
            ours()
            name = " ".join(Path(word).name for word in command)
            taken = in_turn(ours, floor, 3 if quick else 11)
            pairs = [(own[0], least[0]) for own, least in taken]
            yield figure(name, "argparse and tomllib", "ms", pairs, [own[1] for own, _ in taken])
