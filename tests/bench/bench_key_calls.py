"""What one key press costs at a gullet whose flats are graded: calls of ours, changes of room, time and memory.

    python tests/bench/bench_key_calls.py

Not a test. The bench runs without a terminal; calls and memory are counted in presses of their own.
"""

from __future__ import annotations

import asyncio
import sys
import tempfile
import threading
import tracemalloc
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path
from statistics import median
from time import process_time
from types import FrameType

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "shared"))
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from textual import events

from golden_bench import PANEL_SAW, Worker, at
from session.bench.app import BenchApp
from session.files.recipe import load_recipe
from session.files.settings import Settings
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.till.till_folder import Till
from session.walk import acts
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

#: Presses that are timed, after a few that fill the caches.
KEYS, FIRST = 12, 3

OURS = str(Path(__file__).resolve().parents[2] / "session") + "/"


class Calls:
    """Counts calls of ours by name, and how often one comes from another room."""

    def __init__(self) -> None:
        self.on = False
        self.by_name: Counter[str] = Counter()
        self.changes = 0

    def __call__(self, frame: FrameType, event: str, _: object) -> None:
        code = frame.f_code
        if not self.on or event != "call" or not code.co_filename.startswith(OURS):
            return
        self.by_name[f"{code.co_filename.removeprefix(OURS)}:{code.co_qualname}"] += 1
        caller = frame.f_back
        while caller is not None and not caller.f_code.co_filename.startswith(OURS):
            caller = caller.f_back
        self.changes += caller is not None and _room(caller) != _room(frame)


def _room(frame: FrameType) -> str:
    return frame.f_code.co_filename.removeprefix(OURS).split("/")[0]


def ready(sitting: Sitting, clock: SetClock) -> None:
    """Pass a check point or a shift, so that a gullet is in hand."""
    clock.pass_s(4)
    while (now := sitting.state.front).ask is not Ask.WORK:
        tooth = now.place.tooth if now.place else 0
        check = now.ask is Ask.CHECK
        sitting.make(acts.check(sitting.state, clock.now(), tooth) if check else acts.shift(sitting.state, clock.now()))


async def press(app: BenchApp, sitting: Sitting) -> float:
    """Two strokes by their digit; ms of the processor until the bench is drawn with what came of it."""
    event, drawn, before = events.Key("2", "2"), asyncio.Event(), len(sitting.state.marks)
    event.set_sender(app)
    start = process_time()
    app.post_message(event)
    while len(sitting.state.marks) == before:
        await asyncio.sleep(0)
    app.screen.call_after_refresh(drawn.set)
    await drawn.wait()
    return 1000.0 * (process_time() - start)


async def measured(folder: Path, calls: Calls) -> tuple[list[float], int]:
    """Times of the presses and the most memory that one took, in bytes; fills ``calls`` by another."""
    clock = SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=UTC))
    recipe = load_recipe(PANEL_SAW)
    sitting = Sitting.start(folder / "logs", recipe, make_plan(recipe.saw), clock)
    Worker(sitting, clock).until(at(Stage.FILE, 21, side=1))
    app = BenchApp(Till(folder), Settings(), clock, sitting=sitting)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        times = []
        for _ in range(FIRST + KEYS):
            ready(sitting, clock)
            await pilot.pause()
            times.append(await press(app, sitting))
        ready(sitting, clock)
        await pilot.pause()
        tracemalloc.start()
        await press(app, sitting)
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        ready(sitting, clock)
        await pilot.pause()
        sys.setprofile(calls)
        calls.on = True
        await press(app, sitting)
        await pilot.pause()
        calls.on = False
        sys.setprofile(None)
    app.release()
    return times[FIRST:], most


def main() -> None:
    """Print the figures, and what is called most."""
    calls = Calls()
    # The thread that saves begins at the first press; it has to be told beforehand.
    threading.setprofile(calls)
    with tempfile.TemporaryDirectory() as folder:
        times, most = asyncio.run(measured(Path(folder), calls))
    print(f"{calls.by_name.total()} calls of ours, {calls.changes} from another room")
    print(f"{median(times):.1f} ms of the processor a press, {most / 1024:.0f} KiB at most")
    for name, count in calls.by_name.most_common(12):
        print(f"{count:>6} {name}")


if __name__ == "__main__":
    main()
