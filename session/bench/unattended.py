"""The demo without a person: the real app, driven through its own keys by the simulated filer."""

from __future__ import annotations

import asyncio
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Final

from textual.app import App
from textual.pilot import Pilot

from session.bench.app import BenchApp
from session.bench.screens.bench import BenchScreen
from session.bench.screens.prompt import Prompt
from session.counsel.offers import Act
from session.records.clock import SetClock
from session.records.recipe import load_recipe
from session.records.settings import Settings
from session.records.sitting import Sitting
from session.records.supplied import supplied_folder
from session.records.till import Till, slug
from session.rehearsal.filer import Filer, Move
from session.walk.plan import make_plan
from session.walk.rules import Ask

#: The saw of the demo: short, so that the whole walk is played in seconds.
DEMO_SAW: Final = "netloft-panel-saw.toml"

#: Presses without any change on screen after which the filer and the program have lost each other.
_PATIENCE: Final = 20


class LostError(RuntimeError):
    """The simulated filer and the program disagree: a fault of the program, never of the user."""


def play(till: Till, *, seed: int, recipe_file: Path | None = None, size: tuple[int, int] = (80, 24)) -> Path:
    """Play one whole sharpening in ``till`` and give the path of its finished log.

    The record's times are the simulated ones, from a fixed morning on, so that a seed gives one record.
    """
    recipe = load_recipe(recipe_file or supplied_folder("demo") / DEMO_SAW)
    clock = SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=timezone(timedelta(0))) + timedelta(days=seed % 365))
    sitting = Sitting.start(till.log_folder(slug(recipe.saw.name)), recipe, make_plan(recipe.saw), clock)
    log = sitting.journal.path
    app = BenchApp(till, Settings(), clock, sitting=sitting)
    app.run(headless=True, size=size, auto_pilot=_driver(app, clock, Filer(recipe.saw, seed)))
    if app.return_code:
        raise LostError(f"the program left with status {app.return_code} at {log}")
    return log


def _driver(app: BenchApp, clock: SetClock, filer: Filer):  # type: ignore[no-untyped-def]
    async def drive(pilot: Pilot[int]) -> None:
        try:
            await _drive(app, clock, filer)
        finally:
            app.release()
            app.exit(app.return_code or 0)

    return drive


async def _drive(app: BenchApp, clock: SetClock, filer: Filer) -> None:
    await _until(lambda: isinstance(app.screen, BenchScreen))
    bench = app.screen
    assert isinstance(bench, BenchScreen)
    unchanged = 0
    while True:
        saying = bench.hands.saying()
        if saying.ask is Ask.FINISHED:
            return
        move = filer.next(saying)
        if move is None:
            raise LostError(f"the filer stopped at {saying.title}")
        clock.pass_s(max(move.takes_s, bench.hands.guards.guard_s))
        before = len(bench.hands.sitting.state.marks)
        await _press(app, _key(bench, move))
        if move.text is not None:
            await _until(lambda: isinstance(app.screen, Prompt))
            for character in move.text:
                await _press(app, character)
            await _press(app, "enter")
        await _until(lambda: app.screen is bench)
        unchanged = 0 if len(bench.hands.sitting.state.marks) > before else unchanged + 1
        if unchanged > _PATIENCE:
            raise LostError(f"nothing comes of {move.act} at {saying.title}")


def _key(bench: BenchScreen, move: Move) -> str:
    if move.act is Act.STROKES:
        return str(move.digit)
    return bench.keymap[move.act][0]


async def _press(app: App[int], key: str) -> None:
    """Send one key the way a terminal would, and wait until the app has dealt with it."""
    from textual import events
    from textual.keys import _character_to_key

    name = key if len(key) > 1 else _character_to_key(key)
    character = key if len(key) == 1 else None
    event = events.Key(name, " " if name == "space" else character)
    app.post_message(event)
    await app._animator.wait_for_idle()
    await asyncio.sleep(0)


async def _until(condition) -> None:  # type: ignore[no-untyped-def]
    """Let the app work until ``condition`` holds; a minute is far more than any screen takes."""
    deadline = asyncio.get_running_loop().time() + 60
    while not condition():
        if asyncio.get_running_loop().time() > deadline:
            raise LostError("the screen did not come")
        await asyncio.sleep(0)
