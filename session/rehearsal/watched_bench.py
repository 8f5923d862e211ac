"""The bench while somebody watches the simulated filer work it: the keys of whoever watches only change the pace."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any, Final

from textual import events

from session.bench import app
from session.bench.app import BenchApp
from session.bench.screens.bench_screen import BenchScreen
from session.bench.widgets.words import Words

#: How many times as quick as the filer's own hands it may be played, and by what a key changes it.
SLOWEST: Final = 1.0
QUICKEST: Final = 1000.0
_STEP: Final = 1.5

#: The pace is looked at so often, in seconds.
_TICK_S: Final = 0.05

_LEAVES: Final = frozenset({"q", "ctrl+q", "ctrl+c", "escape"})
_HOLDS: Final = frozenset({"space", "enter"})


class WatchedBench(BenchApp):
    """The real screen, worked by the filer at ``speed`` times its own pace.

    Its keys are told by ``filer_presses``; every other key, and the mouse, is from whoever watches.
    """

    # A style sheet is looked for beside the class that names it.
    CSS_PATH = str(Path(app.__file__).with_name("style.tcss"))

    def __init__(self, *given: Any, speed: float, **more: Any) -> None:
        super().__init__(*given, **more)
        self.speed = speed
        self.held = False
        self.left = False
        self._presses: Final[list[events.Key]] = []

    def filer_presses(self, event: events.Key) -> None:
        """``event`` is the filer's: the bench has it."""
        self._presses.append(event)

    async def on_event(self, event: events.Event) -> None:
        """What the filer presses goes to the bench; what whoever watches presses, to the pace."""
        if isinstance(event, events.InputEvent) and not event.is_forwarded:
            if any(event is one for one in self._presses):
                self._presses.clear()
            else:
                if isinstance(event, events.Key):
                    self._heed(event.key, event.character)
                return
        await super().on_event(event)

    def _heed(self, key: str, character: str | None) -> None:
        if key in _LEAVES:
            self.left = True
            self.exit(0, return_code=0)
        elif key in _HOLDS:
            self.held = not self.held
        elif character == "+":
            self.speed = min(QUICKEST, self.speed * _STEP)
        elif character == "-":
            self.speed = max(SLOWEST, self.speed / _STEP)
        self.tell()

    def tell(self, *, ended: bool = False) -> None:
        """Say where nothing else is said that this is watched, and which keys whoever watches has."""
        if isinstance(self.screen, BenchScreen):
            pace = "held" if self.held else f"{self.speed:.0f} times as quick"
            told = f"Watched, {pace}: Space holds or goes on, + and - change the pace, q leaves."
            self.screen.query_one("#note", Words).say("The sharpening is done. q leaves." if ended else told)

    async def let_pass(self, seconds: float) -> None:
        """Wait as long as ``seconds`` of the filer's work take at this pace, longer while it is held."""
        while seconds > 0 and not self.gone:
            await asyncio.sleep(_TICK_S)
            if not self.held:
                seconds -= _TICK_S * self.speed

    async def stay(self) -> None:
        """Show the last screen until whoever watches leaves."""
        self.tell(ended=True)
        while not self.gone:
            await asyncio.sleep(_TICK_S)

    @property
    def gone(self) -> bool:
        """Whether whoever watches has left, or the program is ended."""
        return self.left or bool(self.return_code)
