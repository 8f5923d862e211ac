"""A record as pages tell it: its words, and of each stage a line of what became of every tooth."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from session.value_class import dataclass
from session.walk.known_teeth import KnownTeeth
from session.walk.place import Standing

if TYPE_CHECKING:
    from session.trade.scanned_line import ScannedLine


@dataclass(frozen=True, slots=True)
class ToothOutcome:
    """One stage's line, tooth 1 first.

    title: the stage, and which time it was gone through. states: None where the stage has no place.
    here: the tooth in hand, or None. flags: flagged teeth. known: broken, low and high ones.
    figures: the grade of a flat, or the strokes that a gullet was given, by tooth, where they were told; figures_are:
    which of the two, empty without any. reaches: as the saw stood in the vise.
    """

    title: str
    states: tuple[Standing | None, ...]
    here: int | None
    flags: frozenset[int]
    known: KnownTeeth
    figures: Mapping[int, int]
    figures_are: str
    reaches: tuple[tuple[int, int], ...]

    @property
    def heading(self) -> str:
        """What stands over the line."""
        return f"{self.title}, {self.figures_are} under each tooth" if self.figures_are else self.title


@dataclass(frozen=True, slots=True)
class RecordMatter:
    """A record as a page tells it, in lines of words: the saw, which record and how it stands, its account, the lines
    drawn, notes on single places, and what it says to the next sharpening. scans: lines that were measured, under their
    headings."""

    saw: str
    record: str
    account: tuple[str, ...]
    lines: tuple[ToothOutcome, ...]
    notes: tuple[str, ...]
    later: tuple[str, ...]
    scans: tuple[tuple[str, ScannedLine], ...] = ()

    @property
    def title(self) -> str:
        """The saw and which record, in one."""
        return f"{self.saw}, {self.record}"
