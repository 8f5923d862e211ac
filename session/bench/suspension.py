"""Stopped by the shell (Ctrl-Z) and going on: the terminal is taken again only if it was given back before."""

from __future__ import annotations

import signal
from collections.abc import Callable
from types import FrameType
from typing import Any


def guard_continuing(redraw: Callable[[], Any]) -> None:
    """Let SIGCONT start the terminal's driver only after SIGTSTP has stopped it; else only ``redraw`` is called.

    A program stopped by SIGSTOP from outside has not given its terminal back. Textual's own handler would
    start a second reader of keys beside the first, and the program could not end any more.
    Where no driver listens for these signals nothing is done.
    """
    if not hasattr(signal, "SIGTSTP"):
        return
    stop, go_on = signal.getsignal(signal.SIGTSTP), signal.getsignal(signal.SIGCONT)
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

    signal.signal(signal.SIGTSTP, stopping)
    signal.signal(signal.SIGCONT, continuing)
