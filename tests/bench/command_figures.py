"""What the commands take that only print, beside a bare command."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from tests.bench.figures import Figure, figure, in_turn
from tests.bench.floors import BARE_COMMAND
from tests.bench.made_work import SLUG, log_at_filing
from tests.bench.own_runs import FLOOR, OURS, ROOT, run_ms


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
            ("check", str(till / "saw.toml")),
            ("even", str(line)),
            ("history", SLUG),
            ("show", str(log)),
        )
        floor = partial(run_ms, (*FLOOR, BARE_COMMAND), till)
        for command in commands:
            ours = partial(run_ms, (*OURS, *command), till)
            ours()
            name = " ".join(Path(word).name for word in command)
            yield figure(name, "argparse and tomllib", "ms", in_turn(ours, floor, 3 if quick else 11))
