"""What a long history costs: the till, start, resume and history with many finished logs beside few."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from tests.bench.figures import Figure, figure, in_turn, processor_ms
from tests.bench.made_work import NAME, SLUG, till_of
from tests.bench.opening_figures import BENCH_SIGN, opened
from tests.bench.own_runs import OURS, run_ms


def till_figures(*, quick: bool) -> Iterator[Figure]:
    """Whole processor time, beside reading head and tail of each log bare."""
    with tempfile.TemporaryDirectory() as folder:
        none = Path(folder) / "none"
        till_of(none, 0)
        for logs in (300,) if quick else (2000, 10_000):
            till, times = Path(folder) / str(logs), 1 if quick else 3
            till_of(till, logs)
            for what, command, sign in (
                ("till", OURS, "supplied:"),
                ("start", (*OURS, "start", NAME, "--anew"), BENCH_SIGN),
            ):
                pairs = in_turn(partial(opened, command, till, sign), partial(opened, command, none, sign), times)
                shown = [(own[0], least[0]) for own, least in pairs]
                walls = [own[2] for own, _ in pairs]
                yield figure(f"{what}, {logs:,} logs", "in an empty till", "ms", shown, walls)
            floor = partial(processor_ms, partial(ends_read, till))
            told = in_turn(partial(run_ms, (*OURS, "history", SLUG), till), floor, times)
            yield figure(f"history, {logs:,} logs", "both ends of each read", "ms", told)


def ends_read(till: Path) -> int:
    """Read the first and the last bytes of every log."""
    read = 0
    for log in (till / "logs" / SLUG).iterdir():
        with log.open("rb") as file:
            read += len(file.read(4000))
            file.seek(max(0, log.stat().st_size - 4000))
            read += len(file.read())
    return read
