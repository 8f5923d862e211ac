"""A till into one file and back: what is taken, what stays out, who can read it, and what the command says."""

from __future__ import annotations

import os
import tomllib
import zipfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from made_backup import LOG, NOW, Contents, contents, fill, sha256
from session.cli import main
from session.log.journal import Journal
from session.machine.refusal import Refusal
from session.till.backup_intake import Intake, read_backup
from session.till.backup_writer import write_backup
from session.till.till_folder import Till, till_folder
from session.walk.mark import Mark


def test_all_of_a_till_comes_back(saws: Contents, backup: Path, tmp_path: Path) -> None:
    intake = read_backup(Till(tmp_path / "new"), backup, NOW)
    assert contents(tmp_path / "new") == saws == contents(tmp_path / "old")
    assert intake == Intake(new=len(saws))
    # A second time there is nothing to do.
    assert read_backup(Till(tmp_path / "new"), backup, NOW) == Intake(equal=len(saws))
    assert contents(tmp_path / "new") == saws


def test_any_other_program_can_read_it(saws: Contents, backup: Path) -> None:
    with zipfile.ZipFile(backup) as archive:
        assert archive.testzip() is None
        told = tomllib.loads(archive.read("backup.toml").decode("utf-8"))
        assert told["format"] == 1
        assert told["made"] == NOW
        for file in told["file"]:
            data = archive.read(f"till/{file['path']}")
            assert (len(data), sha256(data)) == (file["bytes"], file["sha256"])
            assert saws[file["path"]] == data
    assert {file["path"] for file in told["file"]} == set(saws)


def test_locks_and_hidden_files_stay_out_and_what_cannot_be_taken_is_told(saws: Contents, tmp_path: Path) -> None:
    till = fill(tmp_path / "old", {**saws, ".git/config": b"x", f"{LOG[:-1]}l.lock": b"", ".a.toml.new": b"half"})
    (till.path / "link.toml").symlink_to("settings.toml")
    (till.path / "elsewhere").symlink_to(tmp_path)
    os.mkfifo(till.path / "pipe.toml")
    (till.path / "bell\x07.toml").write_bytes(b"")
    written = write_backup(till, tmp_path / "till.zip", NOW)
    assert {file.path for file in written.files} == set(saws)
    assert sorted(line.rpartition("/")[2] for line in written.told if "mark" not in line) == [
        "bell.toml: left out: this system has no files of that name",
        "elsewhere: left out: a link to a folder",
        "link.toml: left out: a link",
        "pipe.toml: left out: not a regular file",
    ]


def test_a_log_that_is_open_is_taken_up_to_its_last_whole_mark(
    log_header: dict[str, Any], begun: datetime, filing: Callable[..., Mark], tmp_path: Path
) -> None:
    till = Till(tmp_path / "old")
    with Journal.create(till.log_folder("netloft-panel-saw"), log_header, started=begun) as journal:
        for seq in (1, 2, 3):
            journal.append(filing(seq))
        whole = journal.path.read_bytes()
        with journal.path.open("ab") as file:
            file.write(b"\n[[mark]]\nseq = 4\nat = 20")
        written = write_backup(till, tmp_path / "till.zip", NOW)
        assert written.told == (f"{journal.path}: open at a bench; taken up to mark 3",)
    read_backup(Till(tmp_path / "new"), tmp_path / "till.zip", NOW)
    assert list(contents(tmp_path / "new").values()) == [whole]


def test_a_backup_overwrites_nothing_and_is_not_put_into_the_till(saws: Contents, backup: Path, tmp_path: Path) -> None:
    before = backup.read_bytes()
    till = Till(tmp_path / "old")
    with pytest.raises(Refusal, match=r"till\.zip: is already there; allowed: a name that is free") as refused:
        write_backup(till, backup, NOW)
    assert refused.value.code == 2
    with pytest.raises(Refusal, match="in the till itself, and would be lost with it"):
        write_backup(till, till.path / "logs" / "till.zip", NOW)
    with pytest.raises(Refusal, match="nothing is in this till to back up"):
        write_backup(Till(tmp_path / "none"), tmp_path / "none.zip", NOW)
    assert backup.read_bytes() == before
    assert contents(till.path) == saws
    assert {path.name for path in tmp_path.iterdir()} == {"old", "till.zip"}


def test_the_command_says_what_it_did(backup: Path, saws: Contents, tmp_path: Path, capfd: Any) -> None:
    till, file = tmp_path / "new", tmp_path / "again.zip"
    assert main(["--till", str(till), "till", "--import", str(backup)]) == 0
    assert capfd.readouterr() == (
        f"{till}: 6 brought in, 0 replaced with a copy kept, 0 already there, 0 left as they are\n",
        "",
    )
    assert main(["till", "--till", str(till), "--export", str(file)]) == 0
    size = sum(map(len, saws.values()))
    assert capfd.readouterr().out == f"6 files, 2 of them logs, {size:,} bytes, read again and whole: {file}\n"
    assert main(["till", "--till", str(till), "--export", str(file)]) == 2
    assert capfd.readouterr().err == f"toothline: {file}: is already there; allowed: a name that is free\n"
    assert main(["till", "--till", str(till), "--import", ""]) == 2
    assert "--import: not a file's name" in capfd.readouterr().err
    assert main(["till", "--export", "a", "--import", "b"]) == 2
    assert "not allowed with argument" in capfd.readouterr().err
    assert main(["till", "--till", str(tmp_path / "none"), "--export", str(tmp_path / "x.zip")]) == 2
    assert "no such folder" in capfd.readouterr().err
    assert till_folder(str(till)) == till
