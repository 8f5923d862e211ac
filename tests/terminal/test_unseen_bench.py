"""A terminal that stalls, or goes away without a word: nothing is marked unseen, and nothing is left running."""

from __future__ import annotations

import os
import shutil
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

#: The countdown of these tests.
COUNTDOWN_S = 3

#: For so long nothing is marked in a stall that is not read at all: the next place's time, the five seconds after which
#: the countdown is held, and as much again.
UNCHANGED_S = 2.0 * (COUNTDOWN_S + 5)

PATIENCE_S = 60.0

#: Runs a command in a session without a terminal of its own, as it is behind a connection: a hangup sends it no signal.
#: The one in between stays, takes no hangup itself, and hands the exit status on.
NO_SIGNAL = """
import os, signal, sys
signal.signal(signal.SIGHUP, signal.SIG_IGN)
child = os.fork()
if not child:
    signal.signal(signal.SIGHUP, signal.SIG_DFL)
    os.setsid()
    os.execv(sys.argv[1], sys.argv[1:])
open(os.environ["CHILD"], "w").write(str(child))
sys.exit(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) % 256)
"""


@pytest.fixture
def filing(request: pytest.FixtureRequest, filing_begun: Path, shed: Any, person: Any) -> Any:
    """Someone filing hands-free, the first place not yet marked."""
    shutil.copytree(filing_begun, shed.till, dirs_exist_ok=True)
    command = [shed.program, "resume"]
    if getattr(request, "param", "") == "told by nothing":
        command = [sys.executable, "-c", NO_SIGNAL, *command]
    terminal = shed.run(command, CHILD=str(shed.folder / "child"))
    terminal.wait("Find the place on the saw")
    someone = person(terminal)
    someone.go_on(lambda here: here.stage()[0] == "file" and here.at_work())
    someone.press("h")
    terminal.send(f"{COUNTDOWN_S}\r")
    terminal.wait("then it marks")
    return someone


def by_timer(log: Path) -> int:
    """Marks that the timer made."""
    return log.read_bytes().count(b'\nby = "timer"\n')


def working_s(child: int) -> float:
    """Seconds of processor that a process has used."""
    fields = Path(f"/proc/{child}/stat").read_text(encoding="utf-8").rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def until(holds: Callable[[], bool], what: str) -> None:
    """Look again and again, without reading the terminal, until ``holds``."""
    deadline = time.monotonic() + PATIENCE_S
    while not holds():
        assert time.monotonic() < deadline, f"never came: {what}"
        time.sleep(0.05)


def unchanged(value: Callable[[], float], for_s: float) -> Callable[[], bool]:
    """A condition that holds once ``value`` has been the same for so long."""
    last, since = value(), time.monotonic()

    def holds() -> bool:
        nonlocal last, since
        now = value()
        if now != last:
            last, since = now, time.monotonic()
        return time.monotonic() - since >= for_s

    return holds


@pytest.mark.wide
def test_without_an_answer_that_the_place_is_seen_the_countdown_is_held(filing: Any, shed: Any) -> None:
    filing.terminal.answers = False
    filing.terminal.wait("The countdown is held: the terminal does not say that it shows the place.")
    # The place in hand had been answered for; the next was drawn, but nothing said that it is seen.
    assert by_timer(shed.log()) <= 1


@pytest.mark.soak("a terminal that takes nothing")
def test_nothing_is_marked_while_nobody_reads(filing: Any, shed: Any) -> None:
    until(unchanged(lambda: by_timer(shed.log()), UNCHANGED_S), "an end of the marks")
    assert by_timer(shed.log()) <= 1
    filing.terminal.wait("The countdown is held")
    assert by_timer(shed.log()) <= 1


@pytest.mark.wide
def test_a_shown_place_is_marked_by_the_timer(filing: Any, shed: Any) -> None:
    filing.terminal.wait(lambda _: by_timer(shed.log()) >= 2, "two marks by the timer")


@pytest.mark.wide
@pytest.mark.parametrize(
    "filing",
    [pytest.param("told by a signal", marks=pytest.mark.soak("a terminal that takes nothing")), "told by nothing"],
    indirect=True,
)
def test_a_terminal_that_went_away_ends_the_program_and_lets_the_log_go(
    filing: Any, shed: Any, reader: Any, person: Any
) -> None:
    until(lambda: by_timer(shed.log()) == 1, "the mark of the place that was shown")
    assert filing.terminal.hang_up() in (128 + 1, -1)
    log = reader(shed.log())
    assert log.rest == b""
    assert by_timer(shed.log()) == 1
    again = shed.open("resume")  # exit 3, were the log still held
    again.wait("Find the place on the saw")


def fill(terminal: Any, child: int) -> None:
    """Have it draw more than a terminal that is not read can hold, until it waits to write the rest."""
    for _ in range(200):
        terminal.send("??\x1b")
    until(unchanged(lambda: working_s(child), 0.5), "a program at rest")


@pytest.mark.wide
def test_the_program_ends_though_its_terminal_takes_nothing_more(shed: Any) -> None:
    command = [sys.executable, "-c", NO_SIGNAL, shed.program, "start", shed.hang_up()]
    terminal = shed.run(command, 66, 200, CHILD=str(shed.folder / "child"))
    terminal.wait("NOW ")
    fill(terminal, int((shed.folder / "child").read_text(encoding="utf-8")))
    assert terminal.hang_up() == 128 + 1


@pytest.mark.wide
def test_a_signal_ends_the_program_though_its_terminal_takes_nothing_more(shed: Any, reader: Any) -> None:
    terminal = shed.open("start", shed.hang_up(), rows=66, columns=200)
    terminal.wait("NOW ")
    fill(terminal, terminal.child.pid)
    terminal.child.kill(signal.SIGTERM)
    assert terminal.reap() == 128 + signal.SIGTERM
    assert reader(shed.log()).rest == b""
