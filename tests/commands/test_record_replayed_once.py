"""A record is shown from one fold over its marks, however much is told of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import timedelta
from pathlib import Path

import pytest

from made_history import DAY0, SLUG, filed, proved, write_log
from session.cli import main
from session.commands.output.replayed_record import ReplayedRecord
from session.log.log_reader import read_log
from session.walk.account import Account, AccountDraft
from session.walk.mark import Mark


@pytest.fixture
def folded(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The seq of each mark that is folded, in order."""
    seqs: list[int] = []
    add_all: Callable[..., None] = AccountDraft.add_all

    def counted(self: AccountDraft, marks: Iterable[Mark]) -> None:
        every = list(marks)
        seqs.extend(mark.seq for mark in every)
        add_all(self, every)

    monkeypatch.setattr(AccountDraft, "add_all", counted)
    return seqs


@pytest.mark.parametrize("form", [[], ["--json"], ["--svg", "page.svg"]], ids=["words", "json", "page"])
def test_each_mark_is_folded_once(
    form: list[str], write_walk: Callable[..., Path], folded: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    log = write_walk()
    monkeypatch.chdir(log.parent)
    folded.clear()
    assert main(["show", log.name, *form]) == 0
    marks = read_log(log).marks
    assert folded == [mark.seq for mark in marks]
    assert len(marks) > 5


@pytest.mark.parametrize("command", [("history",), ("plan", SLUG), ("advise", SLUG)], ids=lambda command: command[0])
def test_of_past_records_the_one_in_hand_is_folded_once_and_a_finished_one_not_at_all(
    command: tuple[str, ...], tmp_path: Path, folded: list[int]
) -> None:
    write_log(tmp_path, DAY0, [*filed(4), *proved(150.0)])
    in_hand = write_log(tmp_path, DAY0 + timedelta(days=9), filed(6), finished=False)
    folded.clear()
    assert main(["--till", str(tmp_path), *command]) == 0
    assert folded == [mark.seq for mark in read_log(in_hand).marks]


def test_the_walk_of_a_record_comes_to_what_its_marks_come_to(write_walk: Callable[..., Path]) -> None:
    log = read_log(write_walk())
    record = ReplayedRecord(Path("log.toml"), log)
    assert record.state is not None
    told, alone = record.account, Account.of(log.marks)
    assert (told.outcomes, told.flags, told.taken) == (alone.outcomes, alone.flags, alone.taken)
    assert (told.measured, told.tally.stages, told.worked) == (alone.measured, alone.tally.stages, alone.worked)
