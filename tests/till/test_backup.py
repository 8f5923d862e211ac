"""A till into one file and back: what comes in, what stays, what is copied; and what no archive can do to a till."""

from __future__ import annotations

import hashlib
import io
import os
import random
import stat
import tomllib
import zipfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from session.cli import main
from session.log.journal import Journal
from session.log.log_reader import read_log
from session.machine.refusal import Refusal
from session.till import backup_archive
from session.till.backup_archive import opened
from session.till.backup_intake import Intake, read_backup
from session.till.backup_writer import write_backup
from session.till.till_folder import Till, till_folder
from session.walk.mark import Mark
from soak_table import tried

NOW = datetime(2026, 4, 1, 18, 0, tzinfo=UTC)
LOG = "logs/netloft-panel-saw/2026-03-07T09-00-00-aaaaaa.toml"

Bytes = Callable[[int], bytes]
Contents = dict[str, bytes]


def fill(folder: Path, contents: Contents) -> Till:
    for path, data in contents.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data)
    return Till(folder)


def contents(folder: Path) -> Contents:
    """All files of a till, the hidden ones too."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def saws(log_bytes: Bytes) -> Contents:
    return {
        "netloft-panel-saw.toml": b'[saw]\nname = "Netloft panel saw"\n',
        "settings.toml": b'guidance = "brief"\n',
        LOG: log_bytes(4),
        "cuts/netloft-panel-saw/2026-03-07T18-00-00-bbbbbb.toml": b"[cut]\n",
        f"{LOG}.torn-2026-03-07T09-10-00": b"\n[[mark]]\nse",
        "logs/boat-shed-rip/2026-03-08T09-00-00-cccccc.toml": log_bytes(2),
    }


@pytest.fixture
def backup(saws: Contents, tmp_path: Path) -> Path:
    write_backup(fill(tmp_path / "old", saws), tmp_path / "till.zip", NOW)
    return tmp_path / "till.zip"


def sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def packed(to: Path, contents: Contents, **changed: Any) -> Path:
    """An archive as `write_backup` makes it; ``changed`` replaces values of its list."""
    files = [
        {"path": path, "bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}
        for path, data in contents.items()
    ]
    values = {"format": 1, "program": "toothline 0.1.0", "made": NOW, "file": files, **changed}
    with zipfile.ZipFile(to, "w") as archive:
        for path, data in contents.items():
            archive.writestr(f"till/{path}", data)
        archive.writestr("backup.toml", tomli_w.dumps(values))
    return to


# -- out -------------------------------------------------------------------------------------------


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


# -- in --------------------------------------------------------------------------------------------


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


# -- archives that are none, or not whole, or meant to harm ----------------------------------------


def refused(path: Path, tmp_path: Path) -> str:
    """What is said of an archive, having seen that nothing was done for it."""
    till = fill(tmp_path / "hurt", {"own.toml": b"# of my own\n"})
    with pytest.raises(Refusal) as wrong:
        read_backup(till, path, NOW)
    assert wrong.value.code == 2
    assert contents(till.path) == {"own.toml": b"# of my own\n"}
    assert all(line.startswith((str(path), "and ")) for line in wrong.value.lines)
    assert all(line.isprintable() for line in wrong.value.lines)
    return str(wrong.value)


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("../outside.toml", "it leads out of the till"),
        ("logs/../../outside.toml", "it leads out of the till"),
        ("/etc/toothline.toml", "it leads out of the till"),
        ("logs//saw.toml", "it leads out of the till"),
        ("logs\\..\\..\\outside.toml", "it leads out of the till"),
        (".import/moves.toml", "a hidden name; allowed: names that begin with no dot"),
        ("logs/.ssh/keys", "a hidden name"),
        ("a/b/c/d/e/f/g/h/i.toml", "too long or too deep; allowed: 8 names of at most 200 bytes"),
        (f"{'x' * 300}.toml", "too long or too deep"),
        ("bell\x1b[2J.toml", "this system has no files of that name"),
    ],
)
def test_no_path_leads_out_of_the_till(path: str, words: str, tmp_path: Path) -> None:
    assert words in refused(packed(tmp_path / "till.zip", {path: b"x"}), tmp_path)


def rezipped(path: Path, change: Callable[[zipfile.ZipInfo], None], kind: int = zipfile.ZIP_STORED) -> Path:
    with zipfile.ZipFile(path) as archive:
        members = [(info.filename, archive.read(info)) for info in archive.infolist()]
    with zipfile.ZipFile(path, "w", kind) as archive:
        for name, data in members:
            info = zipfile.ZipInfo(name)
            info.compress_type = kind
            change(info)
            archive.writestr(info, data)
    return path


def test_a_link_in_an_archive_is_refused(backup: Path, tmp_path: Path) -> None:
    def link(info: zipfile.ZipInfo) -> None:
        if info.filename == "till/settings.toml":
            info.external_attr = (stat.S_IFLNK | 0o777) << 16

    words = refused(rezipped(backup, link), tmp_path)
    assert words.endswith("till/settings.toml: a link or a device; allowed: files")


def test_other_ways_of_packing_are_refused(backup: Path, tmp_path: Path) -> None:
    words = refused(rezipped(backup, lambda info: None, zipfile.ZIP_LZMA), tmp_path)
    assert "packed in a way that is not read here; allowed: stored or deflated" in words


def test_an_archive_packed_again_by_hand_is_taken(backup: Path, saws: Contents, tmp_path: Path) -> None:
    rezipped(backup, lambda info: None)
    with zipfile.ZipFile(backup, "a") as archive:
        archive.mkdir("till/logs")
    read_backup(Till(tmp_path / "new"), backup, NOW)
    assert contents(tmp_path / "new") == saws


def test_wrong_checksums_are_told_each(tmp_path: Path) -> None:
    files = [{"path": name, "bytes": 1, "sha256": "0" * 64} for name in ("a.toml", "b.toml")]
    words = refused(packed(tmp_path / "till.zip", {"a.toml": b"a", "b.toml": b"b"}, file=files), tmp_path)
    assert words.count("not the bytes that were backed up: their checksum is another") == 2


def test_a_bomb_is_never_unpacked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(backup_archive, "MOST_OF_ONE", 1000)
    small = sha256(b"\0" * 500)
    bomb = packed(tmp_path / "a.zip", {"a.toml": b"\0" * 900}, file=[{"path": "a.toml", "bytes": 500, "sha256": small}])
    assert refused(bomb, tmp_path).endswith("a.toml: more than 500 bytes; allowed: as many as its list says")
    assert "9,000 bytes; allowed: at most 1,000" in refused(
        packed(tmp_path / "b.zip", {"a.toml": bytes(9000)}), tmp_path
    )
    monkeypatch.setattr(backup_archive, "MOST_OF_ALL", 1500)
    many = packed(tmp_path / "c.zip", {"a.toml": bytes(900), "b.toml": bytes(901)})
    assert "more than 1,500 bytes in all" in refused(many, tmp_path)
    monkeypatch.setattr(backup_archive, "MOST_FILES", 1)
    crowd = packed(tmp_path / "d.zip", {"a.toml": b"", "b.toml": b"", "c.toml": b""})
    assert "4 files; allowed: at most 1" in refused(crowd, tmp_path)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"format": 2}, "backup.toml: format 2; allowed: 1, so take the version of toothline that wrote it"),
        ({"format": True}, "backup.toml: format True; allowed: 1"),
        ({"file": "all"}, "backup.toml: an entry that is none; allowed: [[file]] with path, bytes and sha256"),
        ({"file": [{"path": 3}]}, "backup.toml: an entry that is none"),
        ({"file": [{"path": "a.toml", "bytes": True, "sha256": "0" * 64}]}, "backup.toml: an entry that is none"),
        ({"file": [{"path": "a.toml", "bytes": -1, "sha256": "0" * 64}]}, "backup.toml: an entry that is none"),
        ({"file": [{"path": "a.toml", "bytes": 1, "sha256": "A"}]}, "backup.toml: an entry that is none"),
        ({"file": []}, "till/a.toml: in the archive and not in its list"),
        (
            {"file": [{"path": name, "bytes": 1, "sha256": "0" * 64} for name in ("a.toml", "b.toml")]},
            "till/b.toml: in the list and not in the archive",
        ),
        ({"file": [{"path": "a.toml", "bytes": 1, "sha256": "0" * 64}] * 2}, "a file stands there twice"),
    ],
)
def test_a_list_that_is_not_of_the_archive_is_refused(changed: dict[str, Any], words: str, tmp_path: Path) -> None:
    assert words in refused(packed(tmp_path / "till.zip", {"a.toml": b"a"}, **changed), tmp_path)


def test_what_is_no_backup_is_said_to_be_none(tmp_path: Path) -> None:
    path = tmp_path / "till.zip"
    assert refused(path, tmp_path) == f"{path}: no such file"
    path.mkdir()
    assert refused(path, tmp_path) == f"{path}: a folder; a backup is a file"
    path.rmdir()
    os.mkfifo(path)
    assert refused(path, tmp_path) == f"{path}: not a regular file; a backup is a file"
    path.unlink()
    for data in (b"", b"hello\n", b"PK\x05\x06" + bytes(17)):
        path.write_bytes(data)
        assert "no whole ZIP archive: cut short, damaged or something else" in refused(path, tmp_path)
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("till/a.toml", b"a")
    assert "backup.toml: is missing; allowed: a file that toothline till --export made" in refused(path, tmp_path)
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("photos/saw.jpg", b"a")
        archive.writestr("backup.toml", b"format = ")
    assert "photos/saw.jpg: not of a till; allowed: backup.toml and what is under till/" in refused(path, tmp_path)


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_name_that_stands_there_twice_is_refused(tmp_path: Path) -> None:
    path = packed(tmp_path / "till.zip", {"a.toml": b"a"})
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("till/a.toml", b"another")
    assert "till/a.toml: stands there twice" in refused(path, tmp_path)


def taken_whole_or_refused(data: bytes, saws: Contents, path: Path) -> bool:
    """Whether an archive is taken; then it is as it was made, whatever was done to its bytes."""
    path.write_bytes(data)
    try:
        with opened(path) as backup:
            assert {file.path: backup.data(file) for file in backup.files} == saws
    except Refusal as wrong:
        code = wrong.code
    else:
        return True
    assert code == 2
    return False


def test_an_archive_cut_short_anywhere_is_refused(backup: Path, saws: Contents, tmp_path: Path) -> None:
    data = backup.read_bytes()
    for end in range(0, len(data), 41):
        assert not taken_whole_or_refused(data[:end], saws, tmp_path / "cut.zip"), end
    assert taken_whole_or_refused(data, saws, tmp_path / "cut.zip")


def flipped(backup: Path, saws: Contents, times: int, seed: int) -> int:
    chance, data, taken = random.Random(seed), backup.read_bytes(), 0
    for _ in range(times):
        changed = bytearray(data)
        for _ in range(chance.choice((1, 1, 3))):
            changed[chance.randrange(len(changed))] ^= 1 << chance.randrange(8)
        tried()
        taken += taken_whole_or_refused(bytes(changed), saws, backup.with_name("flipped.zip"))
    return taken


def test_flipped_bits_are_found_or_do_nothing(backup: Path, saws: Contents) -> None:
    # Some bits of a ZIP archive mean nothing to what is in it, such as a time.
    assert flipped(backup, saws, 150, seed=5) < 75


@pytest.mark.soak("a backup with a bit flipped")
def test_ten_thousand_flipped_archives(backup: Path, saws: Contents) -> None:
    assert flipped(backup, saws, 10_000, seed=6) < 5_000


def test_the_list_may_be_any_text_and_nothing_happens(saws: Contents, tmp_path: Path) -> None:
    chance = random.Random(8)
    for text in (b"\xff\xfe", b"[" * 5000, b"format = 1e999", b"a." * 3000 + b"b = 1", b'file = "\\u0000"', b""):
        raw = io.BytesIO()
        with zipfile.ZipFile(raw, "w") as archive:
            archive.writestr("backup.toml", text + bytes(chance.randrange(32, 127) for _ in range(9)))
        assert not taken_whole_or_refused(raw.getvalue(), saws, tmp_path / "odd.zip")


# -- by the command --------------------------------------------------------------------------------


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
