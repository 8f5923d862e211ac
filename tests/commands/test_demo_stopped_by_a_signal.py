"""The demo without a person, ended before its time: no fault of the program, and a log that says how far it came."""

from __future__ import annotations

import signal
from pathlib import Path

import pytest

from session.cli import main
from session.log.log_reader import read_log
from session.rehearsal import unattended
from session.rehearsal.filer import Filer
from session.rehearsal.filer_move import Move
from session.sentences.saying import Saying


class Called(Filer):
    """A filer who is called away at the sixth move."""

    moves = 0

    def next(self, saying: Saying) -> Move | None:
        self.moves += 1
        if self.moves == 6:
            signal.raise_signal(signal.SIGINT)
        return super().next(saying)


def test_it_says_where_the_log_is_and_ends_with_the_signals_status(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(unattended, "Filer", Called)
    assert main(["demo", "--unattended", "--to", str(tmp_path)]) == 130
    told = capsys.readouterr()
    (log,) = tmp_path.glob("logs/*/*.toml")
    assert told.out == ""
    assert told.err == f"toothline: stopped; what was done until then is in {log}\n"
    read = read_log(log)
    assert 1 <= len(read.marks) < 20
    assert (read.torn_bytes, read.odd) == (0, None)
