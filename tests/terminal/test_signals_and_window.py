"""Whatever ends or disturbs the program at a real terminal: the log is whole, and the terminal is given back."""

from __future__ import annotations

import os
import signal
import subprocess
from typing import Any

import pytest

SOAK = pytest.mark.soak("signals at a terminal")


@pytest.fixture
def at_work(shed: Any, person: Any) -> Any:
    """Someone in the middle of the look over of a small saw, three steps done."""
    someone = person(shed.open("start", shed.hang_up()))
    someone.terminal.wait("NOW ")
    someone.go_on(lambda here: "3 of 17 done" in here.places())
    return someone


def steps_done(log: Any) -> list[str]:
    return [mark["step"] for mark in log.marks if mark["did"] == "done"]


DONE = ["bright points", "last cut", "all round"]


@pytest.mark.wide
@pytest.mark.parametrize(
    ("number", "status"),
    [
        pytest.param(signal.SIGTERM, 128 + 15, marks=SOAK),  # sent in most of what follows
        pytest.param(signal.SIGHUP, 128 + 1, marks=SOAK),  # and what a closed window sends
        (signal.SIGINT, 130),
    ],
    ids=["SIGTERM", "SIGHUP", "SIGINT"],
)
def test_a_signal_ends_it_with_the_log_whole_and_the_terminal_as_before(
    number: int, status: int, at_work: Any, shed: Any, reader: Any
) -> None:
    at_work.terminal.child.kill(number)
    assert at_work.terminal.end() == status
    assert at_work.terminal.modes_left_on() == []
    log = reader(shed.log())
    assert steps_done(log) == DONE
    assert log.rest == b""
    assert "all is saved in" in at_work.terminal.text()
    assert not list(shed.till.glob("logs/*/*.lock"))


@pytest.mark.wide
def test_a_signal_at_the_till_gives_the_terminal_back(shed: Any) -> None:
    terminal = shed.open()
    terminal.wait("the till at")
    terminal.child.kill(signal.SIGTERM)
    assert terminal.end() == 128 + 15
    assert terminal.modes_left_on() == []


@pytest.mark.wide
def test_a_signal_while_a_question_is_open_gives_the_terminal_back(at_work: Any, shed: Any, reader: Any) -> None:
    at_work.press("l")
    assert "why?" in at_work.terminal.text()
    at_work.terminal.child.kill(signal.SIGTERM)
    assert at_work.terminal.end() == 128 + 15
    assert at_work.terminal.modes_left_on() == []
    assert steps_done(reader(shed.log())) == DONE


def test_a_closed_window_ends_it_with_the_log_whole(at_work: Any, shed: Any, reader: Any, person: Any) -> None:
    assert at_work.terminal.hang_up() in (128 + signal.SIGHUP, -signal.SIGHUP)
    log = reader(shed.log())
    assert steps_done(log) == DONE
    assert log.rest == b""
    again = person(shed.open("resume"))
    again.terminal.wait("Find the place on the saw")
    assert again.now() == "plate"


@pytest.mark.wide
def test_ctrl_c_asks_first_and_the_second_one_leaves(at_work: Any, shed: Any, reader: Any) -> None:
    at_work.press("\x03")
    assert "Leave the bench?" in at_work.terminal.text()
    assert "All is saved" in at_work.terminal.text()
    at_work.press("\x1b")
    assert "3 of 17 done" in at_work.places()
    at_work.press("\x03")
    at_work.terminal.send("\x03")
    assert at_work.terminal.end() == 0
    assert at_work.terminal.modes_left_on() == []
    log = reader(shed.log())
    assert steps_done(log) == DONE
    assert log.rest == b""


def test_ctrl_z_gives_the_shell_back_and_fg_the_same_place(shed: Any, person: Any, reader: Any) -> None:
    shell = shed.run(["/bin/sh", "-i"], PS1="shell> ", ENV="")
    someone = person(shell)
    shell.wait("shell>")
    shell.send(f"'{shed.program}' start '{shed.hang_up()}'\r")
    shell.wait("NOW ")
    someone.go_on(lambda here: "3 of 17 done" in here.places())

    shell.send("\x1a")
    shell.wait(lambda here: "shell>" in here.text() and "NOW " not in here.text(), "the shell")
    assert [mode for mode in shell.modes_left_on() if mode != "2004"] == []
    shell.send("echo in $((40 + 2)) the shell\r")
    shell.wait("in 42 the shell")

    shell.send("fg\r")
    shell.wait("3 of 17 done")
    assert someone.now() == "plate"
    someone.press(" ")
    assert "4 of 17 done" in someone.places()
    someone.press("q")
    shell.send("q")
    shell.wait(lambda here: "all is saved in" in here.text())
    shell.send("exit\r")
    assert shell.end() == 0
    assert [mode for mode in shell.modes_left_on() if mode != "2004"] == []
    assert steps_done(reader(shed.log())) == [*DONE, "plate"]


@pytest.mark.wide
def test_stopped_and_continued_from_outside_it_goes_on(at_work: Any, shed: Any, reader: Any) -> None:
    process = at_work.terminal.child.pid
    os.kill(process, signal.SIGSTOP)
    _, status = os.waitpid(process, os.WUNTRACED)
    assert os.WIFSTOPPED(status)
    os.kill(process, signal.SIGCONT)
    at_work.press(" ")
    assert "4 of 17 done" in at_work.places()
    at_work.terminal.child.kill(signal.SIGTERM)
    assert at_work.terminal.end() == 128 + 15
    assert at_work.terminal.modes_left_on() == []
    assert steps_done(reader(shed.log())) == [*DONE, "plate"]


@pytest.mark.wide
def test_a_small_window_says_what_it_needs_and_a_large_one_shows_the_same_place(
    at_work: Any, shed: Any, reader: Any
) -> None:
    before = at_work.places()
    at_work.terminal.resize(5, 20)
    at_work.terminal.wait(lambda here: "The bench needs" in here.text() and "NOW" not in here.text())
    at_work.terminal.resize(24, 80)
    at_work.terminal.wait("NOW ")
    assert at_work.places() == before
    at_work.press(" ")
    assert "4 of 17 done" in at_work.places()
    for rows, columns in [(40, 120), (5, 20), (30, 100), (24, 80)]:
        at_work.terminal.resize(rows, columns)
    at_work.terminal.wait("4 of 17 done")
    at_work.terminal.child.kill(signal.SIGTERM)
    at_work.terminal.end()
    assert at_work.terminal.modes_left_on() == []
    assert steps_done(reader(shed.log())) == [*DONE, "plate"]


@pytest.mark.wide
def test_ended_in_a_window_too_small_for_it_the_terminal_is_given_back(at_work: Any, shed: Any, reader: Any) -> None:
    at_work.terminal.resize(5, 20)
    at_work.terminal.wait("The bench needs")
    at_work.terminal.child.kill(signal.SIGTERM)
    assert at_work.terminal.end() == 128 + 15
    assert at_work.terminal.modes_left_on() == []
    assert steps_done(reader(shed.log())) == DONE


@pytest.mark.wide
@pytest.mark.parametrize("term", ["dumb", ""])
def test_a_terminal_that_cannot_place_text_is_told_in_one_line(term: str, shed: Any) -> None:
    terminal = shed.open("start", "green-wood", TERM=term, columns=300)
    assert terminal.end() == 2
    assert b"\x1b" not in terminal.raw
    (line,) = terminal.raw.decode().splitlines()
    assert line.startswith("toothline: toothline start needs a terminal")
    assert f'TERM is "{term}"' in line
    assert not (shed.till / "logs").exists()


@pytest.mark.wide
@pytest.mark.parametrize("command", [[], ["start", "green-wood"], ["demo"]], ids=["till", "start", "demo"])
def test_without_a_terminal_it_says_so_in_one_line(command: list[str], shed: Any) -> None:
    done = subprocess.run(
        [shed.program, *command], env=shed.environment(), stdin=subprocess.DEVNULL, capture_output=True, timeout=30
    )
    assert done.returncode == 2
    assert done.stdout == b""
    (line,) = done.stderr.decode().splitlines()
    assert "needs a terminal" in line
    assert not (shed.till / "logs").exists()


@pytest.mark.wide
def test_a_second_program_is_refused_and_told_who_holds_the_log(at_work: Any, shed: Any, reader: Any) -> None:
    first = at_work.terminal.child.pid
    second = shed.open("resume", columns=400)
    assert second.end() == 3
    (line,) = second.raw.decode().splitlines()
    assert f"held by process {first} on" in line
    assert "toothline show" in line
    assert b"\x1b" not in second.raw

    # From the till, too; and the first goes on as if nothing had been.
    till = shed.open(columns=200)
    till.wait("INTERRUPTED")
    till.send("\r")
    till.wait(f"held by process {first}")
    at_work.press(" ")
    assert "4 of 17 done" in at_work.places()
    at_work.terminal.kill()
    # Killed, it lets go by itself: the till's same line opens now.
    till.send("\r")
    till.wait("Find the place on the saw")
    assert steps_done(reader(shed.log())) == [*DONE, "plate"]
