"""A speech program of the tests: tells through a pipe what it was to say, and speaks as long as it is told."""

from __future__ import annotations

import os
import select
import sys
from pathlib import Path

#: Seconds after which a test has waited too long for a program to say or end something.
PATIENCE_S = 20.0

_PROGRAM = """\
import os, sys, time
pipe, how, status = sys.argv[1], sys.argv[2], int(sys.argv[3])
text = sys.stdin.read() if how.startswith("input") else sys.argv[4]
with open(pipe, "a") as out:
    out.write(f"{os.getpid()} {text}\\n")
if how.endswith("forever"):
    time.sleep(3600)
sys.exit(status)
"""


class Said:
    """What was spoken: by the words of a program that speaks, and through a pipe."""

    def __init__(self, folder: Path) -> None:
        self._script = folder / "speak.py"
        self._script.write_text(_PROGRAM, encoding="utf-8")
        self.pipe = folder / "said"
        os.mkfifo(self.pipe)
        # Open both ways, so that it never ends and nobody waits for anybody.
        self._end = os.open(self.pipe, os.O_RDWR)
        self._rest = b""

    def program(self, how: str = "argument", status: int = 0) -> tuple[str, ...]:
        """The words of the program. how: "argument" or "input", with " forever" for one that does not end."""
        return (sys.executable, "-I", "-S", str(self._script), str(self.pipe), how, str(status))

    def next(self) -> tuple[int, str]:
        """What the next program began to say, and its process."""
        while b"\n" not in self._rest:
            assert select.select([self._end], [], [], PATIENCE_S)[0], "nothing was said"
            self._rest += os.read(self._end, 65536)
        line, _, self._rest = self._rest.partition(b"\n")
        process, _, text = line.decode().partition(" ")
        return int(process), text

    def close(self) -> None:
        """Close the pipe."""
        os.close(self._end)


def wait_gone(process: int) -> None:
    """Wait until there is no such process any more, a dead one that nobody asked after included."""
    try:
        handle = os.pidfd_open(process)
    except ProcessLookupError:
        return
    try:
        assert select.select([handle], [], [], PATIENCE_S)[0], f"{process} is still there"
    finally:
        os.close(handle)
