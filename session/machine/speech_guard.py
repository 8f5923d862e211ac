"""Speaks sentences with a program of the system, as a process of its own that `session.machine.speech` begins.

It reads one JSON text a line from its standard input and has the program speak it; a newer one ends what is being said.
When its input ends, for whatever reason, a kill of the bench among them, it ends what it began and goes. What is wrong
with the program it tells once of each kind, a JSON text a line. It knows nothing of ours, so that it starts at once.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterable, Sequence

#: Seconds that a program is given to end when it is told to, before it is killed.
GRACE_S = 0.3

#: Seconds that a program may take for a sentence: so many to begin with, and so many for each character.
LEAST_S, EACH_S = 10.0, 0.2


class Teller:
    """One sentence at a time, the newest."""

    def __init__(self, words: Sequence[str], hush: Sequence[str], *, by_stdin: bool, longest_s: float | None) -> None:
        self._words, self._hush = list(words), list(hush)
        self._by_stdin, self._longest_s = by_stdin, longest_s
        self._change = threading.Condition()
        self._newest: str | None = None
        self._over = False
        self._told: set[str] = set()

    def read(self, lines: Iterable[str]) -> None:
        """Take sentences until there are no more."""
        with contextlib.suppress(ValueError, OSError):
            for line in lines:
                with self._change:
                    self._newest = json.loads(line)
                    self._change.notify_all()
        with self._change:
            self._over = True
            self._change.notify_all()

    def speak(self) -> None:
        """Speak until it is over; nothing that was begun is left."""
        while True:
            with self._change:
                self._change.wait_for(lambda: self._over or self._newest is not None)
                if self._over:
                    return
                text, self._newest = self._newest, None
            if text:
                self._say(text)

    def _say(self, text: str) -> None:
        words = self._words if self._by_stdin else [*self._words, text]
        given = subprocess.PIPE if self._by_stdin else subprocess.DEVNULL
        quiet = subprocess.DEVNULL
        try:
            # A group of its own, so that what the program itself starts ends with it.
            child = subprocess.Popen(words, stdin=given, stdout=quiet, stderr=quiet, start_new_session=True)
        except (OSError, ValueError) as wrong:
            self._tell("start", f"cannot be started: {getattr(wrong, 'strerror', None) or wrong}")
            return
        ended = threading.Event()

        def wait() -> None:
            # It may close its input before it has read all; what it did with it is told by its status.
            with contextlib.suppress(OSError, ValueError):
                child.communicate(text.encode("utf-8", "replace") if self._by_stdin else None)
            child.wait()
            ended.set()
            with self._change:
                self._change.notify_all()

        threading.Thread(target=wait, daemon=True).start()
        limit_s = self._longest_s if self._longest_s is not None else LEAST_S + EACH_S * len(text)
        with self._change:
            self._change.wait_for(lambda: ended.is_set() or self._over or self._newest is not None, limit_s)
            replaced = self._over or self._newest is not None
        if not ended.is_set():
            self._end(child, ended)
            if not replaced:
                self._tell("slow", f"did not end within {limit_s:g} s and was ended")
        elif child.returncode and not replaced:
            self._tell("status", f"failed, status {child.returncode}")

    def _end(self, child: subprocess.Popen[bytes], ended: threading.Event) -> None:
        for number in (signal.SIGTERM, getattr(signal, "SIGKILL", signal.SIGTERM)):
            with contextlib.suppress(OSError):
                if hasattr(os, "killpg"):
                    os.killpg(child.pid, number)
                else:
                    child.kill()
            if ended.wait(GRACE_S):
                break
        if self._hush:
            quiet = subprocess.DEVNULL
            with contextlib.suppress(OSError, subprocess.SubprocessError):
                subprocess.run(self._hush, stdin=quiet, stdout=quiet, stderr=quiet, timeout=1.0, check=False)

    def _tell(self, kind: str, what: str) -> None:
        if kind not in self._told:
            self._told.add(kind)
            with contextlib.suppress(OSError):
                print(json.dumps(what), flush=True)


def main(order: str) -> None:
    """Speak as ``order``, a JSON table, tells: words, hush, by_stdin, longest_s."""
    # The bench asks before it leaves on an interrupt; the end of the input is what ends this one.
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        if hasattr(signal, name):
            signal.signal(getattr(signal, name), signal.SIG_IGN)
    told = json.loads(order)
    teller = Teller(told["words"], told["hush"], by_stdin=told["by_stdin"], longest_s=told["longest_s"])
    threading.Thread(target=teller.read, args=(sys.stdin,), daemon=True).start()
    teller.speak()


if __name__ == "__main__":
    main(sys.argv[1])
