"""Sentences aloud, by a speech program of the system: never waited for, and only ever the newest one.

What speaks is a process beside the bench (`session/machine/speech_guard.py`). It ends what is being said when a newer
sentence comes, and itself when the bench is gone, be it killed.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

from session.value_class import dataclass

#: The guard as a file: it is started without this program's own modules, which it does not need.
_GUARD: Final = Path(__file__).with_name("speech_guard.py")

#: Seconds that the guard is given to end what is being said, when the bench closes.
_GRACE_S: Final = 2.0

#: Characters of the longest text that is spoken at once; nobody listens to more.
LONGEST: Final = 3_000


@dataclass(frozen=True, slots=True)
class SpeechProgram:
    """A program that speaks: its words, and whether the text comes on its standard input or as one word more.

    hush: what silences it where ending it does not; empty where it does.
    """

    words: tuple[str, ...]
    by_stdin: bool = False
    hush: tuple[str, ...] = ()


#: What is looked for, best first: programs that fall silent when they are ended stand before the one that does not.
USUAL: Final = (
    SpeechProgram(("say",)),
    SpeechProgram(("espeak-ng", "--stdin"), by_stdin=True),
    SpeechProgram(("spd-say", "--wait"), hush=("spd-say", "--cancel")),
)


def usual_program(find: Callable[[str], str | None] = shutil.which) -> SpeechProgram | None:
    """The first of the usual programs that is there; None without one."""
    return next((one for one in USUAL if find(one.words[0]) is not None), None)


class Speech:
    """Speaks with ``program``. ``wrong`` is called on another thread with what is wrong with it, once for each kind.

    longest_s: seconds that one sentence may take before it is ended; None for a usual time by its length.
    """

    def __init__(self, program: SpeechProgram, wrong: Callable[[str], None], *, longest_s: float | None = None) -> None:
        self._program: Final = program
        self._wrong: Final = wrong
        self._longest_s: Final = longest_s
        self._change: Final = threading.Condition()
        self._newest: str | None = None
        self._over = False
        self._guard: subprocess.Popen[str] | None = None
        self._listener: threading.Thread | None = None
        self._thread: Final = threading.Thread(target=self._work, name="speech", daemon=True)
        self._thread.start()

    def say(self, text: str) -> None:
        """Speak ``text`` in place of whatever is being said. Comes back at once."""
        with self._change:
            self._newest = text[:LONGEST]
            self._change.notify_all()

    def close(self) -> None:
        """Fall silent and end what was begun. Called again, it does nothing."""
        with self._change:
            self._over = True
            self._change.notify_all()
        self._thread.join(_GRACE_S)
        guard, self._guard = self._guard, None
        if guard is None:
            return
        with suppress(OSError, ValueError):
            if guard.stdin is not None:
                guard.stdin.close()
        try:
            guard.wait(_GRACE_S)
        except subprocess.TimeoutExpired:
            guard.kill()
            guard.wait()
        if self._listener is not None:
            self._listener.join(_GRACE_S)

    def _work(self) -> None:
        """Start the guard and hand it the newest sentence, over and over; all waiting for it is done here."""
        order = {
            "words": self._program.words,
            "hush": self._program.hush,
            "by_stdin": self._program.by_stdin,
            "longest_s": self._longest_s,
        }
        # Nothing of a folder that happens to be the current one is imported (-I).
        words = [sys.executable, "-I", str(_GUARD), json.dumps(order)]
        try:
            guard = subprocess.Popen(
                words,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                encoding="utf-8",
                start_new_session=True,
            )
        except OSError as problem:
            self._wrong(f"cannot be started: {problem.strerror or problem}")
            return
        self._guard = guard
        self._listener = threading.Thread(target=self._listen, args=(guard,), name="speech-listen", daemon=True)
        self._listener.start()
        while True:
            with self._change:
                self._change.wait_for(lambda: self._over or self._newest is not None)
                if self._over:
                    return
                text, self._newest = self._newest, None
            try:
                assert guard.stdin is not None
                guard.stdin.write(json.dumps(text) + "\n")
                guard.stdin.flush()
            except (OSError, ValueError):
                return

    def _listen(self, guard: subprocess.Popen[str]) -> None:
        assert guard.stdout is not None
        with guard.stdout, suppress(OSError, ValueError):
            for line in guard.stdout:
                self._wrong(json.loads(line))
