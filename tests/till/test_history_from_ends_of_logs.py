"""A saw's history from the ends of its logs: their summaries tell what their marks tell, and little is read."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from made_history import (
    DAY0,
    SAW,
    filed,
    header_of,
    leveled,
    measured,
    numbered,
    proved,
    told,
    write_log,
)
from session.log import log_reader
from session.log.log_bytes import LogFile, make_header
from session.log.mark_block import decode, encode
from session.log.summary import closing, summary_of
from session.machine.disk import Disk
from session.till import past_sharpening
from session.till.saw_history import history
from session.till.till_folder import Till
from session.walk.account import Account
from session.walk.mark import Did, Mark
from session.walk.stages import Stage


def test_a_till_of_finished_logs_is_listed_from_their_ends(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    logs = 200
    first = write_log(tmp_path, DAY0, filed(500))
    blocks = first.read_bytes()[len(make_header(header_of(DAY0))) :]
    for day in range(1, logs):
        begun = DAY0 + timedelta(days=day)
        (first.parent / f"{begun:%Y-%m-%dT%H-%M-%S}-abcdef.toml").write_bytes(make_header(header_of(begun)) + blocks)
    taken: list[int] = []
    decoded: list[int] = []
    read = Disk.read

    def counted_read(self: Disk, fd: int, most: int, offset: int) -> bytes:
        data = read(self, fd, most, offset)
        taken.append(len(data))
        return data

    def counted_decode(data: bytes) -> Mark:
        decoded.append(len(data))
        return decode(data)

    monkeypatch.setattr(Disk, "read", counted_read)
    monkeypatch.setattr(log_reader, "decode", counted_decode)
    monkeypatch.setattr(past_sharpening, "read_log", lambda path: pytest.fail(f"{path} was read from end to end"))
    found = told(tmp_path)
    assert len(found.finished) == logs
    assert {one.summary.strokes["file"] for one in found.finished} == {1000}
    assert len(decoded) == logs
    # Two looks of 32,000 bytes each, however long the log between them.
    assert len(taken) == 2 * logs
    assert sum(taken) <= logs * 64_000


def test_the_ends_tell_what_the_marks_tell(tmp_path: Path) -> None:
    fields = [
        measured("over the points", 1.2, "mm"),
        measured("broken teeth", "5, 9", "teeth"),
        *leveled([0, 2, 2, 3, 0, 2]),
        *filed(6),
        {"did": Did.LEFT_OUT, "stage": Stage.FILE, "side": 1, "tooth": 7, "reason": "broken"},
        *proved(160.0),
    ]
    path = write_log(tmp_path, DAY0, fields)
    from_ends = past_sharpening.sharpening(log_reader.read_ends(path))
    log = log_reader.read_log(path)
    assert from_ends.summary == summary_of(log)
    assert from_ends.summary.line.low == (1,)
    assert from_ends.summary.line.left_out == {7: "broken"}
    assert (from_ends.summary.line.passes, from_ends.gullets, from_ends.cut_went) == (2, 6, "good")


def test_what_only_the_finished_teach_is_had_without_reading_those_that_have_no_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_log(tmp_path, DAY0, filed(5))
    begun = write_log(tmp_path, DAY0 + timedelta(days=1), filed(3), finished=False)
    odd = write_log(tmp_path, DAY0 + timedelta(days=2), filed(4))
    odd.write_bytes(odd.read_bytes() + b"# a remark\n")
    all_of_them = told(tmp_path)
    assert begun in [one.path for one in all_of_them.sharpenings]

    def read(path: Path) -> LogFile:
        assert path != begun, "the log without an end was read from end to end"
        return log_reader.read_log(path)

    monkeypatch.setattr(past_sharpening, "read_log", read)
    finished = history([Till(tmp_path)], SAW, unfinished=False)
    assert finished.finished == all_of_them.finished != ()
    assert finished.unread == all_of_them.unread != ()
    assert [one.path for one in finished.sharpenings if one.path == begun] == []


def test_a_summary_that_makes_no_sense_is_counted_again(tmp_path: Path) -> None:
    path = write_log(tmp_path, DAY0, filed(3), finished=False)
    for number, wrong in enumerate([{"done": {"file": -1}, "line": {}}, {"line": 4}, {"first": "x", "line": {}}], 1):
        end = Mark(seq=4, at=DAY0 + timedelta(minutes=number), did=Did.FINISHED, extra={"summary": wrong})
        copy = path.with_name(f"wrong-{number}.toml")
        copy.write_bytes(path.read_bytes() + encode(end)[0])
        assert past_sharpening.sharpening(log_reader.read_ends(copy)).gullets == 3


def test_the_end_of_a_log_never_fails_for_its_length() -> None:
    long = [measured(f"thing {number}", "x" * 300) for number in range(40)]
    marks = numbered(long, DAY0)
    end = closing(Account.of(marks), Mark(seq=len(marks) + 1, at=DAY0 + timedelta(hours=1), did=Did.FINISHED))
    _, read_back = encode(end)
    assert read_back.extra["summary"]["short"] is True
    assert read_back.extra["summary"]["marks"] == 41


def test_low_teeth_are_named_up_to_a_number_and_counted(tmp_path: Path) -> None:
    write_log(tmp_path, DAY0, leveled([0] * 100 + [2] * 3))
    line = told(tmp_path).finished[0].summary.line
    assert line.low == tuple(range(1, 61))
    assert line.low_count == 100
