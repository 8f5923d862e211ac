"""The demo without a person: the real app, driven through its own keys by the simulated filer, and not drawn."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Coroutine
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from textual import events
from textual.pilot import Pilot

from session.bench.app import BenchApp
from session.bench.screens.bench_screen import BenchScreen
from session.bench.screens.prompt import Prompt
from session.desk.key_names import named
from session.files.recipe import load_recipe
from session.files.settings import Settings
from session.files.supplied import DEMO_SAW, supplied_folder
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.machine.refusal import Refusal
from session.rehearsal.desk_run import PATIENCE, LostError
from session.rehearsal.filer import Filer
from session.rehearsal.filer_move import Move
from session.rehearsal.watched_bench import WatchedBench
from session.sentences.offers import Act
from session.till.till_folder import Till, slug
from session.walk.front_question import Ask
from session.walk.work_plan import make_plan


def play(
    till: Till,
    *,
    seed: int,
    recipe_file: Path | None = None,
    size: tuple[int, int] = (80, 24),
    begun: Callable[[str], None] = lambda stage: None,
) -> Path:
    """Play one whole sharpening in ``till`` and give the path of its finished log.

    begun: told each stage and side, as it begins.
    The record's times are the simulated ones, from a fixed morning on, so that a seed gives one record. Raises
    Refusal with a signal's exit status when one ended the run before the saw was sharp.
    """
    recipe = load_recipe(recipe_file or supplied_folder("demo") / DEMO_SAW)
    clock = SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=timezone(timedelta(0))) + timedelta(days=seed % 365))
    sitting = Sitting.start(till.log_folder(slug(recipe.saw.name)), recipe, make_plan(recipe.saw), clock)
    log = sitting.journal.path
    app = BenchApp(till, Settings(), clock, sitting=sitting)
    app.run(headless=True, size=size, auto_pilot=_driver(app, clock, Filer(recipe.saw, seed), begun))
    return _ended(app, log)


def watch(till: Till, *, seed: int, speed: float, now: datetime) -> Path:
    """Play one whole sharpening on the real screen, ``speed`` times as quick as the filer's hands, begun ``now``.

    Gives the path of its log, finished unless whoever watched left before. Raises Refusal as `play` does.
    """
    recipe = load_recipe(supplied_folder("demo") / DEMO_SAW)
    clock = SetClock(now)
    sitting = Sitting.start(till.log_folder(slug(recipe.saw.name)), recipe, make_plan(recipe.saw), clock)
    log = sitting.journal.path
    app = WatchedBench(till, Settings(), clock, sitting=sitting, speed=speed)
    app.run(auto_pilot=_driver(app, clock, Filer(recipe.saw, seed), lambda stage: None))
    return _ended(app, log)


def _ended(app: BenchApp, log: Path) -> Path:
    """``log``, when the program ended as it should."""
    if (app.return_code or 0) >= 128:
        raise Refusal(f"stopped; what was done until then is in {log}", app.return_code or 0)
    if app.return_code:
        raise LostError(f"the program left with status {app.return_code} at {log}")
    return log


def _driver(
    app: BenchApp, clock: SetClock, filer: Filer, begun: Callable[[str], None]
) -> Callable[[Pilot[object]], Coroutine[Any, Any, None]]:
    async def drive(pilot: Pilot[object]) -> None:
        try:
            await _until(pilot, lambda: isinstance(app.screen, BenchScreen))
            if isinstance(app, WatchedBench):
                app.tell()
                await _drive(app, pilot, clock, filer, begun)
                await app.stay()
                return
            # What the filer reads are the words of the moment: nobody sees the screen, so no change of it is drawn.
            with app.batch_update():
                await _drive(app, pilot, clock, filer, begun)
        finally:
            app.release()
            app.exit(return_code=app.return_code or 0)

    return drive


async def _drive(
    app: BenchApp, pilot: Pilot[object], clock: SetClock, filer: Filer, begun: Callable[[str], None]
) -> None:
    bench = app.screen
    assert isinstance(bench, BenchScreen)
    unchanged, stage = 0, ""
    while not app.return_code:
        saying = bench.desk.moment.said
        if saying.ask is Ask.FINISHED:
            return
        if (
            saying.stage is not None
            and (told := f"{saying.stage}{f', side {saying.side}' if saying.side else ''}") != stage
        ):
            stage = told
            begun(stage)
        move = filer.next(saying)
        if move is None:
            raise LostError(f"the filer stopped at {saying.title}")
        if isinstance(app, WatchedBench):
            await app.let_pass(move.takes_s)
            if app.gone:
                return
        clock.pass_s(max(move.takes_s, bench.desk.guards.guard_s))
        before = len(bench.desk.sitting.state.marks)
        await _press(app, pilot, _key(bench, move))
        if move.text is not None:
            # Keys that come before the line to type on has the focus would be lost.
            await _until(pilot, lambda: isinstance(app.screen, Prompt) and app.screen.focused is not None)
            typed = app.screen
            for character in move.text:
                await _press(app, pilot, character)
            await _press(app, pilot, "enter")
            await _until(pilot, _gone_or_named(app, typed))
            if _named(app):
                await _press(app, pilot, "enter")
        if isinstance(app.screen, Prompt):
            await _press(app, pilot, str(_choice(app.screen, filer)))
        await _until(pilot, lambda: app.screen is bench)
        unchanged = 0 if len(bench.desk.sitting.state.marks) > before else unchanged + 1
        if unchanged > PATIENCE:
            raise LostError(f"nothing comes of {move.act} at {saying.title}")


def _named(app: BenchApp) -> bool:
    """Whether an answer that marks several places waits to be given once more."""
    return isinstance(app.screen, Prompt) and bool(app.screen.named)


def _gone_or_named(app: BenchApp, prompt: object) -> Callable[[], bool]:
    return lambda: app.screen is not prompt or _named(app)


def _choice(prompt: Prompt, filer: Filer) -> int:
    """The digit of what the filer picks from the choices of a question that its act has opened."""
    return prompt.question.choices.index(filer.choose(prompt.question)) + 1


def _key(bench: BenchScreen, move: Move) -> str:
    if move.act is Act.STROKES:
        return str(move.digit)
    return bench.keymap[move.act][0]


async def _press(app: BenchApp, pilot: Pilot[object], key: str) -> None:
    """Send one key the way a terminal's driver would, and wait until every widget has dealt with it."""
    name = named(key)
    character = " " if key == "space" else key if len(key) == 1 else None
    event = events.Key(name, character)
    event.set_sender(app)
    if isinstance(app, WatchedBench):
        app.filer_presses(event)
    app.post_message(event)
    await _rest(pilot)
    while isinstance(app.screen, BenchScreen) and app.screen.waits:
        await asyncio.sleep(0.01)


async def _rest(pilot: Pilot[object]) -> None:
    """Wait until app and screen have dealt with all that came to them, and with what they sent each other over it."""
    # A pause of Textual's own asks each widget in turn whether it is done, which takes longer than the key.
    app = pilot.app
    await asyncio.sleep(0)
    while not app.return_code and (
        (isinstance(app, BenchApp) and app.key_in_hand)
        or any(pump.message_queue_size for pump in (app, *app.screen.walk_children(with_self=True)))
    ):
        await asyncio.sleep(0)


async def _until(pilot: Pilot[object], condition: Callable[[], bool]) -> None:
    """Let the app work until ``condition`` holds or it is ended; a minute is far more than any screen takes."""
    deadline = asyncio.get_running_loop().time() + 60
    await _rest(pilot)
    while not condition() and not pilot.app.return_code:
        if asyncio.get_running_loop().time() > deadline:
            raise LostError("the screen did not come")
        await pilot.pause(0.001)
