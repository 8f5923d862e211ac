"""One writer at a time, decided by the kernel: processes that race, and processes that are killed."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from session.log.journal import Journal
from session.log.log_reader import read_log
from session.machine.lock import LockHeld
from session.walk.mark import Mark
from soak_table import tried

#: Opens the log again and again; a mark by name, then let go, and says so. "held" is what the loser sees.
RACER = """
import os, sys
from datetime import UTC, datetime
from pathlib import Path
from session.log.journal import Journal
from session.machine.lock import LockHeld
from session.walk.mark import Did, Mark
log, name, wanted = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
made = held = 0
while made < wanted:
    try:
        journal = Journal.open(log)
    except LockHeld:
        held += 1
        continue
    inside = log.with_name("inside")
    os.close(os.open(inside, os.O_CREAT | os.O_EXCL))
    journal.append(Mark(seq=journal.next_seq, at=datetime.now(UTC), did=Did.FLAGGED, what=name))
    made += 1
    inside.unlink()
    journal.close()
print(made, held)
"""

#: Makes marks without end and says each one that is on disk.
WORKER = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from session.log.journal import Journal
from session.walk.mark import Did, Mark
with Journal.open(Path(sys.argv[1])) as journal:
    while True:
        journal.append(Mark(seq=journal.next_seq, at=datetime.now(UTC), did=Did.FLAGGED, reason="x" * 200))
        print(len(journal.marks), flush=True)
"""


def race(log: Path, each: int) -> None:
    racers = [
        subprocess.Popen([sys.executable, "-c", RACER, str(log), name, str(each)], stdout=subprocess.PIPE, text=True)
        for name in ("left", "right")
    ]
    tried(2 * each)
    told = [racer.communicate()[0].split() for racer in racers]
    assert [racer.returncode for racer in racers] == [0, 0]
    assert [int(made) for made, _ in told] == [each, each]
    read = read_log(log)
    assert read.odd is None
    assert [mark.seq for mark in read.marks] == list(range(1, 2 * each + 1))
    assert sum(mark.what == "left" for mark in read.marks) == each
    assert sorted(path.name for path in log.parent.iterdir()) == [log.name]


@pytest.fixture
def log(tmp_path: Path, header: dict[str, Any], begun: datetime) -> Path:
    with Journal.create(tmp_path / "saw", header, started=begun) as journal:
        return journal.path


@pytest.mark.wide
def test_two_processes_race_for_a_log(log: Path) -> None:
    race(log, 30)


@pytest.mark.soak("two programs that race for a log")
def test_two_processes_race_for_a_log_a_thousand_times(log: Path) -> None:
    race(log, 500)


def kill_workers(log: Path, times: int, seed: int) -> None:
    chance = random.Random(seed)
    shown = 0
    for _ in range(times):
        tried()
        worker = subprocess.Popen([sys.executable, "-c", WORKER, str(log)], stdout=subprocess.PIPE, text=True)
        assert worker.stdout is not None
        for _ in range(chance.randint(1, 30)):
            shown = int(worker.stdout.readline())
        with pytest.raises(LockHeld, match=f"process {worker.pid} on"):
            Journal.open(log)
        os.kill(worker.pid, signal.SIGKILL)
        said = worker.stdout.read().split("\n")[:-1]
        worker.wait()
        worker.stdout.close()
        shown = int(said[-1]) if said else shown
        # The lock's file is still there; nobody has to clear it away.
        assert log.with_name(log.name + ".lock").exists()
        with Journal.open(log) as journal:
            assert shown <= len(journal.marks) <= shown + 1
        assert not log.with_name(log.name + ".lock").exists()


def test_a_killed_program_leaves_the_log_free_and_whole(log: Path) -> None:
    kill_workers(log, 5, seed=3)


@pytest.mark.soak("a writing program killed")
def test_a_hundred_killed_programs(log: Path) -> None:
    kill_workers(log, 100, seed=4)


@pytest.mark.parametrize(
    "said",
    [b"", b"pid = 1\n", b"\xff\xfe", b'pid = "\\u001b[2J"\nhost = "\\u202eh"\n', b"[" * 5000, b"pid = " + b"9" * 5000],
)
def test_what_the_lock_file_says_decides_nothing(said: bytes, log: Path) -> None:
    lock = log.with_name(log.name + ".lock")
    # Left behind by a program that no longer runs, or by anyone: it does not hold the log.
    lock.write_bytes(said)
    with Journal.open(log) as journal:
        assert journal.marks == ()
        lock.write_bytes(said)
        with pytest.raises(LockHeld, match="held by") as held:
            Journal.open(log)
        assert str(held.value).isprintable()


def test_a_removed_lock_file_does_not_let_two_in_unnoticed(log: Path, mark: Callable[..., Mark]) -> None:
    with Journal.open(log) as first:
        first.append(mark(1))
        log.with_name(log.name + ".lock").unlink()
        with Journal.open(log) as second:
            second.append(mark(2))
            # The log is longer than the first one wrote it: it must not go on blindly.
            with pytest.raises(ValueError, match="another program has changed the log"):
                first.append(mark(2, reason="mine"))
            with pytest.raises(LockHeld):
                first.reopen()
        first.reopen()
        assert first.marks == (mark(1), mark(2))
        first.append(mark(3))
    assert len(read_log(log).marks) == 3
