"""What one key costs that makes a mark, beside the same key in the smallest app; flat with marks and teeth or not."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path
from time import monotonic

from tests.bench.bench_terminal import BenchTerminal
from tests.bench.figures import Figure, figure
from tests.bench.floors import BARE_APP
from tests.bench.made_work import log_at_filing
from tests.bench.own_runs import FLOOR, OURS, environment

#: A key that marks, and one that is asked at a check of the place and the like.
_MARKS, _AGREES = "2", "y"


def key_figures(*, quick: bool) -> Iterator[Figure]:
    """Processor time and bytes of a mark, by the size of the screen, by marks and by teeth."""
    keys = 12 if quick else 40
    with tempfile.TemporaryDirectory() as folder:
        for size in ((80, 24), (200, 60)) if quick else ((80, 24), (120, 36), (200, 60)):
            name = f"key with a mark, {size[0]}×{size[1]}"
            till = Path(folder) / name
            log_at_filing(till, 155)
            told, least = pressed(till, size, keys), bare_pressed(till, size, keys)
            pairs = list(zip((one.ms for one in told), least, strict=False))
            yield figure(name, "bare app, a line on disk", "ms", pairs, [one.wall_ms for one in told])
            yield figure(f"{name}: bytes", "changed cells", "bytes", [(one.sent, one.cells) for one in told])
        marks = (100, 3000) if quick else (100, 1000, 3000, 10_000)
        yield from _flat(Path(folder), "mark", [(f"{least:,}", 155, least) for least in marks], keys)
        teeth = (60, 1500) if quick else (60, 155, 600, 1500, 3000)
        yield from _flat(Path(folder), "teeth", [(f"{points:,}", points, 0) for points in teeth], keys)


class Pressed:
    """One key: processor time, time on the clock until all of it is shown, bytes sent and cells changed."""

    def __init__(self, terminal: BenchTerminal, key: str) -> None:
        before, sent, ms = terminal.cells(), terminal.sent, terminal.processor_ms
        begun = monotonic()
        terminal.press(key)
        self.ms, self.sent = terminal.processor_ms - ms, terminal.sent - sent
        self.wall_ms = 1000.0 * (terminal.last - begun)
        self.cells = sum(was != now for was, now in zip(before, terminal.cells(), strict=True))


class AtWork:
    """The bench at the last log of ``till``, to be pressed at."""

    def __init__(self, till: Path, size: tuple[int, int]) -> None:
        # A key is taken however soon it follows the one before.
        (till / "settings.toml").write_text("guard_ms = 0\n", encoding="utf-8")
        self.terminal = BenchTerminal((*OURS, "resume"), environment(till), size)
        self.terminal.until("help")
        self.terminal.rest()

    def pressed(self) -> Pressed:
        """One mark at a gullet; what is asked before it is answered, and not counted."""
        while "strokes" not in "\n".join(self.terminal.screen.display[-3:]):
            self.terminal.press(_AGREES)
            self.terminal.press(" ")
        return Pressed(self.terminal, _MARKS)


def pressed(till: Path, size: tuple[int, int], keys: int) -> list[Pressed]:
    """So many marks at the bench."""
    work = AtWork(till, size)
    try:
        return [work.pressed() for _ in range(keys)]
    finally:
        work.terminal.close()


def bare_pressed(till: Path, size: tuple[int, int], keys: int) -> list[float]:
    """The same keys in the bare app."""
    terminal = BenchTerminal((*FLOOR, BARE_APP), environment(till), size)
    try:
        terminal.until("0 keys")
        terminal.rest()
        return [Pressed(terminal, _MARKS).ms for _ in range(keys)]
    finally:
        terminal.close()


def _flat(folder: Path, what: str, runs: list[tuple[str, int, int]], keys: int) -> Iterator[Figure]:
    """Each run beside the first of them: all are open at once and get their keys in turn."""
    works = list[AtWork]()
    try:
        for name, teeth, marks in runs:
            till = folder / f"{what} {name}"
            log_at_filing(till, teeth, marks)
            works.append(AtWork(till, (80, 24)))
        told = [[work.pressed() for work in works] for _ in range(keys)]
    finally:
        for work in works:
            work.terminal.close()
    for number, (name, _, _) in enumerate(runs):
        pairs = [(row[number].ms, row[0].ms) for row in told]
        walls = [row[number].wall_ms for row in told]
        yield figure(f"key at {what} {name}", f"at {runs[0][0]}", "ms", pairs, walls)
