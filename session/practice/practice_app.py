"""The program around the practice, when it is opened by itself."""

from __future__ import annotations

import asyncio
import os
import signal
from collections.abc import Mapping
from pathlib import Path
from typing import ClassVar, Final

from textual.binding import Binding, BindingType

import session.bench
from session.bench.keys_in_turn import KeysInTurn
from session.bench.themes import inks_for, wear_theme, without_color
from session.desk.key_table import USUAL_KEYS, keymap
from session.files.settings import Settings
from session.machine.clock import Clock
from session.machine.ending_signals import ENDING
from session.practice.practice_screen import PracticeScreen

_STYLE: Final = Path(session.bench.__path__[0]) / "style.tcss"


class PracticeApp(KeysInTurn):
    """Opens the practice and nothing else."""

    TITLE = "Toothline practice"
    CSS_PATH = _STYLE
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q,ctrl+c", "screen.leave", show=False, priority=False),
        Binding("ctrl+z", "suspend_process", show=False, priority=True),
    ]

    def __init__(
        self, settings: Settings, clock: Clock, *, seed: int = 1, environment: Mapping[str, str] = os.environ
    ) -> None:
        plain = without_color(environment)
        super().__init__(ansi_color=True if plain else None)
        self._settings: Final = settings
        self._clock: Final = clock
        self._seed: Final = seed
        wear_theme(self, plain or settings.theme)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our own inks, for a theme of Textual's that does not know them."""
        return inks_for(self.current_theme)

    @property
    def ascii_only(self) -> bool:
        """Whether pictures are drawn in plain ASCII."""
        return self._settings.drawing == "ascii"

    def on_mount(self) -> None:
        """Give the terminal back on signals, and open the practice."""
        loop = asyncio.get_running_loop()
        for number in ENDING:
            signal.signal(number, lambda told, _frame: loop.call_soon_threadsafe(self._stop, 128 + told))
        keys = keymap(self._settings.keys)
        self.set_keymap({str(act): ",".join(own) for act, own in keys.items() if own != USUAL_KEYS[act]})
        self.push_screen(PracticeScreen(keys, self._clock, self._settings.guard_ms / 1000, seed=self._seed), self._left)

    def _left(self, _: None) -> None:
        self.exit(0)

    def _stop(self, code: int) -> None:
        self.exit(code, return_code=code)
