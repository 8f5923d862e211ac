"""Watching for the end of a terminal that goes away without a signal: a dropped connection, a stopped multiplexer."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from typing import Final

from session.machine.system_calls import hung_up, takes

#: How often the watch looks whether it is still wanted, in milliseconds. The hangup itself wakes it at once.
_LOOKS_EVERY_MS: Final = 500

#: Seconds that the program is given to end in order before it is ended as it stands. Every mark is whole on disk by
#: itself and the kernel lets go of the lock, so that nothing is lost by that; what waits is only a screen that nobody
#: has.
GRACE_S: Final = 3.0


class HangupWatch:
    """A thread that sleeps until the terminal behind ``fd`` has hung up, then calls ``then``, on that thread.

    When the program has not called `stop` within GRACE_S after that, the process ends with ``status``: its own thread
    may wait for ever to write to a terminal that takes nothing.
    """

    def __init__(self, fd: int, then: Callable[[], None], status: int) -> None:
        self._fd, self._then, self._status = fd, then, status
        self._told: int | None = None
        self._over: Final = threading.Event()
        self._thread: Final = threading.Thread(target=self._watch, name="hangup-watch", daemon=True)

    def start(self) -> None:
        """Begin to watch."""
        self._thread.start()

    def stop(self) -> None:
        """The program ends by itself, or the terminal is given back: watch no longer."""
        self._over.set()

    def hurry(self, status: int) -> None:
        """The program was told to end: with ``status``, should it wait to write to a terminal that takes nothing."""
        self._told = status

    def _watch(self) -> None:
        while not self._over.is_set():
            if hung_up(self._fd, _LOOKS_EVERY_MS):
                self._then()
                self._end(self._status)
            elif self._told is not None and not self._over.wait(GRACE_S) and not takes(self._fd):
                self._end(self._told)

    def _end(self, status: int) -> None:
        if not self._over.wait(GRACE_S):
            os._exit(status)
