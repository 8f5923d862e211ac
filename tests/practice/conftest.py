"""The screen of the practice is drawn when the program has come to rest, as in the tests of the bench."""

from __future__ import annotations

import pytest

from at_the_terminal import draw_only_at_rest, read_sheets_once


@pytest.fixture(autouse=True)
def quickly_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same style sheet is read once, and nothing is drawn that the next key changes again."""
    read_sheets_once(monkeypatch)
    draw_only_at_rest(monkeypatch)
