"""Damage to a log: no whole mark is lost by it, no torn one accepted, and what was edited is left alone."""

from __future__ import annotations

import random
from collections.abc import Callable
from itertools import accumulate
from pathlib import Path

import pytest

from session.log.journal import Journal
from session.log.log_bytes import read_log_bytes
from session.log.mark_block import encode
from session.machine.refusal import Refusal
from session.walk.mark import Mark
from soak_table import tried

Parts = Callable[[int], list[bytes]]
Marks = Callable[..., Mark]

SECTOR = 512


def check_cuts(parts: list[bytes], first: int) -> None:
    data = b"".join(parts)
    ends = list(accumulate(map(len, parts)))
    marks = read_log_bytes(data).marks
    assert len(marks) == len(parts) - 1
    for cut in range(first, len(data) + 1):
        tried()
        log = read_log_bytes(data[:cut])
        whole = sum(end <= cut for end in ends) - 1
        if whole < 0:
            assert (log.marks, str(log.state), log.torn_bytes) == ((), "read only", 0)
        else:
            assert log.marks == marks[:whole]
            assert log.odd is None
            assert log.end == ends[whole]
            assert log.torn_bytes == cut - ends[whole]


@pytest.mark.usefixtures("quick_decoding")
def test_a_log_cut_at_every_byte(log_parts: Parts) -> None:
    check_cuts(log_parts(12), 0)


@pytest.mark.usefixtures("quick_decoding")
def test_a_log_of_500_marks_cut_at_every_byte_of_its_last_mark(log_parts: Parts) -> None:
    parts = log_parts(500)
    check_cuts(parts, sum(map(len, parts[:-1])))


@pytest.mark.soak("a log cut at every byte")
@pytest.mark.usefixtures("quick_decoding")
def test_a_log_of_500_marks_cut_at_every_byte(log_parts: Parts) -> None:
    check_cuts(log_parts(500), 0)


def test_a_cut_log_is_gone_on_with_from_its_last_whole_mark(log_parts: Parts, mark: Marks, tmp_path: Path) -> None:
    parts = log_parts(4)
    data, whole = b"".join(parts), b"".join(parts[:4])
    path = tmp_path / "log.toml"
    for cut in range(len(whole), len(data)):
        path.write_bytes(data[:cut])
        with Journal.open(path) as journal:
            assert journal.marks == tuple(mark(seq) for seq in (1, 2, 3))
            torn = journal.torn
            assert (torn.data if torn else b"") == data[len(whole) : cut]
            journal.append(mark(4))
        assert path.read_bytes() == data


@pytest.mark.parametrize("count", [12, pytest.param(500, marks=pytest.mark.soak("a log with a bit flipped"))])
@pytest.mark.usefixtures("quick_decoding")
def test_each_bit_of_the_last_mark_flipped(count: int, log_parts: Parts, mark: Marks) -> None:
    parts = log_parts(count)
    before, last = b"".join(parts[:-1]), parts[-1]
    kept = tuple(mark(seq) for seq in range(1, count))
    for bit in range(len(last) * 8):
        tried()
        flipped = bytearray(last)
        flipped[bit // 8] ^= 1 << bit % 8
        log = read_log_bytes(before + flipped)
        assert log.marks == kept
        assert log.odd is not None or log.torn_bytes == len(last)


def test_an_edited_or_flipped_log_that_is_not_torn_is_left_untouched(log_parts: Parts, tmp_path: Path) -> None:
    parts = log_parts(3)
    before, last = b"".join(parts[:-1]), parts[-1]
    path = tmp_path / "log.toml"
    refused = 0
    for place in range(len(last)):
        data = before + last[:place] + bytes([last[place] ^ 1]) + last[place + 1 :]
        path.write_bytes(data)
        if read_log_bytes(data).odd is None:
            continue
        with pytest.raises(Refusal, match="it can be looked at, not gone on with"):
            Journal.open(path)
        assert path.read_bytes() == data
        assert [file.name for file in tmp_path.iterdir()] == ["log.toml"]
        refused += 1
    assert refused > len(last) / 2


def check_tears(parts: list[bytes], mark: Marks, tears: int, seed: int) -> None:
    """Of the sectors that a write touches, some reach the disk and the others hold zeros or old bytes."""
    chance = random.Random(seed)
    outcomes = {"kept": 0, "torn": 0, "read only": 0}
    for _ in range(tears):
        tried()
        count = chance.randrange(5, len(parts))
        before = b"".join(parts[:count])
        # Up to 2,000 letters, so that a block lies in one sector or in several.
        written = encode(mark(count, reason="x" * chance.choice((0, 0, 300, 900, 2000))))[0]
        after = bytearray(before + written)
        for start in range(len(before) // SECTOR * SECTOR, len(after), SECTOR):
            begin, end = max(start, len(before)), min(start + SECTOR, len(after))
            kind = chance.choice(("written", "zeros", "stale", "garbage"))
            if kind == "zeros":
                after[begin:end] = bytes(end - begin)
            elif kind == "stale":
                # What lay there before is older: were it the very bytes that belong there, nothing would be torn.
                at = chance.randrange(len(before) - SECTOR)
                after[begin:end] = before[at : at + end - begin]
            elif kind == "garbage":
                after[begin:end] = chance.randbytes(end - begin)
        if chance.random() < 0.3:
            del after[chance.randrange(len(before), len(after) + 1) :]
        log = read_log_bytes(bytes(after))
        assert log.marks[: count - 1] == tuple(mark(seq) for seq in range(1, count))
        if bytes(after) == before + written:
            assert len(log.marks) == count
            outcomes["kept"] += 1
        else:
            assert len(log.marks) == count - 1
            outcomes["torn" if log.odd is None else "read only"] += 1
    assert all(outcomes.values()), outcomes


@pytest.mark.usefixtures("quick_decoding")
def test_random_sector_tears(log_parts: Parts, mark: Marks) -> None:
    check_tears(log_parts(40), mark, 400, seed=1)


@pytest.mark.soak("a log with torn sectors")
@pytest.mark.usefixtures("quick_decoding")
def test_twenty_thousand_random_sector_tears(log_parts: Parts, mark: Marks) -> None:
    check_tears(log_parts(40), mark, 20_000, seed=2)


@pytest.mark.usefixtures("quick_decoding")
def test_every_mark_of_a_log_doubled_or_removed(log_parts: Parts, mark: Marks) -> None:
    parts = log_parts(40)
    for place in range(1, 41):
        doubled = b"".join([*parts[: place + 1], *parts[place:]])
        log = read_log_bytes(doubled)
        assert log.marks == tuple(mark(seq) for seq in range(1, place + 1))
        assert log.odd is not None
        assert log.odd.byte == sum(map(len, parts[: place + 1]))
        removed = read_log_bytes(b"".join([*parts[:place], *parts[place + 1 :]]))
        assert removed.marks == tuple(mark(seq) for seq in range(1, place))
        # Without its last mark a log is a whole log; without another one it has a hole.
        assert (removed.odd is None) is (place == 40)


@pytest.mark.usefixtures("quick_decoding")
def test_a_hole_of_nuls_anywhere_but_at_the_end_is_left_alone(log_parts: Parts, mark: Marks) -> None:
    parts = log_parts(20)
    data = b"".join(parts)
    ends = list(accumulate(map(len, parts)))
    for start in range(ends[0], ends[-2], 7):
        log = read_log_bytes(data[:start] + bytes(11) + data[start + 11 :])
        whole = sum(end <= start for end in ends) - 1
        assert log.marks == tuple(mark(seq) for seq in range(1, whole + 1))
        assert log.odd is not None
        assert log.odd.byte == ends[whole]
