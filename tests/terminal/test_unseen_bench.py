"""A terminal that stalls, or goes away without a word: nothing is marked unseen, and nothing is left running."""

from __future__ import annotations

import os
import signal
import sys
import time
from pathlib import Path
from typing import Any

import pytest

#: The countdown of these tests, and how long its terminal then shows nothing: the place that was shown is marked, the
#: next one's time is up, and five seconds later the countdown is held, with some to spare.
COUNTDOWN_S = 3
STALLED_S = 2 * COUNTDOWN_S + 5 + 4.0

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


@pytest.fixture(params=["told by a signal", "told by nothing"])
def filing(request: pytest.FixtureRequest, shed: Any, person: Any) -> Any:
    """Someone filing hands-free, the first place not yet marked."""
    command = [shed.program, "start", shed.hang_up()]
    if request.param == "told by nothing":
        command = [sys.executable, "-c", NO_SIGNAL, *command]
    terminal = shed.run(command, CHILD=str(shed.folder / "child"))
    terminal.wait("NOW ")
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


def test_a_stalled_terminal_holds_the_countdown(filing: Any, shed: Any) -> None:
    time.sleep(STALLED_S)  # nobody reads: that is what is tried
    # One place had been shown when the stall began. The next was drawn, but no answer came that it is seen.
    assert by_timer(shed.log()) <= 1
    filing.terminal.wait("The countdown is held")
    assert by_timer(shed.log()) <= 1


def test_a_shown_place_is_marked_by_the_timer(filing: Any, shed: Any) -> None:
    filing.terminal.wait(lambda _: by_timer(shed.log()) >= 2, "two marks by the timer")


def test_a_terminal_that_went_away_ends_the_program_and_lets_the_log_go(
    filing: Any, shed: Any, reader: Any, person: Any
) -> None:
    time.sleep(STALLED_S / 2)
    marked = by_timer(shed.log())
    assert filing.terminal.hang_up() in (128 + 1, -1)
    log = reader(shed.log())
    assert log.rest == b""
    assert by_timer(shed.log()) - marked <= 1
    again = shed.open("resume")  # exit 3, were the log still held
    again.wait("Find the place on the saw")


def test_the_program_ends_though_its_terminal_takes_nothing_more(shed: Any) -> None:
    # Stopped in the middle of a drawing, so that the program waits to write; then the terminal is gone.
    terminal = shed.run(
        [sys.executable, "-c", NO_SIGNAL, shed.program, "start", shed.hang_up()],
        66,
        200,
        CHILD=str(shed.folder / "child"),
    )
    terminal.wait("NOW ")
    for _ in range(200):
        terminal.send("??\x1b")
    child = int((shed.folder / "child").read_text(encoding="utf-8"))
    before = working_s(child)
    time.sleep(2.0)
    assert working_s(child) - before < 30
    assert terminal.hang_up() == 128 + 1


def test_a_signal_ends_the_program_though_its_terminal_takes_nothing_more(shed: Any, reader: Any) -> None:
    terminal = shed.open("start", shed.hang_up(), rows=66, columns=200)
    terminal.wait("NOW ")
    for _ in range(200):
        terminal.send("??\x1b")
    time.sleep(2.0)  # by now its drawings fill all that the kernel holds for a terminal
    terminal.child.kill(signal.SIGTERM)
    assert terminal.reap() == 128 + signal.SIGTERM
    assert reader(shed.log()).rest == b""
