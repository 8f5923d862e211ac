"""A form over a till in a folder."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from session.form.own_saw_form import OwnSawForm
from session.form.saw_draft import SawDraft
from session.machine.clock import SetClock
from session.till.till_folder import Till


@pytest.fixture
def new_form(tmp_path: Path) -> Iterator[Callable[[], OwnSawForm]]:
    """Opens the form for a new saw of one till, as often as it is asked; the one before is let go of."""
    opened: list[OwnSawForm] = []

    def form() -> OwnSawForm:
        for one in opened:
            one.close()
        clock = SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=UTC))
        opened.append(OwnSawForm(Till(tmp_path), SawDraft.open(tmp_path, "new"), clock))
        return opened[-1]

    yield form
    for one in opened:
        one.close()
