"""What the tests of the commands build on, and lines that are not wrapped where a test is about their words."""

from __future__ import annotations

import pytest

from shown_record import write_walk

__all__ = ["write_walk"]


@pytest.fixture(autouse=True)
def _wide(monkeypatch: pytest.MonkeyPatch) -> None:
    """A terminal as wide as any line: how lines are wrapped is held in test_printed_width."""
    monkeypatch.setenv("COLUMNS", "400")
