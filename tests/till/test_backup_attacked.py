"""Archives and tills made to break the bringing in: all of it, or a sentence and nothing changed, never a lost till."""

from __future__ import annotations

import errno
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
import tomli_w

from made_backup import NOW, Contents, contents
from session.cli import main
from session.machine.disk import Disk
from session.machine.lock import LogLock
from session.machine.refusal import Refusal
from session.machine.system_calls import path_length
from session.till import backup_archive, backup_moves
from session.till.backup_archive import digest
from session.till.backup_intake import read_backup
from session.till.backup_moves import Arrival, bring_in
from session.till.backup_names import LONGEST_NAME, fitting
from session.till.backup_writer import write_backup
from session.till.till_folder import Till, till_folder


def fill(folder: Path, contents: Contents) -> Path:
    folder.mkdir(exist_ok=True)
    for path, data in contents.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data)
    return folder


def packed(to: Path, contents: Contents) -> Path:
    """An archive with a right list, whatever is in it."""
    files = [{"path": path, "bytes": len(data), "sha256": digest(data)} for path, data in contents.items()]
    with zipfile.ZipFile(to, "w") as archive:
        for path, data in contents.items():
            archive.writestr(f"till/{path}", data)
        archive.writestr("backup.toml", tomli_w.dumps({"format": 1, "made": NOW, "file": files}))
    return to


def refused(till: Path, archive: Path, words: str) -> None:
    """That ``archive`` is refused with exit 2, in these words, and nothing is changed."""
    before = contents(till)
    with pytest.raises(Refusal, match=words) as told:
        read_backup(Till(till), archive, NOW)
    assert told.value.code == 2
    assert contents(till) == before
    assert not (till / ".import").exists()


# -- names ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name", ["n" * 195 + ".toml", "s" * 200, "é" * 97 + ".toml", "n" * 169 + ".toml", f"notes/{'ž' * 100}"]
)
def test_the_copy_of_a_file_with_a_long_name_gets_a_name_that_fits(name: str, tmp_path: Path) -> None:
    till = fill(tmp_path / "till", {name: b"# here\n"})
    intake = read_backup(Till(till), packed(tmp_path / "a.zip", {name: b"# backed up\n"}), NOW)
    assert intake.replaced == 1
    copies = {path: data for path, data in contents(till).items() if path != name}
    assert (till / name).read_bytes() == b"# backed up\n"
    assert list(copies.values()) == [b"# here\n"]
    assert all(len(path.rpartition("/")[2].encode()) <= LONGEST_NAME for path in copies)
    assert till_folder(str(till)) == till
    # What it made can be backed up again.
    assert {file.path for file in write_backup(Till(till), tmp_path / "b.zip", NOW).files} == {name, *copies}


def test_a_log_with_a_long_name_has_the_other_beside_it(tmp_path: Path) -> None:
    name = f"logs/netloft-panel-saw/{'n' * 195}.toml"
    till = fill(tmp_path / "till", {name: b"here = 1\n"})
    assert read_backup(Till(till), packed(tmp_path / "a.zip", {name: b"there = 1\n"}), NOW).kept == 1
    assert sorted(contents(till).values()) == [b"here = 1\n", b"there = 1\n"]
    assert (till / name).read_bytes() == b"here = 1\n"
    assert any(path.endswith(" (backup copy).toml") for path in contents(till))
    assert till_folder(str(till)) == till


@pytest.mark.parametrize("name", ["saw.toml", "logs/netloft-panel-saw/2026-03-07T09-00-00-aaaaaa.toml"])
def test_a_path_longer_than_the_system_takes_is_refused_before_anything_is_decided(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    till = fill(tmp_path / "till", {"settings.toml": b"sound = true\n"})
    came = packed(tmp_path / "a.zip", {"a.toml": b"# new\n", name: b"# new\n"})
    kept_free = len(" (backup copy)") + 55
    monkeypatch.setattr(backup_moves, "LONGEST_PATH", path_length(till / name) + kept_free - 1)
    refused(till, came, "a path longer by 1 than this system takes")
    monkeypatch.setattr(backup_moves, "LONGEST_PATH", path_length(till / name) + kept_free)
    assert read_backup(Till(till), came, NOW).new == 2


def test_two_long_names_that_begin_alike_have_copies_of_their_own() -> None:
    names = {fitting("n" * 190 + end, ".before-2026-04-01T18-00-00") for end in ("one", "two")}
    assert len(names) == 2


@pytest.mark.parametrize(
    "move",
    [
        Arrival("s" * 201, "0" * 64),
        Arrival("saw.toml", "0" * 64, "0" * 64, "c" * 201),
        Arrival("saw.toml", "0" * 64, "0" * 64, "notes/c"),
    ],
)
def test_no_list_is_written_that_could_not_be_read(move: Arrival, tmp_path: Path) -> None:
    till = fill(tmp_path / "till", {"saw.toml": b"# here\n"})
    with pytest.raises(Refusal, match=r"cannot be brought in: .*; nothing was changed") as told:
        bring_in(till, [(Arrival("other.toml", digest(b"o")), b"o"), (move, b"x")], Disk())
    assert told.value.code == 2
    assert contents(till) == {"saw.toml": b"# here\n"}
    assert not (till / ".import").exists()


# -- files and folders ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (("notes", "notes/a.toml"), r"notes/a\.toml: in a folder of the name of the file notes"),
        (("notes/a.toml", "notes"), r"till/notes: a file, and a folder in the path of notes/a\.toml"),
        (("notes/deep/a", "Notes"), r"till/Notes: a file, and a folder in the path of notes/deep/a"),
        (("saw.toml", "Saw.toml"), r"till/Saw\.toml: the same name as saw\.toml, but for capital letters"),
        (("logs/é", "logs/É"), r"till/logs/É: the same name as logs/é, but for capital letters"),
    ],
)
def test_names_that_no_folder_can_hold_together_are_refused(names: tuple[str, str], words: str, tmp_path: Path) -> None:
    till = fill(tmp_path / "till", {"boat-shed-rip.toml": b"# here\n"})
    refused(till, packed(tmp_path / "a.zip", {"aaa.toml": b"", **dict.fromkeys(names, b"x")}), words)


@pytest.mark.parametrize(
    ("here", "there", "words"),
    [
        ("notes", "notes/a.toml", "a part of its path is a file, not a folder"),
        ("notes/a.toml", "notes", "not a file of at most"),
        ("saw.toml", "Saw.toml", r"saw\.toml is there, the same but for capital letters"),
        ("notes/deep/a", "notes/DEEP", "deep is there, the same but for capital letters"),
        ("logs/saw/a.toml", "LOGS/saw/b.toml", "logs is there, the same but for capital letters"),
    ],
)
def test_what_the_till_has_in_the_way_is_told_first(here: str, there: str, words: str, tmp_path: Path) -> None:
    till = fill(tmp_path / "till", {here: b"# here\n"})
    refused(till, packed(tmp_path / "a.zip", {"aaa.toml": b"", there: b"x"}), words)


def test_a_folder_in_the_place_of_a_copy_is_passed_by(tmp_path: Path) -> None:
    name = "logs/netloft-panel-saw/a.toml"
    till = fill(tmp_path / "till", {name: b"here = 1\n", name.replace(".toml", " (backup copy).toml/x"): b""})
    read_backup(Till(till), packed(tmp_path / "a.zip", {name: b"there = 1\n"}), NOW)
    assert sorted(contents(till).values()) == [b"", b"here = 1\n", b"there = 1\n"]
    assert not (till / ".import").exists()


def test_of_names_that_differ_by_capitals_the_first_is_backed_up_and_the_other_told(tmp_path: Path) -> None:
    till = fill(tmp_path / "till", {"Saw.toml": b"1", "saw.toml": b"2"})
    if len(contents(till)) == 1:
        pytest.skip("this disk does not tell capital letters from small ones")
    written = write_backup(Till(till), tmp_path / "a.zip", NOW)
    assert [file.path for file in written.files] == ["Saw.toml"]
    assert written.told == (
        f"{till}/saw.toml: left out: the same name as Saw.toml, but for capital letters; allowed: one of them",
    )
    # And what is there by its very name is compared, whatever else is.
    assert read_backup(Till(till), tmp_path / "a.zip", NOW).equal == 1


@pytest.mark.parametrize("name", [b"\0aa/a.toml", b"\0aaaaaaaaa"])
def test_a_member_without_a_name_is_refused(name: bytes, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    archive = packed(tmp_path / "a.zip", {"n" * (len(name) - 5): b"x"})
    archive.write_bytes(archive.read_bytes().replace(b"till/" + b"n" * (len(name) - 5), name))
    till = fill(tmp_path / "till", {"saw.toml": b"# here\n"})
    refused(till, archive, "a member without a name")
    assert main(["--till", str(till), "till", "--import", str(archive)]) == 2
    assert "Traceback" not in capfd.readouterr().err


# -- a disk that is full ----------------------------------------------------------------------------


def test_what_was_laid_ready_goes_when_the_disk_is_full_before_the_decision(tmp_path: Path) -> None:
    class Full(Disk):
        def write(self, fd: int, data: bytes) -> int:
            if data.startswith(b"[[move]]"):
                raise OSError(errno.ENOSPC, "")
            return super().write(fd, data)

    till = fill(tmp_path / "till", {"saw.toml": b"# here\n"})
    archive = packed(tmp_path / "a.zip", {"boat-shed-rip.toml": b"x", "netloft-panel-saw.toml": b"y"})
    with pytest.raises(Refusal, match="the backup was not brought in: the disk is full") as told:
        read_backup(Till(till), archive, NOW, disk=Full())
    assert told.value.code == 4
    assert contents(till) == {"saw.toml": b"# here\n"}
    assert not (till / ".import").exists()


def test_a_till_that_cannot_be_finished_for_want_of_room_is_read_all_the_same(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    class Full(Disk):
        def replace(self, source: Path, target: Path) -> None:
            raise OSError(errno.ENOSPC, "")

    till = fill(tmp_path / "till", {"netloft-panel-saw.toml": b"# here\n", "settings.toml": b'guidance = "brief"\n'})
    archive = packed(tmp_path / "a.zip", {"boat-shed-rip.toml": b"# new\n", "netloft-panel-saw.toml": b"# other\n"})
    with pytest.raises(Refusal, match="not all brought in; the rest follows when the till is opened next"):
        read_backup(Till(till), archive, NOW, disk=Full())
    # What was to be new needs no room, and is in.
    assert (till / "boat-shed-rip.toml").read_bytes() == b"# new\n"
    with monkeypatch.context() as full:
        full.setattr(Disk, "replace", Full.replace)
        for command in (["history"], ["till", "--export", str(tmp_path / "b.zip")]):
            assert main(["--till", str(till), *command]) == 0, command
            told = capfd.readouterr().err
            assert "that cannot be finished: the disk is full; it waits, and the till is read as it is so far" in told
        # What writes goes no further.
        assert main(["--till", str(till), "retire", "netloft-panel-saw"]) == 4
    assert till_folder(str(till)) == till
    assert (till / "netloft-panel-saw.toml").read_bytes() == b"# other\n"
    assert not (till / ".import").exists()


# -- retired saws -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("here", "there", "words"),
    [
        ("retired/saw.toml", "saw.toml", "retired here, and stays retired"),
        ("saw.toml", "retired/saw.toml", "in use here, and stays so"),
    ],
)
def test_a_saw_stays_retired_or_in_use_as_it_is_here(here: str, there: str, words: str, tmp_path: Path) -> None:
    till = fill(tmp_path / "till", {here: b"# same\n"})
    intake = read_backup(Till(till), packed(tmp_path / "same.zip", {there: b"# same\n"}), NOW)
    assert (intake.equal, intake.new) == (1, 0)
    assert intake.told == [f"{till / here}: {words}; the backup has it as {there}"]
    assert contents(till) == {here: b"# same\n"}
    intake = read_backup(Till(till), packed(tmp_path / "other.zip", {there: b"# other\n"}), NOW)
    assert (intake.replaced, intake.new) == (1, 0)
    assert contents(till) == {here: b"# other\n", f"{here}.before-2026-04-01T18-00-00": b"# same\n"}


def test_settings_and_what_lies_deeper_go_to_their_own_places(tmp_path: Path) -> None:
    came = {"settings.toml": b"sound = true\n", "cuts/saw.toml": b"# cut\n", "boat-shed-rip.toml": b"# new\n"}
    till = fill(tmp_path / "till", {"retired/settings.toml": b"1", "retired/saw.toml": b"2"})
    read_backup(Till(till), packed(tmp_path / "a.zip", came), NOW)
    assert contents(till) == {**came, "retired/settings.toml": b"1", "retired/saw.toml": b"2"}


# -- a list of nothing, and a lock of nobody --------------------------------------------------------


@pytest.mark.parametrize("entry", [b"[[file]]\n", b"# nothing\n"])
def test_a_list_far_longer_than_its_archive_is_refused_unread(
    entry: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def parsed(_: str) -> dict[str, object]:
        raise AssertionError("it was to be refused by its size")

    archive = tmp_path / "a.zip"
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as made:
        made.writestr("till/saw.toml", b"x")
        made.writestr("backup.toml", b"format = 1\n" + entry * 100_000)
    monkeypatch.setattr(backup_archive, "parse", parsed)
    refused(fill(tmp_path / "till", {"saw.toml": b"# here\n"}), archive, "bytes for 1 files; allowed: at most 500,000")


def test_a_list_may_be_as_long_as_its_names_make_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(backup_archive, "ENOUGH_FOR_A_LIST", 0)
    came = {"/".join([letter * 200] * 8): b"x" for letter in "abc"} | {"s": b"y"}
    assert write_backup(Till(fill(tmp_path / "old", came)), tmp_path / "a.zip", NOW).told == ()
    assert read_backup(Till(tmp_path / "new"), tmp_path / "a.zip", NOW).new == len(came)


def test_a_lock_that_nobody_holds_says_nothing_and_one_that_is_held_does(
    log_bytes: Callable[[int], bytes], tmp_path: Path
) -> None:
    name = "logs/netloft-panel-saw/2026-03-07T09-00-00-aaaaaa.toml"
    torn = log_bytes(2) + b"\n[[mark]]\nse"
    till = fill(tmp_path / "till", {name: torn, f"{name}.lock": b"pid = 1\n"})
    written = write_backup(Till(till), tmp_path / "a.zip", NOW)
    assert (written.told, written.files[0].size) == ((), len(torn))
    # It was only looked at.
    assert (till / f"{name}.lock").read_bytes() == b"pid = 1\n"
    lock = LogLock.take(till / name, Disk())
    try:
        written = write_backup(Till(till), tmp_path / "b.zip", NOW)
        assert lock.holds()
    finally:
        lock.release()
    assert written.told == (f"{till / name}: open at a bench; taken up to mark 2",)
    assert written.files[0].size < len(torn)
