"""Someone at the bench: presses keys, touches boxes, reads the screen and the file on disk, and sees nothing else."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from textual import events
from textual.pilot import Pilot

from at_the_terminal import drawn_rows, rest, send
from bench_sight import Sight
from session.advice.untouched_plan import shown_plan
from session.bench.app import BenchApp
from session.bench.screens.bench_screen import BenchScreen
from session.desk.key_names import named
from session.machine.clock import SetClock
from session.walk.stages import facts_of

#: Keys as they are printed on the boxes, by the names that the terminal's driver gives them.
PRINTED = {"Space": "space", "Esc": "escape", "⌫": "backspace", ".": "full_stop", "?": "question_mark", "+": "plus"}


class Person(Sight):
    """One person at one running program."""

    def __init__(self, app: BenchApp, pilot: Pilot[int], clock: SetClock) -> None:
        self.app, self.pilot, self.clock = app, pilot, clock
        #: What was drawn when it last came to rest, until something is done again.
        self._rows: list[str] | None = None
        #: What of which log was read last, and the marks in it: a log is only ever written on to.
        self._read: tuple[Path | None, bytes] = (None, b"")
        self._marks: list[dict[str, Any]] = []

    async def press(self, *keys: str, after_s: float = 1.0) -> None:
        """Press keys one after another, ``after_s`` apart, each dealt with before the next."""
        for key in keys:
            self.clock.pass_s(after_s)
            self._send(key)
            await self.settle()

    async def type(self, text: str) -> None:
        """Type ``text`` faster than the program answers; it deals with one key after another all the same."""
        await self.ahead(*text)

    async def ahead(self, *keys: str) -> None:
        """Press keys faster than the program answers, as when it opens a screen meanwhile."""
        for key in keys:
            self._send(key)
        await self.settle()

    def _send(self, key: str) -> None:
        character = " " if key == "space" else key if len(key) == 1 else _typed(key)
        send(self.app, events.Key(named(key), character))

    async def settle(self) -> None:
        """Let the program work until nothing waits to be dealt with, laid out or saved; drawn when it is looked at."""
        self._rows = None
        await rest(self.pilot)

    @property
    def bench(self) -> BenchScreen:
        """The bench, which is in front."""
        assert isinstance(self.app.screen, BenchScreen)
        return self.app.screen

    def left(self) -> bool:
        """Whether the program was left."""
        return self.app.return_code is not None

    def rows(self) -> list[str]:
        """The rows of cells that the terminal shows."""
        if self._rows is None:
            self._rows = [strip.text for strip in drawn_rows(self.app)]
        return self._rows

    def look_again(self) -> str:
        """All that is on screen by now, after something was begun that is not waited for."""
        self._rows = None
        return self.text()

    async def touch(self, word: str) -> None:
        """Click in the middle of the box that says ``word``."""
        row = self.rows()[-2]
        x = row.index(f" {word}│") + 1
        await self.click(x, self.app.size.height - 2)

    async def click(self, x: int, y: int) -> None:
        """Click on one cell of the terminal."""
        self.clock.pass_s(1.0)
        await self.pilot.click(offset=(x, y))
        await self.settle()

    async def resize(self, width: int, height: int) -> None:
        """Change the size of the terminal."""
        await self.pilot.resize_terminal(width, height)
        await self.settle()

    async def go_on(self, until: Callable[[Person], bool], *, limit: int = 400) -> None:
        """Press the key on the first box, over and over, until ``until`` holds.

        At the plan every stage is kept, by hand: of a saw that nobody looked over little is advised.
        """
        for _ in range(limit):
            if until(self):
                return
            key, word = self.boxes()[0]
            if word == "as advised":
                await self._keep()
            await self.press(PRINTED.get(key, key))
        raise AssertionError(f"never came to what was wanted; last on screen:\n{self.text()}")

    async def _keep(self) -> None:
        """At the plan press every stage that is shown otherwise than the recipe plans it."""
        screen = self.app.screen
        assert isinstance(screen, BenchScreen)
        planned = screen.desk.sitting.state.taken_in
        stages = [stage for stage in screen.desk.sitting.plan.order if facts_of(stage).optional]
        for number, stage in enumerate(stages, 1):
            if (stage in planned) != (stage in shown_plan(screen.desk.sitting.state, screen.desk.moment.against)):
                await self.press(str(number))

    @property
    def log(self) -> Path:
        """The log in hand."""
        assert self.app.last_log is not None
        return self.app.last_log

    def marks_on_disk(self) -> list[dict[str, Any]]:
        """The marks in the file, read by nothing of ours; what was read before is not read again."""
        written = self.log.read_bytes()
        if self._read[0] != self.log or not written.startswith(self._read[1]):
            self._read, self._marks = (self.log, b""), []
        new = written.removeprefix(self._read[1]).decode()
        self._read = (self.log, written)
        self._marks.extend(tomllib.loads(new).get("mark", []))
        assert [mark["seq"] for mark in self._marks] == list(range(1, len(self._marks) + 1))
        return list(self._marks)

    def last(self) -> dict[str, Any]:
        """The last mark in the file."""
        return self.marks_on_disk()[-1]


def _typed(key: str) -> str | None:
    return {"full_stop": ".", "question_mark": "?", "plus": "+"}.get(key)
