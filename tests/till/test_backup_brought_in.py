"""A backup brought into a till that is in use: what is replaced, what stays, what is copied, and what is in the way."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from made_backup import LOG, NOW, Bytes, Contents, contents, fill
from session.log.journal import Journal
from session.log.log_reader import read_log
from session.machine.refusal import Refusal
from session.till.backup_intake import read_backup
from session.till.backup_writer import write_backup
from session.till.till_folder import Till
from session.walk.mark import Mark


def test_what_differs_is_replaced_and_what_stood_there_kept(saws: Contents, backup: Path, tmp_path: Path) -> None:
    here = {"netloft-panel-saw.toml": b"# mine\n", "own.toml": b"# of my own\n", "settings.toml": saws["settings.toml"]}
    till = fill(tmp_path / "new", here)
    intake = read_backup(till, backup, NOW)
    copy = "netloft-panel-saw.toml.before-2026-04-01T18-00-00"
    assert contents(till.path) == {**saws, "own.toml": b"# of my own\n", copy: b"# mine\n"}
    assert (intake.new, intake.replaced, intake.equal, intake.kept) == (4, 1, 1, 0)
    assert intake.told == [
        f"{till.path}/netloft-panel-saw.toml: replaced; what stood there is kept beside it as {copy}"
    ]


def test_a_log_that_goes_further_stays_and_one_that_does_not_is_gone_on_with(
    saws: Contents, backup: Path, log_bytes: Bytes, tmp_path: Path
) -> None:
    other = "logs/boat-shed-rip/2026-03-08T09-00-00-cccccc.toml"
    torn = log_bytes(1) + b"\n[[mark]]\nseq = 2"
    till = fill(tmp_path / "new", {LOG: log_bytes(9), other: torn})
    intake = read_backup(till, backup, NOW)
    after = contents(till.path)
    assert after[LOG] == log_bytes(9)
    assert after[other] == log_bytes(2)
    assert after[f"{other}.before-2026-04-01T18-00-00"] == torn
    assert (intake.kept, intake.replaced) == (1, 1)
    assert intake.told[1] == f"{till.path}/{LOG}: holds all that the backup has of it, and stays"


def test_a_log_that_went_on_otherwise_stays_with_the_other_beside_it(
    saws: Contents, backup: Path, log_bytes: Bytes, tmp_path: Path
) -> None:
    otherwise = log_bytes(3) + log_bytes(5)[len(log_bytes(3)) :].replace(b"strokes = 2", b"strokes = 3")
    till = fill(tmp_path / "new", {LOG: otherwise})
    for _ in range(2):
        intake = read_backup(till, backup, NOW)
        assert intake.kept == 1
        beside = LOG.replace(".toml", " (backup copy).toml")
        assert contents(till.path) == {**saws, LOG: otherwise, beside: saws[LOG]}


def test_a_log_that_is_open_at_a_bench_is_not_replaced(
    log_header: dict[str, Any], begun: datetime, filing: Callable[..., Mark], tmp_path: Path
) -> None:
    till = Till(tmp_path / "till")
    with Journal.create(till.log_folder("saw"), log_header, started=begun) as journal:
        journal.append(filing(1))
        journal.append(filing(2))
    further = journal.path.read_bytes()
    fill(till.path, {"new.toml": b"# new\n"})
    write_backup(till, tmp_path / "till.zip", NOW)
    (till.path / "new.toml").unlink()
    journal.path.write_bytes(further[: further.rindex(b"\n[[mark]]")])
    with Journal.open(journal.path) as open_log:
        with pytest.raises(Refusal, match=r"held by process \d+ on .*\. Nothing was brought in") as refused:
            read_backup(till, tmp_path / "till.zip", NOW)
        assert refused.value.code == 3
        assert not (till.path / "new.toml").exists()
        open_log.append(filing(2))
        # Now it holds all that the backup has, and may stay open.
        assert read_backup(till, tmp_path / "till.zip", NOW).kept + open_log.next_seq >= 3
    assert len(read_log(journal.path).marks) == 2


def test_nothing_is_written_through_a_link(saws: Contents, backup: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    till = fill(tmp_path / "new", {"settings.toml": b"# mine\n"})
    (till.path / "logs").symlink_to(outside)
    with pytest.raises(Refusal, match="new/logs: a link, which may lead out of the till; allowed: files and folders"):
        read_backup(till, backup, NOW)
    assert list(outside.iterdir()) == []
    assert (till.path / "settings.toml").read_bytes() == b"# mine\n"


@pytest.mark.parametrize("kind", ["a folder for a file", "a file for a folder"])
def test_what_is_in_the_way_is_told_before_anything_is_done(kind: str, backup: Path, tmp_path: Path) -> None:
    way = {"a folder for a file": "settings.toml/inside", "a file for a folder": "logs"}[kind]
    till = fill(tmp_path / "new", {way: b"mine\n"})
    with pytest.raises(Refusal, match=r"in the way of one|is a file, not a folder") as refused:
        read_backup(till, backup, NOW)
    assert refused.value.code == 2
    assert contents(till.path) == {way: b"mine\n"}
