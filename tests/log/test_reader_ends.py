from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from law_budget import examples
from session.log.log_bytes import MOST_BYTES, make_header
from session.log.log_reader import is_log, read_ends, read_log
from session.log.mark_block import encode
from session.machine.disk import Disk
from session.machine.refusal import Refusal
from session.walk.mark import Mark

LogBytes = Callable[[int], bytes]


@given(marks=st.integers(0, 12), cut=st.integers(0, 400))
@examples(80, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_the_ends_agree_with_the_whole(marks: int, cut: int, log_bytes: LogBytes, tmp_path: Path) -> None:
    path = tmp_path / "log.toml"
    data = log_bytes(marks)
    path.write_bytes(data[: max(len(log_bytes(0)), len(data) - cut)])
    whole, ends = read_log(path), read_ends(path)
    assert ends.last == (whole.marks[-1] if whole.marks else None)
    assert (ends.header, ends.torn_bytes, ends.state, ends.odd) == (
        whole.header,
        whole.torn_bytes,
        whole.state,
        whole.odd,
    )


def test_a_long_log_is_read_at_its_ends_only(
    tmp_path: Path, log_bytes: LogBytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "log.toml"
    path.write_bytes(log_bytes(3000))
    taken = []

    def counted(self: Disk, fd: int, most: int, offset: int) -> bytes:
        taken.append(most)
        return os.pread(fd, most, offset)

    monkeypatch.setattr(Disk, "read", counted)
    ends = read_ends(path)
    assert ends.last is not None
    assert ends.last.seq == 3000
    assert sum(taken) < path.stat().st_size / 4


def test_a_last_block_longer_than_the_first_look(
    tmp_path: Path, log_header: dict[str, Any], filing: Callable[..., Mark]
) -> None:
    long = filing(2, extra={f"note{number}": "x" * 3900 for number in range(15)})
    path = tmp_path / "log.toml"
    path.write_bytes(make_header(log_header) + encode(filing(1))[0] + encode(long)[0])
    assert read_ends(path).last == long


def test_a_header_longer_than_the_first_look(tmp_path: Path, log_header: dict[str, Any], filing: Any) -> None:
    log_header["plan"]["places"] = list(range(10_000))
    path = tmp_path / "log.toml"
    path.write_bytes(make_header(log_header) + encode(filing(1))[0])
    ends = read_ends(path)
    assert (ends.last, ends.odd) == (filing(1), None)


@pytest.mark.parametrize("tail", [b"# by hand\n", b"\r\n", b'\n[[mark]]\nseq = 9\ncrc = "00000000"\n'])
def test_an_odd_end_is_told_with_its_byte(tail: bytes, tmp_path: Path, log_bytes: LogBytes) -> None:
    path = tmp_path / "log.toml"
    path.write_bytes(log_bytes(400) + tail)
    assert read_ends(path).odd == read_log(path).odd is not None


def test_what_is_no_file_is_refused_in_one_line(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    big = tmp_path / "big.toml"
    with big.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    for path in (tmp_path, tmp_path / "pipe", big, tmp_path / "none", Path("/dev/zero"), tmp_path / ("x" * 300)):
        for read in (read_log, read_ends):
            with pytest.raises(Refusal) as refused:
                read(path)
            assert "\n" not in str(refused.value)
        assert not is_log(path)


def test_a_log_is_told_from_a_recipe(tmp_path: Path, log_bytes: LogBytes) -> None:
    path = tmp_path / "x.toml"
    for data, is_one in [
        (log_bytes(2), True),
        (log_bytes(2).replace(b"\n", b"\r\n"), True),
        (b'format = 1\n[saw]\nname = "Netloft"\n', False),
        (b"", False),
    ]:
        path.write_bytes(data)
        assert is_log(path) is is_one
