"""The filer's own diary of what its hands did.

The diary is written where the hands work, from their own count along the line; nothing in it comes from the marks.
"""

from __future__ import annotations

from enum import StrEnum

from session.value_class import dataclass
from session.walk.stages import Stage


class Kept(StrEnum):
    """What sort of thing was done."""

    PASS = "leveled"
    GRADE = "graded"
    PLACE = "told on the strip"
    BEND = "bent"
    FILE = "filed"
    STONE = "stoned"
    STEP = "went through"
    LEFT_OUT = "left out"
    TOLD = "told"
    ASKED = "asked for more"
    TURN = "turned the saw"
    SHIFT = "shifted the saw"
    CHECK = "checked"
    FLAG = "flagged"
    PAUSE = "paused"


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing done: what sort, at which stage, the numbers of it (tooth, side, strokes, as the sort has them), and
    the words given with it."""

    kept: Kept
    stage: Stage | None = None
    numbers: tuple[int, ...] = ()
    text: str = ""

    def __str__(self) -> str:
        numbers = " ".join(map(str, self.numbers))
        return " ".join(part for part in (self.stage or "", self.kept, numbers, self.text) if part)
