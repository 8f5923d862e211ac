"""A till on a share that has no kernel locks: nothing is written there, and said why; all that only reads goes on."""

from __future__ import annotations

import errno
import fcntl
import json
from collections.abc import Callable
from pathlib import Path

import pytest

from called_here import call_here
from session.log.journal import Journal, JournalFault
from session.machine.disk import REAL
from session.machine.lock import LogLock
from session.till.till_folder import Till
from session.till.till_list import entries
from small_recipe import small_recipe

#: What flock says on disks without locks.
ANSWERS = (errno.ENOLCK, errno.EOPNOTSUPP, errno.ENOTSUP, errno.ENOSYS, errno.EINVAL)

WORDS = "this disk cannot lock files, and two programs might write at once; keep the till on one that can"

Calls = Callable[..., tuple[int, str, str]]


@pytest.fixture
def toothline(tmp_path: Path) -> Calls:
    """The program on a till with a saw and an interrupted sharpening: status, stdout and stderr."""

    def call(*words: str) -> tuple[int, str, str]:
        done = call_here(tmp_path, "--till", "till", *words, environment={"HOME": str(tmp_path)})
        return done.returncode, done.stdout.decode(), done.stderr.decode()

    (tmp_path / "till").mkdir()
    (tmp_path / "till" / "sash.toml").write_text(small_recipe(12), encoding="utf-8")
    assert call("start", "sash", "--plain")[0] == 0
    return call


def without_locks(monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    def flock(fd: int, how: int) -> None:
        raise OSError(number, "made to fail")

    monkeypatch.setattr(fcntl, "flock", flock)


def contents(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


WRITE = (
    ("start", "sash", "--anew", "--plain"),
    ("resume", "--plain"),
    ("cut", "boat-shed-sash-saw", "--length", "12 in", "--thickness", "3/4 in", "--strokes", "40"),
)


@pytest.mark.parametrize("number", ANSWERS)
@pytest.mark.parametrize("words", WRITE, ids=lambda words: str(words[0]))
def test_what_writes_is_refused_and_leaves_nothing(
    words: tuple[str, ...], number: int, toothline: Calls, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = contents(tmp_path)
    without_locks(monkeypatch, number)
    status, out, said = toothline(*words)
    assert (status, out) == (4, "")
    [line] = said.splitlines()
    assert line.endswith(WORDS)
    assert contents(tmp_path) == before


@pytest.mark.parametrize("number", ANSWERS)
def test_what_reads_goes_on(number: int, toothline: Calls, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    [log] = (tmp_path / "till").glob("logs/*/*.toml")
    read = [("history",), ("show", str(log), "--json"), ("check", str(log)), ("plan", "sash"), ("recipes",)]
    with_locks = [toothline(*words) for words in read]
    without_locks(monkeypatch, number)
    assert [toothline(*words) for words in read] == with_locks
    assert [status for status, _, _ in with_locks] == [0] * len(read)
    assert json.loads(with_locks[1][1])["state"] == "interrupted"
    assert entries(Till(tmp_path / "till"))[0].log == log


def test_another_holders_words_are_not_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    log = tmp_path / "log.toml"
    held = LogLock.take(log, REAL)
    words = log.with_name("log.toml.lock").read_bytes()
    without_locks(monkeypatch, errno.EOPNOTSUPP)
    with pytest.raises(OSError, match="no locks here") as refused:
        LogLock.take(log, REAL)
    assert refused.value.errno == errno.ENOLCK
    assert log.with_name("log.toml.lock").read_bytes() == words
    held.release()


def test_a_log_that_is_open_when_the_locks_go_away_is_not_opened_anew(
    toothline: Calls, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    [log] = (tmp_path / "till").glob("logs/*/*.toml")
    with Journal.open(log) as journal:
        log.with_name(log.name + ".lock").unlink()  # the share was let go of and came back
        without_locks(monkeypatch, errno.ENOLCK)
        with pytest.raises(JournalFault, match="cannot lock files"):
            journal.reopen()
