from __future__ import annotations

import tomllib
import zlib
from collections.abc import Callable
from typing import Any

import pytest
import tomlkit

from session.log.crc_seals import CodecError, seal
from session.log.log_bytes import LogStanding, make_header, read_header, read_log_bytes
from session.log.mark_block import HEAD, encode
from session.walk.mark import Did, Mark

Filing = Callable[..., Mark]
LogBytes = Callable[[int], bytes]


def sealed_header(text: str) -> bytes:
    body = text.encode() + b"\n[seal]\n"
    return body + seal(body)


def test_a_header_is_sealed_over_every_byte_before_the_crc_line(log_header: dict[str, Any]) -> None:
    data = make_header(log_header)
    at = data.rindex(b"crc = ")
    assert data[at:] == f'crc = "{zlib.crc32(data[:at]):08x}"\n'.encode()
    assert data[:at].endswith(b"\n[seal]\n")
    assert data.startswith(b"format = 1\n")
    read = read_header(data)
    assert read.odd is None
    assert read.end == len(data)
    assert read.values == {"format": 1, **log_header, "seal": {"crc": data[at + 7 : at + 15].decode()}}
    assert tomlkit.parse(data.decode()).unwrap() == read.values


@pytest.mark.parametrize(
    "values",
    [{"seal": {}}, {"mark": []}, {"plan": {"value": None}}, {"plan": {"value": 2**64}}, {"plan": {"text": "x" * 5000}}],
    ids=str,
)
def test_a_header_that_would_not_be_read_back_is_refused(values: dict[str, Any]) -> None:
    with pytest.raises(CodecError, match="the header cannot be written"):
        make_header(values)


def test_a_header_text_that_looks_like_a_seal_is_not_one(log_header: dict[str, Any]) -> None:
    log_header["session"]["saw"] = '\n[seal]\ncrc = "00000000"\n'
    data = make_header(log_header)
    assert read_header(data).end == len(data)


def test_a_log_is_toml_and_reads_as_its_marks(log_bytes: LogBytes, filing: Filing) -> None:
    data = log_bytes(30)
    log = read_log_bytes(data)
    assert log.marks == tuple(filing(seq) for seq in range(1, 31))
    assert (log.end, log.torn_bytes, log.odd, log.state) == (len(data), 0, None, LogStanding.INTERRUPTED)
    told = tomllib.loads(data.decode())
    assert tomlkit.parse(data.decode()).unwrap() == told
    for values in told["mark"]:
        del values["crc"]
    assert [Mark.from_dict(values) for values in told["mark"]] == list(log.marks)


def test_finished_is_what_ends_in_finished(log_bytes: LogBytes, filing: Filing, begun: Any) -> None:
    ended = log_bytes(3) + encode(Mark(seq=4, at=begun, did=Did.FINISHED))[0]
    assert read_log_bytes(ended).state is LogStanding.FINISHED
    assert read_log_bytes(ended + b"\n[[mark]]\nse").state is LogStanding.FINISHED
    undone = ended + encode(Mark(seq=5, at=begun, did=Did.TOOK_BACK, of=3))[0]
    assert read_log_bytes(undone).state is LogStanding.INTERRUPTED


def test_unknown_keys_of_header_and_marks_are_kept(log_header: dict[str, Any], filing: Filing) -> None:
    log_header["session"]["bench"] = "by the window"
    log_header["weather"] = {"damp": True}
    data = make_header(log_header) + encode(filing(1, extra={"angle": 14.5, "tags": ["a", "b"]}))[0]
    log = read_log_bytes(data)
    assert log.header["weather"] == {"damp": True}
    assert log.header["session"]["bench"] == "by the window"
    assert log.marks[0].extra == {"angle": 14.5, "tags": ["a", "b"]}


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("format = 2\n", "format 2 is of a later version"),
        ("format = 0\n", "does not say its format"),
        ("format = true\n", "does not say its format"),
        ('format = "1"\n', "does not say its format"),
        ("[session]\n", "does not say its format"),
        ("format = 1\nsession = 3\n", "session is not a table"),
        ("format = 1\nplan = []\n", "plan is not a table"),
        ("format = 0x" + "f" * 40 + "\n", "more than 64 bits"),
        ("format = [[[\n", "cannot be read"),
        ("format = " + "[\n" * 3000 + "]\n" * 3000, "nested too deep"),
        ("a" + ".a" * 200 + " = 1\n", "a key of many parts"),
    ],
    ids=lambda text: text[:24],
)
def test_a_sealed_header_that_cannot_be_gone_on_with(text: str, reason: str) -> None:
    log = read_log_bytes(sealed_header(text))
    assert log.odd is not None
    assert reason in str(log.odd)
    assert log.state is LogStanding.READ_ONLY


def test_an_edited_header_is_shown_with_its_marks_for_reading_only(log_bytes: LogBytes) -> None:
    data = log_bytes(5).replace(b"Netloft", b"NETLOFT", 1)
    log = read_log_bytes(data)
    assert log.odd is not None
    assert "header does not agree with its seal" in log.odd.reason
    assert log.header["session"]["saw"] == "NETLOFT panel saw"
    assert len(log.marks) == 5


def test_crlf_is_named_with_its_first_byte(log_bytes: LogBytes) -> None:
    data = log_bytes(5).replace(b"\n", b"\r\n")
    log = read_log_bytes(data)
    assert log.odd is not None
    assert "CRLF" in log.odd.reason
    assert log.odd.byte == data.index(b"\r")
    assert log.header["session"]["saw"] == "Netloft panel saw"
    assert (log.marks, log.torn_bytes) == ((), 0)


def test_crlf_in_the_marks_only(log_bytes: LogBytes) -> None:
    whole, head = log_bytes(5), log_bytes(2)
    log = read_log_bytes(head + whole[len(head) :].replace(b"\n", b"\r\n"))
    assert log.odd is not None
    assert "CRLF" in log.odd.reason
    assert log.odd.byte == len(head)
    assert len(log.marks) == 2


@pytest.mark.parametrize("change", ["edited", "doubled", "removed", "swapped", "nul", "comment"])
def test_what_was_changed_by_hand_is_read_up_to_the_change(change: str, log_bytes: LogBytes, filing: Filing) -> None:
    head = log_bytes(0)
    blocks = [encode(filing(seq))[0] for seq in range(1, 11)]
    whole = 4
    if change == "edited":
        blocks[4] = blocks[4].replace(b"strokes = 2", b"strokes = 3")
    elif change == "doubled":
        blocks.insert(4, blocks[3])
    elif change == "removed":
        del blocks[4]
    elif change == "swapped":
        blocks[4], blocks[5] = blocks[5], blocks[4]
    elif change == "nul":
        blocks[4] = blocks[4][:30] + b"\0" * 9 + blocks[4][39:]
    else:
        blocks[4] = b"# noted by hand\n" + blocks[4]
    log = read_log_bytes(head + b"".join(blocks))
    assert log.marks == tuple(filing(seq) for seq in range(1, whole + 1))
    assert log.odd is not None
    assert log.odd.byte == len(head) + sum(map(len, blocks[:whole]))
    assert (log.torn_bytes, log.state) == (0, LogStanding.READ_ONLY)


@pytest.mark.parametrize(
    "body",
    [
        b'seq = 1\nat = 2026-03-07T09:00:00Z\ndid = ""\n',
        b'seq = 1\nat = 2026-03-07T09:00:00\ndid = "done"\n',
        b'seq = 1\ndid = "done"\n',
        b'seq = true\nat = 2026-03-07T09:00:00Z\ndid = "done"\n',
        b'seq = 1\nat = 2026-03-07T09:00:00Z\ndid = "done"\nvalue = 0x' + b"f" * 5000 + b"\n",
        b'seq = 1\nat = 2026-03-07T09:00:00Z\ndid = "done"\n[other]\n',
        b"\xff\xfe\n",
        b"not toml\n",
    ],
)
def test_a_sealed_block_that_is_not_understood_is_named(body: bytes, log_bytes: LogBytes) -> None:
    block = HEAD + body
    log = read_log_bytes(log_bytes(0) + block + seal(block))
    assert log.odd is not None
    assert "does not understand" in log.odd.reason
    assert (log.odd.byte, log.marks) == (len(log_bytes(0)), ())


def test_controls_in_a_sealed_log_do_not_reach_the_terminal() -> None:
    block = HEAD + b'seq = 1\nat = 2026-03-07T09:00:00Z\ndid = "done"\nreason = "\\u001b[31mred\\u202e"\n'
    header = sealed_header('format = 1\n[session]\nsaw = "\\u001b]0;title\\u0007saw"\n')
    log = read_log_bytes(header + block + seal(block))
    assert log.marks[0].reason == "[31mred"
    assert log.header["session"]["saw"] == "]0;titlesaw"


def test_an_empty_file_is_odd() -> None:
    assert str(read_log_bytes(b"").odd) == "the file is empty (byte 0)"
