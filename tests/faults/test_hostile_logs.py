"""Bytes from anywhere given as a log: no traceback, nothing written outside, nothing left behind."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from law_budget import examples
from session.log.crc_seals import seal
from session.log.journal import Journal
from session.log.log_bytes import MOST_BYTES, make_header, read_log_bytes
from session.log.log_reader import is_log, read_ends, read_log
from session.log.mark_block import HEAD
from session.log.summary import summary_of
from session.machine.refusal import Refusal
from soak_table import tried

SEALED_HEADER = make_header({"session": {"saw": "Boat-shed rip"}, "recipe": {}, "plan": {}})
PIECES = [
    HEAD,
    b"\n",
    b"\r\n",
    b"\0",
    b"[seal]\n",
    b'crc = "00000000"\n',
    b"seq = 1\n",
    b'did = "done"\n',
    b"[[mark]]\n",
]
PIECES += [b"at = 2026-03-07T09:00:00Z\n", b'"""', b"'''", b"a.b.c = 1\n", b"\xff", b"[recipe]\n", SEALED_HEADER]

bodies = st.lists(st.sampled_from(PIECES) | st.binary(max_size=20), max_size=12).map(b"".join)
blocks = bodies.map(lambda body: HEAD + body + seal(HEAD + body))
headers = st.just(SEALED_HEADER) | bodies.map(lambda body: body + b"\n[seal]\n" + seal(body + b"\n[seal]\n"))
logs = st.binary(max_size=200) | st.tuples(headers, st.lists(blocks | bodies, max_size=4).map(b"".join)).map(b"".join)


def try_as_log(data: bytes) -> None:
    tried()
    with tempfile.TemporaryDirectory() as home:
        path = Path(home) / "till" / "log.toml"
        path.parent.mkdir()
        path.write_bytes(data)
        read = read_log(path)
        ends = read_ends(path)
        assert is_log(path) in (True, False)
        assert all("\n" not in line for line in summary_of(read).lines())
        assert path.read_bytes() == data
        assert (read.state == "read only") is (read.odd is not None)
        assert "\n" not in str(read.odd)
        assert str(read.odd).isprintable()
        if read.odd is None:
            assert (ends.last, ends.torn_bytes) == (read.marks[-1] if read.marks else None, read.torn_bytes)
        kept = [path]
        try:
            with Journal.open(path) as journal:
                assert read.odd is None
                assert journal.marks == read.marks
                assert path.read_bytes() == data[: read.end]
                if journal.torn is not None:
                    assert journal.torn.data == data[read.end :]
                    kept.append(journal.torn.file)
        except Refusal as refused:
            words = str(refused)
            assert read.odd is not None
            assert words.endswith(f"{read.odd}; it can be looked at, not gone on with: toothline show")
            assert path.read_bytes() == data
        assert sorted(path.parent.iterdir()) == sorted(kept)
        assert list(Path(home).iterdir()) == [path.parent]


@given(data=logs)
@examples(100)
def test_any_bytes_as_a_log(data: bytes) -> None:
    try_as_log(data)


@pytest.mark.soak("a log of any bytes")
@given(data=logs)
@settings(max_examples=20_000, deadline=None)
def test_twenty_thousand_logs_of_any_bytes(data: bytes) -> None:
    try_as_log(data)


@given(at=st.integers(0, 2000), gone=st.integers(0, 60), put=st.binary(max_size=60))
@examples(100)
def test_a_real_log_with_any_part_replaced(at: int, gone: int, put: bytes) -> None:
    body = HEAD + b'seq = 1\nat = 2026-03-07T09:00:00Z\ndid = "paused"\n'
    data = SEALED_HEADER + body + seal(body)
    changed = data[:at] + put + data[at + gone :]
    read = read_log_bytes(changed)
    if changed == data:
        assert len(read.marks) == 1
    elif changed.startswith(data):
        assert len(read.marks) == 1
        assert read.odd is not None or read.torn_bytes == len(changed) - len(data)
    elif at >= len(SEALED_HEADER):
        assert read.marks == ()
    else:
        assert read.odd is not None


#: Reads a log within the processor time and memory that are allowed for it: what the plain reader of its language takes
#: for its blocks on this machine, busy as it is, four times, and five seconds.
LIMITED = """
import resource, sys, tomllib
from contextlib import suppress
from pathlib import Path
from time import process_time
from session.log.log_reader import is_log, read_ends, read_log
begun = process_time()
for block in Path(sys.argv[1]).read_bytes().split(b"[[mark]]"):
    with suppress(ValueError):
        tomllib.loads(block.decode("utf-8", "replace"))
least = process_time() - begun
for read in (is_log, read_ends, read_log):
    allowed = int(process_time() + 4 * least) + 5
    resource.setrlimit(resource.RLIMIT_CPU, (allowed, resource.RLIM_INFINITY))
    read(Path(sys.argv[1]))
# What getrusage tells begins with the size of the program that started this one.
(most,) = [int(line.split()[1]) for line in open("/proc/self/status") if line.startswith("VmHWM:")]
assert 5_000 < most < 200 * 1024, most
"""


def numbered(lines: Callable[[int], bytes], most: int) -> bytes:
    made, size = [SEALED_HEADER], len(SEALED_HEADER)
    for seq in range(1, 10**6):
        body = HEAD + lines(seq)
        block = body + seal(body)
        size += len(block)
        if size > most:
            break
        made.append(block)
    return b"".join(made)


def mark_lines(more: bytes) -> Callable[[int], bytes]:
    return lambda seq: b'seq = %d\nat = 2026-03-07T09:00:00Z\ndid = "done"\n' % seq + more


def sealed(header: bytes) -> bytes:
    body = header + b"\n[seal]\n"
    return body + seal(body)


HEAVY: dict[str, Callable[[], bytes]] = {
    "many small marks": lambda: numbered(mark_lines(b""), MOST_BYTES - 10_000),
    "many long lists": lambda: numbered(mark_lines(b"later = [" + b"[]," * 1300 + b"]\n"), MOST_BYTES - 10_000),
    "many tables": lambda: numbered(mark_lines(b"later = [" + b"{a=1}," * 650 + b"]\n"), MOST_BYTES - 10_000),
    "large blocks": lambda: numbered(
        mark_lines(b"".join(b"k%d = [%s]\n" % (n, b"1," * 1900) for n in range(15))), MOST_BYTES - 10_000
    ),
    "dotted header": lambda: sealed(b"\n".join(b".".join([b"a%d" % n] * 29) + b" = 1" for n in range(1600))),
    "lists in the header": lambda: sealed(b"a = [\n" + (b"[]," * 1300 + b"\n") * 48 + b"]\n"),
    "one long run": lambda: b"\n[[mark]]\n" + b"a" * (MOST_BYTES - 100),
    "heads only": lambda: SEALED_HEADER + HEAD * (MOST_BYTES // 11),
    "unsealed heads and seals": lambda: (b'[seal]\ncrc = "00000000"\n' + HEAD) * (MOST_BYTES // 40),
}


@pytest.mark.soak("a log made to be heavy")
@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="the system does not tell a program's own memory")
@pytest.mark.parametrize("what", HEAVY)
def test_no_log_takes_more_than_200_mb_or_four_times_its_plain_reading(what: str, tmp_path: Path) -> None:
    path = tmp_path / "log.toml"
    path.write_bytes(HEAVY[what]())
    done: Any = subprocess.run([sys.executable, "-c", LIMITED, str(path)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-400:]
