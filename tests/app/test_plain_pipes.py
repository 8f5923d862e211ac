"""The line-by-line mode as another program runs it: through pipes, in a simple terminal, stopped by signals."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pexpect
import pytest

from independent_log import read_independently
from small_recipe import small_recipe

#: One whole sharpening of a saw of 12 teeth as it is typed, stage by stage.
TYPED = {
    "look over": [
        "y",
        "y",
        "y",
        "3",
        "8",
        "2",
        "answer straight, clean",
        "1",
        "answer none",
        "1",
        "1",
        "answer none",
        "answer none",
        "answer none",
        "1",
        "answer",
        "1.1 mm",
        "answer 12",
        "1",
        "answer 6 in slim, corner 2",
        # Setting, which is not advised, into the plan: it is decided, and the rest stays as it was shown.
        "3",
        "",
    ],
    "level": ["y", "y", "y", "", "", "1"],
    "set": ["y", "y", "", "y", *[""] * 6, "y", "y", "y", *[""] * 6, "y", "answer 1.1 mm"],
    "file": ["y", *["y"] * 6, "", "", "2", "", "", "", "y", *["y"] * 5, "", "", "", "3", "back", "2", "", "out 2", "y"],
    "dress": ["", "", "y", "", "answer 1.1 mm"],
    "prove": ["y", "1", "1", "answer 6 in, 3/4 in, 30 strokes", "1"],
    "close": ["", "", "", "", ""],
}
ALL = [line for lines in TYPED.values() for line in lines]
PROGRAM = [sys.executable, "-m", "session"]


def environment() -> dict[str, str]:
    kept = {key: os.environ[key] for key in ("PATH", "HOME") if key in os.environ}
    return {**kept, "TERM": "dumb", "LC_ALL": "C.UTF-8"}


@pytest.fixture
def till(tmp_path: Path) -> Path:
    folder = tmp_path / "till"
    folder.mkdir()
    (folder / "sash.toml").write_text(small_recipe(12, jaw=200), encoding="utf-8")
    return folder


def run(till: Path, *arguments: str, typed: str | bytes = "", **env: str) -> subprocess.CompletedProcess[bytes]:
    raw = typed if isinstance(typed, bytes) else typed.encode()
    command = [*PROGRAM, *arguments, "--till", str(till)]
    return subprocess.run(
        command, input=raw, capture_output=True, timeout=60, check=False, env={**environment(), **env}
    )


def log_of(till: Path) -> Path:
    (log,) = till.glob("logs/*/*.toml")
    return log


def marks_of(till: Path) -> list[dict[str, Any]]:
    """The marks, each block's seal checked byte by byte by nothing of ours."""
    log = read_independently(log_of(till))
    assert log.rest == b""
    return log.marks


def test_a_whole_sharpening_by_piped_lines(till: Path) -> None:
    done = run(till, "start", "sash", "--plain", typed="\n".join(ALL) + "\n")
    assert done.returncode == 0, done.stderr
    assert done.stderr == b""
    told = done.stdout.decode("ascii")
    assert all(" " <= sign <= "~" or sign == "\n" for sign in told)
    # Every line was wanted: none was refused, none was left over.
    for refused in ("own key", "Nothing is asked", "not possible", "not a word", "Nothing was changed", "has ended"):
        assert refused not in told
    assert [line[2:] for line in told.splitlines() if line[:2] in ("> ", ": ")] == ALL
    marks = marks_of(till)
    assert told.endswith(f"All is saved: {len(marks)} marks in {log_of(till).name}.\n")
    assert marks[-1]["did"] == "finished"
    stages = list(dict.fromkeys(mark["stage"] for mark in marks if mark["did"] == "done"))
    assert stages == list(TYPED)
    told_of = {m["what"]: m["value"] for m in marks if m["did"] == "measured"}
    assert (told_of["file"], told_of["file corner"], told_of["over the points after"]) == ("6 in slim", 2, 1.1)
    teeth = [m for m in marks if m["did"] in ("done", "left out") and "tooth" in m]
    worked = {stage: [(m["side"], m["tooth"]) for m in teeth if m["stage"] == stage] for stage in ("set", "file")}
    sides = [(1, tooth) for tooth in range(1, 13, 2)] + [(2, tooth) for tooth in range(2, 13, 2)]
    assert worked["set"] == sides
    assert worked["file"] == [*sides[:10], (2, 8), *sides[10:]]
    taken = [mark["of"] for mark in marks if mark["did"] == "took back"]
    strokes = [m["strokes"] for m in marks if m.get("stage") == "file" and "strokes" in m and m["seq"] not in taken]
    assert strokes == [2, 2]  # done says done: only what was counted is recorded
    assert [(m["tooth"], m["reason"]) for m in marks if m["did"] == "left out"] == [(12, "broken tooth")]
    assert [m["side"] for m in marks if m["did"] == "turned"] == [2, 1, 2, 1]
    assert {m["by"] for m in marks if m["did"] == "done"} == {"key"}
    shown = run(till, "show", str(log_of(till)))
    assert shown.returncode == 0


@pytest.mark.wide
def test_a_sharpening_in_two_sittings_goes_on_at_its_place(till: Path) -> None:
    some = [*TYPED["look over"], *TYPED["level"]]
    first = run(till, "start", "sash", "--plain", typed="\n".join([*some, "y", "y", "", "y", "", ""]) + "\n")
    assert first.returncode == 0
    assert b"The input has ended." in first.stdout
    before = marks_of(till)
    again = run(till, "resume", "--plain", typed=b"\ny\r\n")
    told = again.stdout.decode()
    assert again.returncode == 0
    assert "Look at the saw: is tooth 5 next?" in told
    assert "Found again: tooth 5 is next." in told
    assert [mark["did"] for mark in marks_of(till)[len(before) :]] == ["resumed", "confirmed"]
    refused = run(till, "start", "sash", "--plain", typed="")
    assert (refused.returncode, refused.stdout) == (2, b"")
    assert b"waits to be finished" in refused.stderr


@pytest.mark.wide
def test_bytes_that_are_no_letters_end_nothing(till: Path) -> None:
    typed = b"y\xff\xfe\n\x00\ny\x1b[2J\n" + b"q" * 70_000 + b"\ny\n"
    done = run(till, "start", "sash", "--plain", typed=typed)
    assert done.returncode == 0, done.stderr
    assert [mark["did"] for mark in marks_of(till)] == ["acknowledged"]
    assert b"\x1b" not in done.stdout
    assert b"70,000 characters; allowed: at most 200." in done.stdout


@pytest.mark.wide
def test_letters_that_the_terminal_lacks_end_nothing(till: Path) -> None:
    (till / "sash.toml").write_text(small_recipe(12, jaw=200, name="S\u00e4ge \u92f8 sash saw"), encoding="utf-8")
    done = run(till, "start", "sash", "--plain", PYTHONIOENCODING="ascii")
    assert done.returncode == 0, done.stderr
    assert b"S?ge ? sash saw, crosscut" in done.stdout


@pytest.mark.wide
def test_it_needs_no_terminal_and_no_screen_library(till: Path) -> None:
    code = (
        "import sys\nfrom session.cli import main\n"
        "code = main(['start', 'sash', '--plain', '--till', sys.argv[1]])\n"
        "print([name for name in sys.modules if name.split('.')[0] in ('textual', 'rich')])\nsys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(till)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        timeout=60,
        check=False,
        env=environment(),
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.endswith(b"\n[]\n")
    told = run(till, "start", "sash", "--anew")
    assert told.returncode == 2
    assert b"add --plain" in told.stderr


@pytest.mark.wide
def test_a_log_in_other_hands_is_refused_with_its_own_status(till: Path) -> None:
    with subprocess.Popen(
        [*PROGRAM, "start", "sash", "--plain", "--till", str(till)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env=environment(),
    ) as first:
        assert first.stdin is not None
        assert first.stdout is not None
        first.stdin.write(b"y\n")
        first.stdin.flush()
        while b"Understood" not in first.stdout.readline():
            pass
        second = run(till, "resume", "--plain")
        first.communicate(timeout=60)
    assert (second.returncode, second.stdout) == (3, b"")
    assert first.returncode == 0


@pytest.mark.wide
@pytest.mark.parametrize(
    ("number", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGHUP, 129)], ids=lambda n: str(n)
)
def test_a_signal_leaves_a_whole_log_and_says_so(till: Path, number: int, status: int) -> None:
    with subprocess.Popen(
        [*PROGRAM, "start", "sash", "--plain", "--till", str(till)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment(),
    ) as child:
        assert child.stdin is not None
        assert child.stdout is not None
        child.stdin.write(b"y\ny\n")
        child.stdin.flush()
        while b"Understood: hard teeth" not in child.stdout.readline():
            pass
        child.send_signal(number)
        told, wrong = child.communicate(timeout=60)
    assert child.returncode == status
    assert b"All is saved: 2 marks in" in told
    assert wrong == b""
    assert [mark["did"] for mark in marks_of(till)] == ["acknowledged"] * 2


@pytest.mark.wide
def test_a_reader_that_goes_away_is_no_fault(till: Path) -> None:
    with subprocess.Popen(
        [*PROGRAM, "start", "sash", "--plain", "--till", str(till)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=environment(),
    ) as child:
        assert child.stdout is not None
        child.stdout.readline()
        child.stdout.close()
        assert child.stdin is not None
        child.stdin.write(b"y\n" * 3)
        child.stdin.close()
        assert child.stderr is not None
        wrong = child.stderr.read()
    assert (child.returncode, wrong) == (0, b"")
    assert len(marks_of(till)) <= 3


def test_output_that_the_disk_does_not_take_has_its_own_status(till: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [*PROGRAM, "start", "sash", "--plain", "--till", str(till)],
            input=b"y\n",
            stdout=full,
            stderr=subprocess.PIPE,
            timeout=60,
            check=False,
            env=environment(),
        )
    assert done.returncode == 4
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.wide
def test_the_demo_by_lines_names_its_saw_and_keeps_nothing(tmp_path: Path) -> None:
    done = run(tmp_path, "demo", "--plain", typed="y\nquit\nquit\n", TMPDIR=str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[1].startswith(b"Netloft panel saw, crosscut")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.wide
def test_at_a_simple_terminal_nothing_is_sent_but_text(till: Path) -> None:
    child = pexpect.spawn(
        PROGRAM[0],
        [*PROGRAM[1:], "start", "sash", "--plain", "--till", str(till)],
        env=environment(),
        timeout=30,
        dimensions=(24, 80),
    )
    raw = b""
    for line in ("y", "", "quit"):
        child.expect_exact(b"\r\n> ")
        raw += child.before
        child.sendline(line)
    child.expect_exact(b"stays.\r\n> ")
    raw += child.before
    child.sendintr()
    child.expect(pexpect.EOF)
    raw += child.before
    child.close()
    assert child.exitstatus == 130
    assert b"This waits for a yes by its own key" in raw
    assert b"All is saved: 1 mark in" in raw
    assert {byte for byte in raw if not 32 <= byte < 127} <= {10, 13}


@pytest.mark.wide
def test_a_closed_terminal_leaves_a_whole_log(till: Path) -> None:
    child = pexpect.spawn(
        PROGRAM[0], [*PROGRAM[1:], "start", "sash", "--plain", "--till", str(till)], env=environment(), timeout=30
    )
    child.expect_exact(b"\r\n> ")
    child.sendline("y")
    child.expect_exact(b"Understood")
    os.close(child.child_fd)
    child.child_fd = -1
    _, status = os.waitpid(child.pid, 0)
    child.closed = child.terminated = True
    assert os.waitstatus_to_exitcode(status) in (129, -signal.SIGHUP)
    assert [mark["did"] for mark in marks_of(till)] == ["acknowledged"]
