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

from session.bench.themes import wear_theme, without_color
from session.bench.widgets.words import Words
from session.desk.desk import ADVANCES
from session.desk.key_table import ROWS, USUAL_KEYS, keymap
from session.desk.press_guards import Guards
from session.files.settings import Settings
from session.machine.clock import Clock
from session.machine.ending_signals import ENDING
from session.sentences.offers import Act
from session.trade.rounding import whole_number
from session.value_class import dataclass

#: The key that rings, and those that leave when pressed twice in a row.
RINGS: Final = "x"
LEAVES: Final = frozenset({"q", "ctrl+c"})

_FIRST: Final = "Press the clicker, the pedal or a key. The newest press stands on top."
_BELL: Final = f"Press {RINGS}: you should hear a bell and see the word BELL."
_LEAVE: Final = "q twice, or Ctrl+C twice, leaves. Nothing is marked here."


@dataclass(frozen=True, slots=True)
class KeyPress:
    """One press. after_s: seconds since the press before, None for the first. ignored: the bench's guard
    against a key that repeats would let it do nothing."""

    key: str
    act: Act | None
    remapped: bool
    after_s: float | None
    ignored: bool

    def __str__(self) -> str:
        means = "nothing at the bench" if self.act is None else f"{self.act}: {ROWS[self.act].told}"
        own = " (your settings)" if self.remapped else ""
        after = "" if self.after_s is None else f", {whole_number(self.after_s * 1000)} ms after the one before"
        repeats = ", IGNORED: it repeats too soon" if self.ignored else ""
        return f"{self.key}{after}{repeats} = {means}{own}"


class Presses:
    """Reads presses as the bench would: ``keymap`` is what the keys mean, ``guard_s`` its repeat guard."""

    def __init__(self, keymap: Mapping[Act, tuple[str, ...]], clock: Clock, guard_s: float) -> None:
        self._acts: Final = {key: act for act, keys in keymap.items() for key in keys}
        self._usual: Final = {key: act for act, keys in USUAL_KEYS.items() for key in keys}
        self._clock: Final = clock
        self._guards: Final = Guards(clock, guard_s)
        self._before: float | None = None

    def read(self, key: str) -> KeyPress:
        """A press of ``key``, in the name that the terminal's driver gave it."""
        moment = self._clock.steady_s()
        act = self._act(key)
        after = None if self._before is None else moment - self._before
        self._before = moment
        ignored = act in ADVANCES and self._guards.repeats()
        remapped = key in self._acts and self._acts[key] is not self._usual.get(key)
        return KeyPress(key, act, remapped, after, ignored)

    def _act(self, key: str) -> Act | None:
        if key in self._acts:
            return self._acts[key]
        if len(key) == 1 and key in "0123456789":
            return Act.STROKES
        return Act.QUIT if key in ("ctrl+c", "ctrl+q") else None


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
        wear_theme(self, plain or settings.theme)

    def on_mount(self) -> None:
        """Give the terminal back on signals, and show the test."""
        loop = asyncio.get_running_loop()
        for number in ENDING:
            # The loop's own handlers are not to be had on every system.
            signal.signal(number, lambda told, _frame: loop.call_soon_threadsafe(self._stop, 128 + told))
        self.push_screen(KeyTest(self._presses, self._complaints))

    def _stop(self, code: int) -> None:
        self.exit(code, return_code=code)
