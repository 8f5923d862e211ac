"""What it takes to open the program at the bench and at the till, beside the smallest app of Textual."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from tests.bench.bench_terminal import BenchTerminal
from tests.bench.figures import Figure, figure, in_turn
from tests.bench.floors import BARE_APP
from tests.bench.made_work import NAME, log_at_filing, till_of
from tests.bench.own_runs import FLOOR, OURS, environment

#: What stands on the whole first screen of each.
BENCH_SIGN, TILL_SIGN, BARE_SIGN = "help", "Enter or Space opens", "0 keys"


def opening_figures(*, quick: bool) -> Iterator[Figure]:
    """Processor and memory up to the first whole paint, and a long log opened at its place."""
    times = 3 if quick else 9
    with tempfile.TemporaryDirectory() as folder:
        till, bare = Path(folder) / "till", (*FLOOR, BARE_APP)
        till_of(till, 0)
        floor = partial(opened, bare, till, BARE_SIGN)
        for what, command, sign in (
            ("start to first paint", (*OURS, "start", NAME, "--anew"), BENCH_SIGN),
            ("till to first paint", OURS, TILL_SIGN),
        ):
            ours = partial(opened, command, till, sign)
            ours()
            pairs = in_turn(ours, floor, times)
            times_told = [(own[0], least[0]) for own, least in pairs]
            yield figure(what, "bare app", "ms", times_told, [own[2] for own, _ in pairs])
            yield figure(f"{what}: memory", "bare app", "MiB", [(own[1], least[1]) for own, least in pairs])
        marks = 1000 if quick else 10_000
        long, short = Path(folder) / "long", Path(folder) / "short"
        log_at_filing(long, 155, marks)
        log_at_filing(short, 155)
        resumed = [
            (opened((*OURS, "resume"), long, BENCH_SIGN)[0], opened((*OURS, "resume"), short, BENCH_SIGN)[0])
            for _ in range(times)
        ]
        yield figure(f"resume at mark {marks:,}", "at the first filing", "ms", resumed)


def opened(command: Sequence[str], till: Path, sign: str) -> tuple[float, float, float]:
    """Milliseconds of processor until ``sign`` is on screen and nothing more comes, the most memory in MiB, and the
    milliseconds on the clock until the last that came."""
    terminal = BenchTerminal(command, environment(till))
    try:
        terminal.until(sign)
        terminal.rest()
        return terminal.processor_ms, terminal.most_mib, 1000.0 * (terminal.last - terminal.begun)
    finally:
        terminal.close()
