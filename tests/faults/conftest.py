from __future__ import annotations

import errno
import functools
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from gated_disk import GatedDisk, T
from session.log import log_bytes
from session.log.log_bytes import make_header
from session.log.mark_block import decode, encode
from session.walk.mark import Did, Mark
from session.walk.stages import Stage

BEGUN = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)
HEADER: dict[str, Any] = {
    "session": {"started": BEGUN, "program": "toothline 0.1.0", "saw": "Boat-shed rip"},
    "recipe": {"format": 1, "saw": {"name": "Boat-shed rip", "kind": "rip"}, "teeth": {"rake": 4.0}},
    "plan": {"stages": ["file", "close"], "points": 127},
}


def make_mark(seq: int, **fields: Any) -> Mark:
    usual: dict[str, Any] = {"did": Did.DONE, "stage": Stage.FILE, "side": 1, "tooth": seq, "strokes": 2, "by": "key"}
    return Mark(**{"seq": seq, "at": BEGUN + timedelta(seconds=9 * seq), **usual, **fields})


class FaultyDisk(GatedDisk):
    """Counts the calls and makes the ``fail_at``-th of them (from 1; 0 for none) go wrong.

    how: "refused" raises before anything happens; "half" takes half of a write and says so, or refuses what is
    no write; "done but failed" does the call and then raises; "dead" refuses this call and every later one.
    """

    def __init__(self, fail_at: int, how: str, number: int = errno.EIO) -> None:
        self.fail_at, self.how, self.number = fail_at, how, number
        self.calls = 0

    def gate(self, call: str, act: Callable[[], T], half: Callable[[], T] | None = None) -> T:
        self.calls += 1
        hit = self.calls == self.fail_at or (self.how == "dead" and 0 < self.fail_at < self.calls)
        if not hit:
            return act()
        if self.how == "half" and half is not None:
            return half()
        if self.how == "done but failed":
            result = act()
            if call == "open" and isinstance(result, int):
                self.close(result)
        raise OSError(self.number, "made to fail")


@pytest.fixture
def mark() -> Callable[..., Mark]:
    return make_mark


@pytest.fixture
def header() -> dict[str, Any]:
    return HEADER


@pytest.fixture
def begun() -> datetime:
    return BEGUN


@pytest.fixture
def faulty_disk() -> type[FaultyDisk]:
    return FaultyDisk


@pytest.fixture
def log_parts() -> Callable[[int], list[bytes]]:
    """The header and the blocks of a log of so many marks."""

    def parts(count: int) -> list[bytes]:
        return [make_header(HEADER), *(encode(make_mark(seq))[0] for seq in range(1, count + 1))]

    return parts


@pytest.fixture
def quick_decoding(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The same blocks are decoded many thousand times; what is tried is which of them are taken."""
    remembered = functools.lru_cache(maxsize=4096)(decode)
    monkeypatch.setattr(log_bytes, "decode", remembered)
    yield
    assert remembered.cache_info().hits > 0
