"""Marks read line by line, and headers read in parts: the same values as by the whole of TOML, or left to it."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.log.crc_seals import cleaned, key_line
from session.log.header_parts import header_values
from session.log.log_bytes import make_header
from session.log.mark_block import HEAD, encode
from session.log.plain_lines import plain_values
from session.machine.untrusted_text import ReadingError
from session.walk.mark import Mark

WORDS = st.text(max_size=12)

ZONES = st.integers(-23 * 60, 23 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))

TIMES = st.datetimes(timezones=ZONES).map(datetime.isoformat)

#: What may stand behind the sign of equality, be it TOML or not.
WRITTEN = st.one_of(
    WORDS.map(lambda word: f'"{word}"'),
    st.integers().map(str),
    st.floats(allow_nan=False).map(repr),
    st.sampled_from(["true", "false", "-0", "00", "1_000", "0x1f", "1.", ".5", "inf", "''", '""', "[]", "{a = 1}"]),
    TIMES,
    st.sampled_from(["2026-02-30T09:00:00Z", "2026-03-07T09:00:00", "2026-03-07 09:00:00Z", "2026-03-07T24:00:00Z"]),
)


def by_toml(text: str) -> dict[str, Any] | None:
    try:
        found = tomllib.loads(text)
    except ValueError:
        return None
    values: dict[str, Any] = found["mark"][0]
    return values


@given(st.lists(st.tuples(st.sampled_from(["seq", "at", "reason", "value", "Odd"]), WRITTEN), max_size=4))
def test_what_is_read_line_by_line_is_what_toml_reads(lines: list[tuple[str, str]]) -> None:
    text = HEAD.decode() + "".join(f"{key} = {value}\n" for key, value in lines)
    found = plain_values(text)
    if found is not None:
        assert repr(found) == repr(by_toml(text)).replace("datetime.timezone(datetime.timedelta(0))", repr(UTC))


#: Tables and lists as the summary of a log is written, and what TOML has besides.
PLAIN = st.one_of(
    WORDS.filter(lambda word: word.isprintable() and not {*word} & {*'"\\'}),
    st.integers(-(10**17), 10**17),
    st.floats(-1e6, 1e6).map(lambda number: round(number, 3)),
    st.booleans(),
)
KEYS = st.text("ab1 -é.=", min_size=1, max_size=4)
NESTED = st.recursive(PLAIN, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3))


@given(NESTED, st.lists(st.tuples(st.integers(0, 80), st.sampled_from([*"[]{},= \"'1aT:", "", ", "])), max_size=2))
def test_a_table_on_a_line_is_what_toml_reads(value: Any, spoiled: list[tuple[int, str]]) -> None:
    line = key_line("summary", {"told": value})
    for at, sign in spoiled:
        line = line[: 10 + at] + sign + line[11 + at :]
    text = f"{HEAD.decode()}{line}\n"
    found = plain_values(text)
    if found is not None:
        assert repr(found) == repr(by_toml(text))


@given(st.dictionaries(KEYS, PLAIN, max_size=4))
def test_a_summary_needs_no_more(values: dict[str, Any]) -> None:
    text = f"{HEAD.decode()}{key_line('summary', {'line': values, 'low': [], 'files': [values, {}]})}\n"
    assert plain_values(text) == by_toml(text) == {"summary": {"line": values, "low": [], "files": [values, {}]}}


@pytest.mark.parametrize(
    "written",
    [
        "{a = 1, a = 2}",
        '{a = 1, "a" = 2}',
        "{a.b = 1}",
        "{a = 1,}",
        "[1,, 2]",
        "[1 2]",
        "[,]",
        "{a = 1} ",
        "{a = [1}",
        "[[[[[[[[[1]]]]]]]]]",
        "{a = nan}",
        "{a = 2026-02-30T09:00:00Z}",
        "{a = 01}",
        "{",
        "[1]]",
        "{1}",
        "[a = 1]",
    ],
)
def test_any_other_table_is_left_to_toml(written: str) -> None:
    assert plain_values(f"{HEAD.decode()}summary = {written}\n") is None


def test_a_mark_as_this_program_writes_it_needs_no_more(filing: Callable[..., Mark]) -> None:
    block, _ = encode(filing(3, reason="low – the second", value=1.5))
    assert plain_values(block.decode()) == by_toml(block.decode())


@pytest.mark.parametrize("line", ['reason = "a \\" b"', "note = 'bare'", "value = 1e5", "tags = [0x1]", "", "# said"])
def test_anything_else_is_left_to_toml(filing: Callable[..., Mark], line: str) -> None:
    block = encode(filing(3))[0].decode()
    assert plain_values(block.replace("seq = 3\n", f"seq = 3\n{line}\n")) is None


def test_a_header_in_parts_is_the_header(log_header: dict[str, Any]) -> None:
    text = make_header(log_header).decode()
    assert header_values(text) == tomllib.loads(text)
    assert list(header_values(text)) == list(tomllib.loads(text))


@pytest.mark.parametrize(
    "spoiled",
    [
        lambda text: text.replace("[session]", 'words = """\n[recipe]\n"""\n[session]', 1),
        lambda text: text.replace("[plan]", "[session.more]\na = 1\n[plan]", 1),
        lambda text: text.replace("[plan]", "[recipe]\n[plan]", 1),
        lambda text: text.replace("[recipe]", "recipe = 1\n[recipe]", 1),
        lambda text: text.replace("[seal]", "[seal]\nmore = 1", 1),
        lambda text: text + "more = 1\n",
    ],
)
def test_one_that_cannot_be_cut_is_read_whole(log_header: dict[str, Any], spoiled: Callable[[str], str]) -> None:
    text = spoiled(make_header(log_header).decode())
    try:
        whole = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        with pytest.raises(ReadingError, match="not TOML"):
            header_values(text)
    else:
        assert header_values(text) == cleaned(whole)
