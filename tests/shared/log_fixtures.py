"""Parts of a log, as fixtures: a header, marks of filing, and their bytes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from session.log.log_bytes import make_header
from session.log.mark_block import encode
from session.walk.mark import Did, Mark
from session.walk.stages import Stage

BEGUN = datetime(2026, 3, 7, 9, 0, tzinfo=UTC)


@pytest.fixture
def begun() -> datetime:
    return BEGUN


@pytest.fixture
def log_header() -> dict[str, Any]:
    return {
        "session": {"started": BEGUN, "program": "toothline 0.1.0", "saw": "Netloft panel saw"},
        "recipe": {"format": 1, "saw": {"name": "Netloft panel saw", "kind": "panel"}, "teeth": {"rake": 15.0}},
        "plan": {"stages": ["file", "close"], "reaches": [[1, 61], [62, 155]]},
    }


@pytest.fixture
def filing() -> Callable[..., Mark]:
    def make(seq: int, **fields: Any) -> Mark:
        usual: dict[str, Any] = {"did": Did.DONE, "stage": Stage.FILE, "side": 1, "tooth": 2 * seq - 1}
        at = BEGUN + timedelta(seconds=9 * seq)
        return Mark(**{"seq": seq, "at": at, "strokes": 2, "by": "key", **usual, **fields})

    return make


@pytest.fixture
def log_bytes(log_header: dict[str, Any], filing: Callable[..., Mark]) -> Callable[[int], bytes]:
    def make(count: int) -> bytes:
        return make_header(log_header) + b"".join(encode(filing(seq))[0] for seq in range(1, count + 1))

    return make
