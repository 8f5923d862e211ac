"""Each kind of moment of the practice as text, at 80×24: what stands there is looked at, and its words are known."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

import pytest

from at_the_terminal import drawn_rows
from session.files.settings import Settings
from session.machine.clock import SetClock
from session.practice.practice_app import PracticeApp

#: The keys from one moment that is looked at to the next, and its name.
MOMENTS = (
    ("grade", ""),
    ("grade-off-by-one", "3"),
    ("press-where", "242442444"),
    ("strokes", "2"),
    ("half-gone", "3"),
    ("too-far", "99"),
    ("left", " "),
    ("guide", "23 23 23 23 "),
    ("guide-forgotten", "1"),
    ("first-gullet", "2"),
    ("wrong-gullet", "1"),
    ("side-2", "2"),
    ("learned", "25 25 25 25 "),
    ("leave", "q"),
)


@pytest.mark.wide
async def test_each_kind_of_moment(golden: Callable[[str, str], None]) -> None:
    time = SetClock(datetime(2026, 3, 7, 9, 0, tzinfo=UTC))
    app = PracticeApp(Settings(), time, environment={})
    async with app.run_test(size=(80, 24)) as pilot:
        for name, keys in MOMENTS:
            for key in keys:
                time.pass_s(1)
                await pilot.press("space" if key == " " else key)
            await pilot.pause()
            golden(f"practice-{name}.txt", "\n".join(strip.text.rstrip() for strip in drawn_rows(app)) + "\n")
