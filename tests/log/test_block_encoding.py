from __future__ import annotations

import re
import tomllib
import zlib
from datetime import UTC, datetime, timedelta, timezone
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from session.log.crc_seals import CodecError
from session.log.mark_block import decode, encode, is_torn, whole_block
from session.machine.clean_text import clean
from session.walk.mark import KEYS, Did, Mark
from session.walk.stages import Stage

AT = datetime(2026, 3, 7, 9, 0, 0, 250_000, tzinfo=timezone(timedelta(hours=1)))

texts = st.text(max_size=60)
scalars = st.one_of(
    st.booleans(),
    st.integers(-(2**63), 2**63 - 1),
    st.floats(allow_nan=False),
    texts,
    st.datetimes(timezones=st.just(UTC)),
)
values = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts.map(clean), inner, max_size=3),
    max_leaves=6,
)
extras = st.dictionaries(
    texts.map(clean).filter(lambda key: key not in (*KEYS, "crc")),
    values,
    max_size=4,
)


def cleaned(value: Any) -> Any:
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, list):
        return [cleaned(inner) for inner in value]
    return {key: cleaned(inner) for key, inner in value.items()} if isinstance(value, dict) else value


def test_a_block_is_exactly_what_the_format_says() -> None:
    mark = Mark(seq=3, at=AT, did=Did.DONE, stage=Stage.FILE, side=1, tooth=47, strokes=2, by="key")
    data, _ = encode(mark)
    body = (
        b"\n[[mark]]\nseq = 3\nat = 2026-03-07 09:00:00.250000+01:00\n"
        b'did = "done"\nstage = "file"\nside = 1\ntooth = 47\nstrokes = 2\nby = "key"\n'
    )
    assert data == body + f'crc = "{zlib.crc32(body):08x}"\n'.encode()


@given(
    reason=texts, entered=texts, extra=extras, value=st.none() | texts | st.integers(-(2**40), 2**40) | st.booleans()
)
def test_every_block_reads_back_as_its_mark_one_line_a_key(reason: str, entered: str, extra: Any, value: Any) -> None:
    mark = Mark(seq=1, at=AT, did=Did.MEASURED, reason=reason, entered=entered, value=value, extra=extra)
    data, told = encode(mark)
    assert told == decode(data)
    assert (told.reason, told.entered) == (clean(reason), clean(entered))
    assert dict(told.extra) == cleaned(extra)
    assert told.value == (clean(value) if isinstance(value, str) else value)
    lines = data.decode().split("\n")
    assert lines[:2] == ["", "[[mark]]"]
    assert len(lines) == len(told.to_dict()) + 4  # the empty line, the head, the crc line, and what follows its end
    assert lines[-1] == ""
    # A second, independent parser gives the same values.
    assert tomlkit.parse(data.decode()).unwrap() == tomllib.loads(data.decode())
    block = whole_block(data, 0)
    assert block is not None
    assert block.end == len(data)


@given(seq=st.integers(1, 10**6), at=st.datetimes(timezones=st.timezones()), tooth=st.integers(1, 3000))
def test_times_of_any_zone_keep_their_instant(seq: int, at: datetime, tooth: int) -> None:
    mark = Mark(seq=seq, at=at, did=Did.DONE, stage=Stage.FILE, side=1, tooth=tooth)
    offset = at.utcoffset()
    assert offset is not None
    try:
        data, told = encode(mark)
    except CodecError:
        # TOML has no offsets with seconds, which zones had before standard time.
        assert offset.total_seconds() % 60
        return
    assert told.at.replace(tzinfo=None) == at.replace(tzinfo=None)
    assert told.at.utcoffset() == offset
    assert decode(data) == told


def test_a_time_in_the_doubled_hour_of_autumn_is_written() -> None:
    at = datetime(2026, 10, 25, 2, 30, tzinfo=ZoneInfo("Europe/Berlin"), fold=1)
    assert encode(Mark(seq=1, at=at, did=Did.PAUSED))[1].at.utcoffset() == timedelta(hours=1)


def test_text_that_looks_like_the_format_stays_inside_its_line() -> None:
    text = '\n[[mark]]\nseq = 2\ncrc = "00000000"\n'
    data, told = encode(Mark(seq=1, at=AT, did=Did.FLAGGED, reason=text))
    assert told.reason == clean(text)
    assert len(re.findall(rb"^\[\[mark\]\]", data, re.MULTILINE)) == 1
    cut = data[: -len('crc = "xxxxxxxx"\n')]
    assert is_torn(cut)
    assert whole_block(cut, 0) is None


@pytest.mark.parametrize(
    "fields",
    [
        {"value": float("nan")},
        {"value": 2**63},
        {"extra": {"crc": "00000000"}},
        {"extra": {"seq": 9}},
        {"extra": {"later": None}},
        {"extra": {"later": object()}},
        {"reason": "x" * 5000},
        {"at": datetime(2026, 3, 7, 9, 0)},
    ],
    # Named by hand: the text of an object holds an address, and every run would name the test anew.
    ids=["nan", "too large", "a crc", "a second seq", "nothing", "no value", "too long", "no offset"],
)
def test_what_would_not_be_read_back_is_refused(fields: dict[str, Any]) -> None:
    with pytest.raises(CodecError, match=r"."):
        encode(Mark(**{"seq": 1, "at": AT, "did": Did.DONE, **fields}))


def test_nesting_without_end_is_refused() -> None:
    deep: list[Any] = []
    for _ in range(5000):
        deep = [deep]
    with pytest.raises(CodecError, match="nested too deep"):
        encode(Mark(seq=1, at=AT, did=Did.DONE, extra={"later": deep}))


@pytest.mark.parametrize(
    ("tail", "torn"),
    [
        (b"\n", True),
        (b"\n[[ma", True),
        (b"\n[[mark]]\n", True),
        (b"\n[[mark]]\nseq = 1\ndi", True),
        (b"\0" * 700, True),
        (b"\n[[mark]]\nseq = 1\n\0\0\0", True),
        (b"\n[[mark]]\nseq = 1\n\n[[mark]]\nseq = 2\n", False),
        (b'\n[[mark]]\nseq = 1\ncrc = "00000000"\n', False),
        (b'\0\0\0\n[[mark]]\nseq = 1\ncrc = "00000000"\n', False),
        (b"\r\n[[mark]]\r\nseq = 1\r\n", False),
        (b"# a note by hand\n", False),
        (b"\n\n[[mark]]\n", False),
    ],
)
def test_which_tails_are_torn(tail: bytes, torn: bool) -> None:
    assert is_torn(tail) is torn
