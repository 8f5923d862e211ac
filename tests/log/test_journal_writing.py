from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from session.log.crc_seals import CodecError
from session.log.journal import Journal, JournalFault
from session.log.log_bytes import FORMAT, make_header
from session.log.log_reader import read_log
from session.log.mark_block import encode
from session.machine.lock import LockHeld
from session.machine.refusal import Refusal
from session.walk.mark import Did, Mark

Filing = Callable[..., Mark]
LogBytes = Callable[[int], bytes]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "till" / "logs" / "netloft-panel-saw"


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_log_is_its_header_and_one_block_a_mark(
    folder: Path, log_header: dict[str, Any], filing: Filing, begun: Any
) -> None:
    with Journal.create(folder, log_header, started=begun) as journal:
        assert journal.path.parent == folder
        assert journal.path.name.startswith("2026-03-07T09-00-00-")
        assert journal.header == read_log(journal.path).header
        assert journal.header["format"] == FORMAT
        expected = make_header(log_header)
        assert journal.path.read_bytes() == expected
        for seq in range(1, 6):
            assert journal.next_seq == seq
            journal.append(filing(seq))
            expected += encode(filing(seq))[0]
            assert journal.path.read_bytes() == expected
        assert journal.marks == tuple(filing(seq) for seq in range(1, 6))
    assert names(folder) == [journal.path.name]


def test_two_begun_at_once_never_overwrite_each_other(folder: Path, log_header: dict[str, Any], begun: Any) -> None:
    made = [Journal.create(folder, log_header, started=begun) for _ in range(3)]
    assert len({journal.path for journal in made}) == 3
    for journal in made:
        journal.close()
    again = Journal.create(folder, log_header, started=begun)
    again.close()
    assert len(names(folder)) == 4


def test_the_same_walk_gets_the_same_name_and_another_bench_another(
    tmp_path: Path, log_header: dict[str, Any], begun: Any
) -> None:
    paths = []
    for number, saw in enumerate(["Netloft panel saw", "Netloft panel saw", "Boat-shed rip"]):
        log_header["session"]["saw"] = saw
        with Journal.create(tmp_path / str(number), log_header, started=begun) as journal:
            paths.append(journal.path.name)
    assert paths[0] == paths[1] != paths[2]


def test_an_impossible_header_leaves_nothing_behind(folder: Path, begun: Any) -> None:
    with pytest.raises(CodecError, match="the header cannot be written"):
        Journal.create(folder, {"seal": {}}, started=begun)
    assert not folder.parent.parent.exists()


def test_resuming_reads_what_was_written(folder: Path, log_header: dict[str, Any], filing: Filing, begun: Any) -> None:
    with Journal.create(folder, log_header, started=begun) as journal:
        journal.append(filing(1))
    with Journal.open(journal.path) as again:
        assert (again.next_seq, again.torn, tuple(again.marks)) == (2, None, (filing(1),))
        again.append(filing(2))
    assert read_log(journal.path).marks == (filing(1), filing(2))


@pytest.mark.parametrize("tail", [b"\n[[mark]]\nseq = 4\nat = 2026-", b"\n", b"\0" * 600])
def test_a_torn_end_is_set_aside_whole(tail: bytes, tmp_path: Path, log_bytes: LogBytes, filing: Filing) -> None:
    path = tmp_path / "log.toml"
    path.write_bytes(log_bytes(3) + tail)
    assert read_log(path).torn_bytes == len(tail)
    assert path.read_bytes() == log_bytes(3) + tail
    with Journal.open(path) as journal:
        assert journal.torn is not None
        assert journal.torn.data == journal.torn.file.read_bytes() == tail
        assert journal.torn.file.name.startswith("log.toml.torn-")
        assert journal.next_seq == 4
        journal.append(filing(4))
    assert path.read_bytes() == log_bytes(4)
    assert names(tmp_path) == ["log.toml", journal.torn.file.name]


def test_torn_ends_of_one_second_are_kept_apart(tmp_path: Path, log_bytes: LogBytes) -> None:
    path = tmp_path / "log.toml"
    kept = set()
    for number in range(1, 6):
        path.write_bytes(log_bytes(2) + b"\n[[mark]]\nseq = %d" % number)
        with Journal.open(path) as journal:
            assert journal.torn is not None
            kept.add(journal.torn.file)
    assert sorted(file.read_bytes()[-1:] for file in kept) == [b"1", b"2", b"3", b"4", b"5"]


def test_an_odd_log_is_left_as_it_is(tmp_path: Path, log_bytes: LogBytes) -> None:
    path = tmp_path / "log.toml"
    path.write_bytes(log_bytes(3) + b"# noted by hand\n")
    with pytest.raises(Refusal, match=rf"\(byte {len(log_bytes(3))}\); it can be looked at, not gone on with"):
        Journal.open(path)
    assert path.read_bytes() == log_bytes(3) + b"# noted by hand\n"
    assert names(tmp_path) == ["log.toml"]


def test_a_mark_out_of_sequence_or_after_closing_is_not_written(
    folder: Path, log_header: dict[str, Any], filing: Filing, begun: Any
) -> None:
    journal = Journal.create(folder, log_header, started=begun)
    with pytest.raises(JournalFault, match="mark 1 comes next"):
        journal.append(filing(2))
    journal.append(filing(1))
    journal.close()
    journal.close()
    with pytest.raises(JournalFault, match="it is closed"):
        journal.append(filing(2))
    assert read_log(journal.path).marks == (filing(1),)


def test_a_mark_that_cannot_be_written_does_not_stop_the_next(
    folder: Path, log_header: dict[str, Any], filing: Filing, begun: Any
) -> None:
    with Journal.create(folder, log_header, started=begun) as journal:
        with pytest.raises(JournalFault, match="the mark cannot be written"):
            journal.append(filing(1, reason="x" * 5000))
        journal.append(filing(1, reason="tooth\x1b[2J broken"))
        assert journal.marks[0].reason == "tooth[2J broken"


def test_a_finished_log_can_still_be_taken_back(folder: Path, log_header: dict[str, Any], begun: Any) -> None:
    with Journal.create(folder, log_header, started=begun) as journal:
        journal.append(Mark(seq=1, at=begun, did=Did.FINISHED))
    with Journal.open(journal.path) as again:
        again.append(Mark(seq=2, at=begun, did=Did.TOOK_BACK, of=1))
    assert str(read_log(journal.path).state) == "interrupted"


def test_a_second_writer_is_told_who_and_since_when(folder: Path, log_header: dict[str, Any], begun: Any) -> None:
    with Journal.create(folder, log_header, started=begun) as journal:
        with pytest.raises(LockHeld, match=r"held by process \d+ on .* since \d{4}-") as held:
            Journal.open(journal.path)
        assert held.value.code == 3
        assert read_log(journal.path).marks == ()
    Journal.open(journal.path).close()


@pytest.mark.parametrize("what", ["missing", "folder"])
def test_no_log_leaves_no_lock(what: str, tmp_path: Path) -> None:
    path = tmp_path / "log.toml"
    if what == "folder":
        path.mkdir()
    before = names(tmp_path)
    with pytest.raises(Refusal, match="no such log" if what == "missing" else "not a regular file"):
        Journal.open(path)
    assert names(tmp_path) == before


def test_links_are_not_written_through(tmp_path: Path, log_bytes: LogBytes) -> None:
    outside = tmp_path / "outside.txt"
    outside.write_text("mine\n")
    till = tmp_path / "till"
    till.mkdir()
    (till / "linked.toml").symlink_to(outside)
    with pytest.raises(Refusal, match="not a regular file"):
        Journal.open(till / "linked.toml")
    (till / "log.toml").write_bytes(log_bytes(1))
    (till / "log.toml.lock").symlink_to(outside)
    with pytest.raises(JournalFault, match="it is a link to something else"):
        Journal.open(till / "log.toml")
    (till / "log.toml.lock").unlink()
    (till / "log.toml.lock").hardlink_to(outside)
    Journal.open(till / "log.toml").close()
    assert outside.read_text() == "mine\n"


def test_what_a_killed_program_left_half_made_is_not_in_the_way(
    folder: Path, log_header: dict[str, Any], begun: Any
) -> None:
    with Journal.create(folder, log_header, started=begun) as journal:
        pass
    half_made = journal.path.with_name(f".{journal.path.name}.new")
    journal.path.rename(half_made)
    with Journal.create(folder, log_header, started=begun) as again:
        assert again.path == journal.path
    assert names(folder) == [journal.path.name]
