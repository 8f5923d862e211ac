"""The installed program in a real pseudo-terminal, a person who reads its screen, and a second reader of its logs.

Nothing of ours is imported: what is known of the program here is what stands on its screen and in its files.
"""

from __future__ import annotations

import os
import re
import signal
import sys
import termios
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pexpect
import pyte
import pytest

from first_row import HEAD
from independent_log import ReadLog, read_independently
from small_recipe import small_recipe

#: The program as it is installed beside the Python that runs the tests.
PROGRAM = Path(sys.executable).with_name("toothline")

#: No screen takes as long; waiting so long is a failure, never a pace.
PATIENCE_S = 30.0

#: Keys as they stand on the boxes, by what a terminal sends for them.
SENT = {"Space": " ", "Esc": "\x1b", "⌫": "\x7f", "Enter": "\r"}


class Terminal:
    """One program in one pseudo-terminal. ``raw`` is every byte that it has written."""

    def __init__(self, command: list[str], environment: dict[str, str], rows: int, columns: int) -> None:
        self.child = pexpect.spawn(
            command[0], command[1:], env=environment, dimensions=(rows, columns), timeout=PATIENCE_S, echo=True
        )
        # pexpect rests before each key by itself; a test waits for what is on screen instead.
        self.child.delaybeforesend = None
        self.before = termios.tcgetattr(self.child.child_fd)
        self.screen = pyte.Screen(columns, rows)
        self.stream = pyte.ByteStream(self.screen)
        self.raw = b""
        self.ended = False
        #: Whether it answers where its cursor is.
        self.answers = True

    def rows(self) -> list[str]:
        """The rows of the screen."""
        return list(self.screen.display)

    def text(self) -> str:
        """All that is on screen, a row a line."""
        return "\n".join(row.rstrip() for row in self.rows())

    def send(self, keys: str) -> None:
        """Type ``keys``."""
        self.child.send(keys.encode())

    def read(self, timeout_s: float) -> bool:
        """Read what comes within ``timeout_s``; whether anything came."""
        if self.ended:
            return False
        try:
            data = self.child.read_nonblocking(65536, timeout=timeout_s)
        except pexpect.TIMEOUT:
            return False
        except pexpect.EOF:
            self.ended = True
            return False
        self.raw += data
        self._show(data)
        # Asked whether it can show a whole frame at once, this terminal says yes, so that no half frame is read.
        if b"\x1b[?2026$p" in data:
            self.child.send(b"\x1b[?2026;2$y")
        # Asked for its cursor, it answers, as a terminal does once it has dealt with all that came before.
        for _ in range(data.count(b"\x1b[6n") if self.answers else 0):
            self.child.send(b"\x1b[1;1R")
        return True

    def _show(self, data: bytes) -> None:
        """Put ``data`` on the screen. The reader of screens knows no second page and no keyboard protocol."""
        data = re.sub(rb"\x1b\[[<>]\d*u", b"", data)
        for n, part in enumerate(re.split(rb"\x1b\[\?1049[hl]", data)):
            if n:
                self.screen.reset()
            self.stream.feed(part)

    def wait(self, until: str | Callable[[Terminal], Any], what: str = "") -> None:
        """Read until ``until`` (a text on screen, or a condition) holds on a screen that has come to rest."""
        holds = (lambda here: until in here.text()) if isinstance(until, str) else until
        deadline = time.monotonic() + PATIENCE_S
        while True:
            while self.read(0.02) or (self.in_frame() and not self.ended):
                if time.monotonic() > deadline:
                    break
            if holds(self):
                return
            if self.ended or time.monotonic() > deadline:
                why = "the program ended" if self.ended else "it never came"
                raise AssertionError(f"{why}: {what or until}; on screen:\n{self.text()}")
            self.read(0.5)

    def in_frame(self) -> bool:
        """Whether a frame was begun and not ended."""
        return self.raw.rfind(b"\x1b[?2026h") > self.raw.rfind(b"\x1b[?2026l")

    def end(self) -> int:
        """Read to the end of the program; its exit status, or minus the signal that ended it."""
        deadline = time.monotonic() + PATIENCE_S
        while not self.ended and time.monotonic() < deadline:
            self.read(0.5)
        assert self.ended, f"the program does not end; on screen:\n{self.text()}"
        return self.reap()

    def reap(self) -> int:
        """Take the program's exit status, with patience but not for ever."""
        waiter = threading.Thread(target=self.child.ptyproc.wait, daemon=True)
        waiter.start()
        waiter.join(PATIENCE_S)
        assert not waiter.is_alive(), "the program goes on without its terminal"
        process = self.child.ptyproc
        return int(process.exitstatus if process.exitstatus is not None else -process.signalstatus)

    def kill(self) -> None:
        """Kill the program as a power cut would, and read what it had already put on the screen."""
        self.child.kill(signal.SIGKILL)
        assert self.end() == -signal.SIGKILL

    def resize(self, rows: int, columns: int) -> None:
        """Change the size of the window."""
        self.screen.resize(rows, columns)
        self.child.setwinsize(rows, columns)

    def hang_up(self) -> int:
        """Close the window; the exit status of the program."""
        self.child.ptyproc.fileobj.close()
        # Closed by hand, so that the program is not asked to end in any other way; its number is another's now.
        self.child.closed = self.child.ptyproc.closed = True
        self.child.child_fd = self.child.ptyproc.fd = -1
        self.ended = True
        return self.reap()

    def modes_left_on(self) -> list[str]:
        """Modes of the terminal that the program switched and did not switch back; none when all is as before."""
        last: dict[str, str] = {}
        for number, way in re.findall(rb"\x1b\[\?([0-9;]+)([hl])", self.raw):
            for one in number.decode().split(";"):
                last[one] = way.decode()
        usual_on = {"7", "25"}  # lines wrap, the cursor shows
        left = [mode for mode, way in last.items() if (way == "h") != (mode in usual_on)]
        pushed, popped = len(re.findall(rb"\x1b\[>\d+u", self.raw)), self.raw.count(b"\x1b[<u")
        if pushed != popped:
            left.append(f"keyboard protocol ({pushed} on, {popped} off)")
        if not self.child.closed and termios.tcgetattr(self.child.child_fd)[:4] != self.before[:4]:
            left.append("line discipline")
        return left


@dataclass
class Shed:
    """A till in a folder, and terminals to work at it."""

    folder: Path
    opened: list[Terminal] = field(default_factory=list)

    @property
    def program(self) -> str:
        """The installed program's file."""
        return str(PROGRAM)

    @property
    def till(self) -> Path:
        """The till's folder."""
        return self.folder / "till"

    def environment(self, **more: str) -> dict[str, str]:
        """The surroundings of the program: its own home, its own till."""
        return {
            "PATH": os.environ.get("PATH", os.defpath),
            "HOME": str(self.folder),
            "TERM": "xterm-256color",
            "LANG": "C.UTF-8",
            "TOOTHLINE_TILL": str(self.till),
            **more,
        }

    def open(self, *arguments: str, rows: int = 24, columns: int = 80, **environment: str) -> Terminal:
        """The program with ``arguments`` in a new terminal."""
        return self.run([self.program, *arguments], rows, columns, **environment)

    def run(self, command: list[str], rows: int = 24, columns: int = 80, **environment: str) -> Terminal:
        """Any command in a new terminal."""
        terminal = Terminal(command, self.environment(**environment), rows, columns)
        self.opened.append(terminal)
        return terminal

    def hang_up(self, points: int = 24, name: str = "Boat-shed sash saw") -> str:
        """Write the recipe of a small saw outside the till; its file's name."""
        path = self.folder / "small-saw.toml"
        path.write_text(small_recipe(points, name=name), encoding="utf-8")
        return str(path)

    def log(self) -> Path:
        """The one log in the till."""
        (found,) = self.till.glob("logs/*/*.toml")
        return found


class Person:
    """Someone who does what the screen says, and nothing else."""

    def __init__(self, terminal: Terminal) -> None:
        self.terminal = terminal

    def boxes(self) -> list[tuple[str, str]]:
        """The boxes of the last rows: key as printed, and word."""
        inside = self.terminal.rows()[-2].strip().strip("│")
        return [(key, word) for key, _, word in (box.partition(" ") for box in inside.split("││"))]

    def stage(self) -> tuple[str, int]:
        """Stage and side, as the first row has them."""
        found = HEAD.search(self.top())
        assert found is not None, self.terminal.text()
        return found[1].strip().lower(), int(found[2] or 0)

    def top(self) -> str:
        """The first row."""
        return self.terminal.rows()[0]

    def now(self) -> str:
        """The place in hand."""
        found = re.search(r"NOW (.+?)(?: │|\s*$)", self.places())
        assert found is not None, self.terminal.text()
        return found[1]

    def places(self) -> str:
        """The row that says where one is."""
        return next((row for row in self.terminal.rows() if "NOW " in row), "")

    def note(self) -> str:
        """The last words said about what was done, without the signs of the line at the end of that row."""
        return self.terminal.rows()[-4].strip().partition("   ")[0]

    def wait_for_place(self) -> None:
        """Wait until the place is asked for, on a screen that is drawn from its first row to its boxes.

        On a busy machine a first drawing comes in parts, with rests between them.
        """
        wanted = ("Find the place on the saw", "yes, here", "NOW ")
        self.terminal.wait(lambda here: "handle" in here.rows()[0] and all(words in here.text() for words in wanted))

    def at_work(self) -> bool:
        """Whether a place is in hand to be done."""
        return self.boxes()[0] in (("Space", "done"), ("Space", "both done"), ("Space", "both"))

    def step(self) -> None:
        """Press the key on the first box, and wait until the screen has answered; at the plan keep all, by hand."""
        key, word = self.boxes()[0]
        if word == "as advised":
            for number in re.findall(r"(\d)  [a-z]+: (?:in|out), as advised", self.terminal.text()):
                self.press(number)
            key = self.boxes()[0][0]
        self.press(SENT.get(key, key))

    def press(self, key: str) -> None:
        """Press one key, and wait until the screen has answered."""
        before = self.terminal.text()
        self.terminal.send(key)
        self.terminal.wait(lambda here: here.text() != before, f"an answer to {key!r}")

    def go_on(self, until: Callable[[Person], Any], limit: int = 700) -> None:
        """Do what the screen says until ``until`` holds."""
        for _ in range(limit):
            if until(self):
                return
            self.step()
        raise AssertionError(f"never came to what was wanted; on screen:\n{self.terminal.text()}")


@pytest.fixture
def shed(tmp_path: Path) -> Iterator[Shed]:
    """A till whose settings let a machine press as fast as it reads; nothing started in it outlives the test."""
    shed = Shed(tmp_path)
    shed.till.mkdir()
    (shed.till / "settings.toml").write_text("guard_ms = 0\n", encoding="utf-8")
    yield shed
    for terminal in shed.opened:
        if not terminal.child.closed and not terminal.ended:
            terminal.child.close(force=True)


@pytest.fixture(scope="session")
def filing_begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A till whose one sharpening was put by when filing had begun, worked so far at a terminal; for copies of it."""
    shed = Shed(tmp_path_factory.mktemp("filing"))
    shed.till.mkdir()
    (shed.till / "settings.toml").write_text("guard_ms = 0\n", encoding="utf-8")
    terminal = shed.open("start", shed.hang_up(points=10))
    terminal.wait("NOW ")
    someone = Person(terminal)
    someone.go_on(lambda here: here.stage()[0] == "file" and here.at_work())
    someone.press("q")
    terminal.send("q")
    assert terminal.end() == 0
    return shed.till


@pytest.fixture
def reader() -> Callable[[Path], ReadLog]:
    """The independent reader of logs."""
    return read_independently


@pytest.fixture
def person() -> Callable[[Terminal], Person]:
    """A person for a terminal."""
    return Person
