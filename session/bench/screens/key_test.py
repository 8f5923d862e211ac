"""The key test: a clicker, a pedal or a thumb is pressed, and the screen says what came."""

from __future__ import annotations

import asyncio
import os
import signal
from collections.abc import Mapping
from typing import ClassVar, Final

from textual import events
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen

from session.bench.key_presses import Presses
from session.bench.themes import PLAIN, THEMES, USUAL, without_color
from session.bench.widgets.words import Words
from session.desk.key_table import keymap
from session.files.settings import Settings
from session.machine.clock import Clock

#: The key that rings, and those that leave when pressed twice in a row.
RINGS: Final = "x"
LEAVES: Final = frozenset({"q", "ctrl+c"})

_FIRST: Final = "Press the clicker, the pedal or a key. The newest press stands on top."
_BELL: Final = f"Press {RINGS}: you should hear a bell and see the word BELL."
_LEAVE: Final = "q twice, or Ctrl+C twice, leaves. Nothing is marked here."


class KeyTest(Screen[None], inherit_bindings=False):
    """Takes every key for itself, so that none does anything but show."""

    CSS = """
    KeyTest Words { padding: 0 1; height: auto; }
    KeyTest #pressed { height: 1fr; }
    KeyTest #bell, KeyTest #newest { text-style: bold; }
    """

    def __init__(self, presses: Presses, complaints: tuple[str, ...]) -> None:
        super().__init__()
        self._presses = presses
        self._complaints = complaints
        self._told: list[str] = []
        self._last = ""

    def compose(self) -> ComposeResult:
        """What to do, the bell, the presses with the newest on top, how to leave."""
        yield Words("Key test", id="title")
        yield Words("\n".join((_FIRST, *self._complaints)), id="first")
        yield Words(_BELL, id="bell")
        yield Words("", id="newest")
        yield Words("", id="pressed")
        yield Words(_LEAVE, id="leave")

    def on_key(self, event: events.Key) -> None:
        """Show one key; the second of two that leave does so."""
        event.stop()
        event.prevent_default()
        self._show(event.key)
        self.query_one("#bell", Words).say(f"BELL. {_BELL}" if event.key == RINGS else _BELL)
        if event.key == RINGS:
            self.app.bell()
        leaves = event.key in LEAVES
        self.query_one("#leave", Words).say(f"Once more {event.key} leaves." if leaves else _LEAVE)
        if leaves and self._last == event.key:
            self.app.exit(0)
        self._last = event.key

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Some pedals send the button of a mouse."""
        self._show(f"mouse button {event.button}")
        self._last = ""

    def _show(self, key: str) -> None:
        self._told.insert(0, str(self._presses.read(key)))
        del self._told[self.size.height :]
        self.query_one("#newest", Words).say(self._told[0])
        self.query_one("#pressed", Words).say("\n".join(self._told[1:]))


class KeyTestApp(App[int], inherit_bindings=False):
    """The program around the key test. Ctrl+Z alone keeps its meaning: a terminal is always given back."""

    TITLE = "Toothline keys"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [Binding("ctrl+z", "suspend_process", show=False, priority=True)]

    def __init__(
        self,
        settings: Settings,
        clock: Clock,
        *,
        complaints: tuple[str, ...] = (),
        environment: Mapping[str, str] = os.environ,
    ) -> None:
        plain = without_color(environment)
        super().__init__(ansi_color=True if plain else None)
        self._presses: Final = Presses(keymap(settings.keys), clock, settings.guard_ms / 1000)
        self._complaints: Final = complaints
        for theme in (*THEMES, PLAIN):
            self.register_theme(theme)
        wanted = settings.theme if settings.theme in self.available_themes else USUAL
        self.theme = plain or wanted or USUAL

    def on_mount(self) -> None:
        """Give the terminal back on signals, and show the test."""
        loop = asyncio.get_running_loop()
        for number in (signal.SIGTERM, signal.SIGHUP):
            loop.add_signal_handler(number, self._stop, 128 + number)
        self.push_screen(KeyTest(self._presses, self._complaints))

    def _stop(self, code: int) -> None:
        self.exit(code, return_code=code)
