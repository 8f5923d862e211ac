"""From one screen to the next the terminal is never empty: what was shown stays until the next screen is whole."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pyte

#: Where a frame ends that a terminal shows at once.
FRAME_ENDS = b"\x1b[?2026l"


def frames(raw: bytes) -> Iterator[list[str]]:
    """The rows of the terminal after each frame of ``raw``."""
    screen = pyte.Screen(80, 24)
    stream = pyte.ByteStream(screen)
    for part in raw.split(FRAME_ENDS)[:-1]:
        stream.feed(part)
        yield list(screen.display)


def test_nothing_empty_is_shown_on_the_way_from_the_bench_to_the_till_and_back(
    shed: Any, person: Callable[[Any], Any]
) -> None:
    someone = person(shed.open("start", shed.hang_up()))
    terminal = someone.terminal
    terminal.wait("NOW ")
    before = len(list(frames(terminal.raw)))
    terminal.send("q")
    terminal.wait("Leave the bench?")
    terminal.send("h")
    terminal.wait(lambda here: "the till at" in someone.top() and "INTERRUPTED" in here.text(), "the till")
    terminal.send("\r")
    terminal.wait("The same key again goes on with")
    terminal.send("\r")
    terminal.wait("NOW ")
    since = list(frames(terminal.raw))[before:]
    assert any("the till at" in rows[0] for rows in since)
    assert len(since) >= 5
    for rows in since:
        assert rows[0].strip(), rows
        assert sum(bool(row.strip()) for row in rows) >= 8, rows
