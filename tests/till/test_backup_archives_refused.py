"""Archives that are none, or not whole, or meant to harm: each is refused in words, and nothing is done for it."""

from __future__ import annotations

import io
import os
import random
import stat
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from made_backup import NOW, Contents, contents, fill, sha256
from session.machine.refusal import Refusal
from session.till import backup_archive
from session.till.backup_archive import opened
from session.till.backup_intake import read_backup
from session.till.till_folder import Till
from soak_table import tried


def packed(to: Path, contents: Contents, **changed: Any) -> Path:
    """An archive as `write_backup` makes it; ``changed`` replaces values of its list."""
    files = [{"path": path, "bytes": len(data), "sha256": sha256(data)} for path, data in contents.items()]
    values = {"format": 1, "program": "toothline 0.1.0", "made": NOW, "file": files, **changed}
    with zipfile.ZipFile(to, "w") as archive:
        for path, data in contents.items():
            archive.writestr(f"till/{path}", data)
        archive.writestr("backup.toml", tomli_w.dumps(values))
    return to


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
        # What would shut out the cuts, the logs or a bench of this till.
        ("cuts", "a file of the name that a folder of the till has; allowed: any other"),
        ("Logs", "a file of the name that a folder of the till has"),
        ("logs/netloft-panel-saw/a.toml.lock", "a lock, which is of the bench that holds it"),
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


def test_fewer_bytes_than_listed_are_refused(tmp_path: Path) -> None:
    files = [{"path": "a.toml", "bytes": 3, "sha256": sha256(b"a")}]
    words = refused(packed(tmp_path / "till.zip", {"a.toml": b"a"}, file=files), tmp_path)
    assert words.endswith("a.toml: cut short, 1 of 3 bytes; allowed: as many as its list says")


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
        ({"format": 1.0}, "backup.toml: format 1.0; allowed: 1"),
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
