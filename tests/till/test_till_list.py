"""The till's list: what waits to be gone on with, what may only be looked at, and what cannot be read."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from session.files.settings import Settings
from session.files.supplied import supplied_folder
from session.log import log_reader
from session.log.journal import Journal
from session.log.log_bytes import Header, make_header, read_header
from session.log.log_reader import is_finished
from session.machine.clock import SystemClock
from session.machine.disk import Disk
from session.machine.refusal import Refusal
from session.till.till_folder import Till
from session.till.till_list import Entry, entries, open_entry
from session.walk.mark import Did, Mark

FINISHED = 40


@pytest.fixture
def till(tmp_path: Path, log_header: dict[str, Any], begun: Any, filing: Callable[..., Mark]) -> Till:
    """One saw's recipe, `FINISHED` finished logs of it and one that is not."""
    till = Till(tmp_path)
    shutil.copy(supplied_folder("recipes") / "crosscut-panel.toml", tmp_path / "panel.toml")
    for day in range(FINISHED + 1):
        started = begun + timedelta(days=day)
        session = {**log_header["session"], "started": started, "saw": "Crosscut panel saw"}
        header = {**log_header, "session": session}
        with Journal.create(till.log_folder("crosscut-panel-saw"), header, started=started) as journal:
            journal.append(filing(1))
            if day < FINISHED:
                journal.append(Mark(seq=2, at=started, did=Did.FINISHED, extra={"summary": {"marks": 2}}))
    return till


def of_the_till(till: Till) -> list[Entry]:
    return [entry for entry in entries(till) if not entry.words.startswith("supplied")]


def refuse(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    scandir = os.scandir

    def refused(path: str | Path) -> Any:
        if Path(path) == folder:
            raise PermissionError(13, "Permission denied")
        return scandir(path)

    monkeypatch.setattr(os, "scandir", refused)


def test_what_waits_stands_on_top(till: Till) -> None:
    waiting, saw = of_the_till(till)
    assert waiting.words == "INTERRUPTED  Crosscut panel saw, last mark 07 Mar 09:00: file 1"
    assert waiting.log == till.logs("crosscut-panel-saw")[-1]
    assert (waiting.wrong, saw.own, saw.log) == ("", "Crosscut panel saw", None)


def test_finished_logs_are_passed_over_by_their_last_bytes(till: Till, monkeypatch: pytest.MonkeyPatch) -> None:
    taken: list[int] = []
    read_ends: list[int] = []
    read = Disk.read

    def counted(self: Disk, fd: int, most: int, offset: int) -> bytes:
        data = read(self, fd, most, offset)
        taken.append(len(data))
        return data

    def counted_header(data: bytes) -> Header:
        read_ends.append(1)
        return read_header(data)

    monkeypatch.setattr(Disk, "read", counted)
    monkeypatch.setattr(log_reader, "read_header", counted_header)
    assert till.interrupted() == [till.logs("crosscut-panel-saw")[-1]]
    assert len(read_ends) == 1
    # One short look at each, and the two ends of the one that is not finished.
    assert len(taken) == FINISHED + 3
    assert max(taken) <= 6_000


@pytest.mark.parametrize(
    ("change", "finished"),
    [
        (lambda data: data, True),
        (lambda data: data[:-1], False),
        (lambda data: data + b"\n", False),
        (lambda data: data + b"\n[[mark]]\nseq = ", False),
        (lambda data: data.replace(b"marks = 2", b"marks = 3"), False),
        (lambda data: data.replace(b"\n", b"\r\n"), False),
        (lambda data: b"", False),
        (lambda data: data.replace(b'did = "finished"', b'did = "paused"'), False),
    ],
)
def test_finished_is_only_what_a_whole_last_mark_says(
    change: Callable[[bytes], bytes], finished: bool, till: Till
) -> None:
    path = till.logs("crosscut-panel-saw")[0]
    path.write_bytes(change(path.read_bytes()))
    assert is_finished(path) is finished
    # What the last bytes leave open, the ends decide: with a torn end after its last mark a log is finished too.
    decided = str(log_reader.read_ends(path).state) == "finished"
    assert decided >= finished
    assert (path in [ends.path for ends in till.unfinished()]) is not decided


def test_taking_back_the_finish_puts_a_log_on_top_again(till: Till, begun: Any) -> None:
    path = till.logs("crosscut-panel-saw")[0]
    with Journal.open(path) as journal:
        journal.append(Mark(seq=3, at=begun, did=Did.TOOK_BACK, of=2))
    assert path in till.interrupted()


def test_a_log_that_may_only_be_looked_at_is_named_with_its_reason(till: Till) -> None:
    path = till.logs("crosscut-panel-saw")[-1]
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    saw, odd = of_the_till(till)
    assert saw.own
    assert odd.words == f"READ ONLY  Crosscut panel saw: {path.name}"
    with pytest.raises(ValueError, match=r"CRLF.*\(byte 10\); it can be looked at: toothline show") as refused:
        open_entry(till, odd, SystemClock(), Settings())
    assert str(refused.value).startswith(f"{path}: ")
    assert till.interrupted() == []


def test_a_log_that_is_none_is_named_and_hides_nothing(till: Till) -> None:
    (till.log_folder("crosscut-panel-saw") / "em\x1b[2Jpty.toml").touch()
    waiting, _, odd = of_the_till(till)
    assert waiting.words.startswith("INTERRUPTED")
    assert odd.words == "NOT READ  crosscut-panel-saw/em[2Jpty.toml"
    assert odd.wrong.endswith("em[2Jpty.toml: the file is empty (byte 0)")


def test_a_folder_that_cannot_be_looked_into_hides_no_other(till: Till, monkeypatch: pytest.MonkeyPatch) -> None:
    closed = till.log_folder("aaa")
    closed.mkdir()
    refuse(monkeypatch, closed)
    waiting, _, odd = of_the_till(till)
    assert waiting.words.startswith("INTERRUPTED")
    assert odd.words == "NOT READ  logs/aaa"
    assert odd.wrong == f"{closed}: cannot be read: you are not allowed to do that there"
    assert sum(str(ends.state) == "finished" for ends in till.ends()) == FINISHED


@pytest.mark.parametrize("inside", ["logs", ""])
def test_a_till_that_cannot_be_looked_into_says_so(inside: str, till: Till, monkeypatch: pytest.MonkeyPatch) -> None:
    refuse(monkeypatch, till.path / inside)
    odd = [entry for entry in of_the_till(till) if entry.wrong]
    assert [entry.wrong for entry in odd] == [
        f"{till.path / inside}: cannot be read: you are not allowed to do that there"
    ]


def test_a_file_that_cannot_be_looked_at_hides_no_other(till: Till, monkeypatch: pytest.MonkeyPatch) -> None:
    saws = till.saws()
    assert saws

    def refused(self: Path) -> bool:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "is_dir", refused)
    assert till.saws() == saws
    refuse(monkeypatch, till.path)
    with pytest.raises(Refusal, match="cannot be read: you are not allowed") as told:
        till.saws()
    assert told.value.code == 4


def test_an_interrupted_log_whose_header_has_no_saw_goes_by_its_folder(
    till: Till, log_header: dict[str, Any], begun: Any
) -> None:
    path = till.log_folder("crosscut-panel-saw") / "bare.toml"
    path.write_bytes(make_header({**log_header, "session": {"started": begun + timedelta(days=99)}}))
    assert of_the_till(till)[0] == Entry("INTERRUPTED  crosscut-panel-saw", log=path)
