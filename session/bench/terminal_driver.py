"""The terminal as the bench drives it: Textual's own driver, which also learns what was really shown.

Writing to a terminal succeeds long before anyone can see it: the kernel and a network hold thousands of bytes. So the
terminal is asked for its cursor (DSR 6, ECMA-48) after a drawing; its answer says that all before has arrived.
"""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable
from types import FrameType
from typing import Any, Final, Protocol, runtime_checkable

from textual import events
from textual.app import App
from textual.message import Message

from session.machine.ending_signals import STOPPING
from session.machine.hangup import HangupWatch
from session.machine.refusal import HUNG_UP

if sys.platform == "win32":
    from textual.drivers.windows_driver import WindowsDriver as SystemDriver
else:
    from textual.drivers.linux_driver import LinuxDriver as SystemDriver

_WHERE_IS_THE_CURSOR: Final = "\x1b[6n"


@runtime_checkable
class AtTerminal(Protocol):
    """An app that wants to know its terminal."""

    def terminal_opened(self, terminal: WatchedDriver) -> None:
        """The terminal has been opened; called once, before anything is drawn."""

    def terminal_gone(self) -> None:
        """The terminal's other end is gone; called on another thread."""


class WatchedDriver(SystemDriver):
    """Textual's driver, with two more things to ask: was all of it shown, and is anyone still there?"""

    def __init__(self, app: App[Any], **options: Any) -> None:
        super().__init__(app, **options)
        self._asked = self._answered = 0
        self._watch: HangupWatch | None = None
        self._at_terminal: Final = app if isinstance(app, AtTerminal) else None
        if self._at_terminal is not None:
            self._at_terminal.terminal_opened(self)

    def start_application_mode(self) -> None:
        """Take the terminal, at the start and after a stop, and watch for its end."""
        super().start_application_mode()  # type: ignore[no-untyped-call, unused-ignore]  # typed on Windows only
        if self._at_terminal is not None and isinstance(fileno := getattr(self, "fileno", None), int):
            # Windows has no such descriptor, and tells of a closed window by a signal.
            self._watch = HangupWatch(fileno, self._at_terminal.terminal_gone, HUNG_UP)
            self._watch.start()

    def close(self) -> None:
        """Give the terminal back; only then does the watch end, as a terminal that is gone takes nothing back."""
        super().close()
        if self._watch is not None:
            self._watch.stop()

    def hurry(self, status: int) -> None:
        """The program was told to end with ``status``: do not wait for a terminal that takes nothing."""
        if self._watch is not None:
            self._watch.hurry(status)

    def ask_shown(self) -> None:
        """Ask the terminal to answer once it has shown all that was sent so far."""
        self._asked += 1
        self.write(_WHERE_IS_THE_CURSOR)

    @property
    def shown(self) -> bool:
        """Whether the terminal has answered for everything it was asked about."""
        return self._answered >= self._asked

    def process_message(self, message: Message) -> None:
        """The terminal's answers are for us; all else goes on to the app."""
        if isinstance(message, events.CursorPosition):
            self._answered += 1
        else:
            super().process_message(message)


def guard_continuing(redraw: Callable[[], Any]) -> None:
    """Let SIGCONT start the terminal's driver only after SIGTSTP has stopped it; else only ``redraw`` is called.

    A program stopped by SIGSTOP from outside has not given its terminal back. Textual's own handler would
    start a second reader of keys beside the first, and the program could not end any more.
    Where no driver listens for these signals nothing is done.
    """
    if STOPPING is None:
        return
    to_stop, to_go_on = STOPPING
    stop, go_on = signal.getsignal(to_stop), signal.getsignal(to_go_on)
    if not callable(stop) or not callable(go_on):
        return
    given_back = False

    def stopping(number: int, frame: FrameType | None) -> None:
        nonlocal given_back
        given_back = True
        stop(number, frame)

    def continuing(number: int, frame: FrameType | None) -> None:
        nonlocal given_back
        if given_back:
            given_back = False
            go_on(number, frame)
        else:
            redraw()

    signal.signal(to_stop, stopping)
    signal.signal(to_go_on, continuing)
