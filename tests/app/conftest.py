"""What the tests of the bench share: a shed, the two sizes that the rules name, and a listener."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from at_the_terminal import draw_only_at_rest, read_sheets_once
from bench_shed import Shed
from ears import Ears, Listening
from session.desk import save_thread
from session.log import log_bytes, log_reader, mark_block

#: One block of bytes is one mark, whichever log it stands in.
_DECODED = cache(mark_block.decode)


@pytest.fixture(autouse=True)
def quick_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """No disk is slow but the one of tests/app/test_rules_slow_disk.py: a busy machine is not what is tested."""
    monkeypatch.setattr(save_thread, "SHOWS_AFTER_S", 60.0)


@pytest.fixture(autouse=True)
def read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same style sheet, and the same block of a log, are read once by all these tests together, not by each."""
    read_sheets_once(monkeypatch)
    for module in (mark_block, log_bytes, log_reader):
        monkeypatch.setattr(module, "decode", _DECODED)


@pytest.fixture(autouse=True)
def draw_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """What changed on screen is drawn when the program has come to rest; tests/terminal draws all of it."""
    draw_only_at_rest(monkeypatch)


@pytest.fixture
def shed(tmp_path: Path) -> Shed:
    """A till with nothing in it yet."""
    return Shed(tmp_path / "till")


SIZES = ((80, 24), (120, 36))


@pytest.fixture(params=[SIZES[0], pytest.param(SIZES[1], marks=pytest.mark.wide)], ids=["80x24", "120x36"])
def size(request: pytest.FixtureRequest) -> tuple[int, int]:
    """Both sizes that the rules name: the one where a word has least room in each run."""
    found: tuple[int, int] = request.param
    return found


@pytest.fixture
def ears(shed: Shed) -> Listening:
    """Makes a listener at a sitting."""
    return lambda sitting, **how: Ears(shed, sitting, **how)
