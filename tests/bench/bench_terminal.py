"""A program in a pseudo-terminal, watched from outside: what it sends, shows, and takes of processor and memory."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import termios
from collections.abc import Mapping, Sequence
from pathlib import Path
from time import monotonic

import pyte

#: Nothing that is measured takes as long.
PATIENCE_S = 120.0


class BenchTerminal:
    """``command`` in a terminal of ``size`` columns and rows."""

    def __init__(
        self, command: Sequence[str], environment: Mapping[str, str], size: tuple[int, int] = (80, 24)
    ) -> None:
        self.begun = monotonic()
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.execve(command[0], list(command), dict(environment))
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))
        self.screen = pyte.Screen(*size)
        self._stream = pyte.ByteStream(self.screen)
        self.sent = 0
        #: When something came last, by the clock that `begun` is of.
        self.last = self.begun

    def read(self, timeout_s: float) -> bool:
        """Read what comes within ``timeout_s``; whether anything came."""
        if not select.select([self.fd], [], [], timeout_s)[0]:
            return False
        try:
            data = os.read(self.fd, 65536)
        except OSError:
            return False
        self.sent += len(data)
        self.last = monotonic()
        self._stream.feed(data)
        if b"\x1b[?2026$p" in data:
            # This terminal can show a whole frame at once.
            os.write(self.fd, b"\x1b[?2026;2$y")
        return bool(data)

    def until(self, text: str) -> float:
        """Read until ``text`` is on screen; seconds since the start. Raises AssertionError when it never is."""
        while text not in "\n".join(self.screen.display):
            left = PATIENCE_S - (monotonic() - self.begun)
            assert left > 0, "\n".join(self.screen.display)
            self.read(min(left, 1.0))
        return monotonic() - self.begun

    def rest(self, quiet_s: float = 0.08) -> None:
        """Read until nothing has come for ``quiet_s``."""
        while self.read(quiet_s):
            pass

    def press(self, key: str) -> None:
        """Send ``key`` and read until what came of it is shown."""
        os.write(self.fd, key.encode())
        assert self.read(PATIENCE_S)
        self.rest()

    def cells(self) -> list[tuple[str, object, object, bool]]:
        """Every cell as it looks."""
        rows, columns = self.screen.lines, self.screen.columns
        cells = (self.screen.buffer[y][x] for y in range(rows) for x in range(columns))
        return [(cell.data, cell.fg, cell.bg, cell.bold) for cell in cells]

    @property
    def processor_ms(self) -> float:
        """Milliseconds of a processor that all its threads took so far."""
        threads = Path(f"/proc/{self.pid}/task").glob("*/schedstat")
        return sum(int(one.read_text(encoding="ascii").split()[0]) for one in threads) / 1e6

    @property
    def most_mib(self) -> float:
        """The most memory that it held so far."""
        lines = Path(f"/proc/{self.pid}/status").read_text(encoding="utf-8").splitlines()
        return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM")) / 1024

    def close(self) -> None:
        """End it."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.fd)
