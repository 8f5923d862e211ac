"""A measured tooth line in rows of drawing, ten times in height, so that a tenth of a millimeter is seen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from session.prints.drawn_shapes import Anchor, Ink, Trace, trace
from session.prints.sheet_draft import SMALL, SheetDraft
from session.trade.scanned_line import ScannedLine, ScannedTooth, ToothState, is_measured
from session.value_class import dataclass

#: Along the line a millimeter is one on paper; in height, so many.
TIMES: Final = 10.0

#: Room over the highest point for letters and numbers, and under the deepest gullet, mm on paper.
OVER: Final = 8.0
UNDER: Final = 4.0

#: What the drawing means.
LEGEND: Final = (
    "Lengths as they are, heights ten times; the thin line is the line through the points. "
    "L low, H high, B broken, ? not seen."
)

#: What stands over a tooth that is not whole.
_LETTERS: Final = {ToothState.LOW: "L", ToothState.HIGH: "H", ToothState.BROKEN: "B", ToothState.NOT_SEEN: "?"}


@dataclass(frozen=True, slots=True)
class ScannedRow:
    """The teeth of one row, from ``begin`` mm of the line on; high: mm on paper that it takes, level: down to the line
    through the points."""

    teeth: tuple[ScannedTooth, ...]
    begin: float
    level: float
    high: float

    def draw(self, draft: SheetDraft) -> None:
        """Draw it under what the page holds so far."""
        level = draft.y + self.level
        draft.y += self.high

        def at(place: float, under: float) -> tuple[float, float]:
            return place - self.begin, level + under * TIMES

        draft.add(trace(at(self.teeth[0].place_mm, 0.0), at(self.teeth[-1].place_mm, 0.0), ink=Ink.FINE))
        for number, run in enumerate(_runs(self.teeth)):
            spots = tuple(at(*corner) for tooth in run for corner in _corners(tooth))
            if len(spots) > 1:
                draft.add(Trace(spots, Ink.DASHED if number % 2 else Ink.LINE))
        for tooth in self.teeth:
            x, y = at(tooth.place_mm, min(0.0, tooth.height_mm or 0.0))
            if tooth.state in _LETTERS:
                draft.letter((x, y - 1.0), _LETTERS[tooth.state], SMALL, anchor=Anchor.MIDDLE, bold=True)
            if tooth in (self.teeth[0], self.teeth[-1]) or tooth.tooth % 10 == 0:
                draft.letter((x, level - self.level + SMALL), f"{tooth.tooth}", SMALL, anchor=Anchor.MIDDLE)


def scanned_rows(line: ScannedLine, wide: float) -> Iterator[ScannedRow]:
    """The rows of ``line``, each at most ``wide`` mm on paper, from the heel."""
    rows: list[list[ScannedTooth]] = []
    for tooth in line.teeth:
        if rows and tooth.place_mm - rows[-1][0].place_mm <= wide:
            rows[-1].append(tooth)
        else:
            rows.append([tooth])
    for row in rows:
        high = max([0.0, *(-tooth.height_mm for tooth in row if tooth.height_mm is not None)])
        deep = max([line.depth_mm, *(tooth.depth_mm for tooth in row if tooth.depth_mm is not None)])
        level = OVER + high * TIMES
        yield ScannedRow(tuple(row), row[0].place_mm, level, level + deep * TIMES + UNDER)


def _runs(row: Sequence[ScannedTooth]) -> Iterator[list[ScannedTooth]]:
    """The teeth in runs, seen ones and those that were not in turn; the first run was seen, and may be empty."""
    run: list[ScannedTooth] = []
    seen = True
    for tooth in row:
        if (tooth.state is not ToothState.NOT_SEEN) is not seen:
            yield run
            # The line between two runs belongs to what was not seen.
            run, seen = run[-1:] if seen else [], not seen
        run.append(tooth)
    yield run


def _corners(tooth: ScannedTooth) -> Iterator[tuple[float, float]]:
    """The ends of its flat and the gullet before it, as places along and depths under the line."""
    if is_measured(tooth.state) and tooth.a_mm is not None and tooth.b_mm is not None and tooth.height_mm is not None:
        yield tooth.a_mm, tooth.height_mm
        if tooth.b_mm > tooth.a_mm:
            yield tooth.b_mm, tooth.height_mm
    else:
        yield tooth.place_mm, tooth.height_mm or 0.0
    if tooth.gullet_mm is not None and tooth.depth_mm is not None:
        yield tooth.gullet_mm, tooth.depth_mm
