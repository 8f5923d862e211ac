"""What a person reads off the bench, be it on screen now or seen before."""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from dataclasses import dataclass

from session.pictures.numerals import numeral


class Sight(ABC):
    """A screen that can be read."""

    @abstractmethod
    def rows(self) -> list[str]:
        """The rows of cells that the terminal shows."""

    def text(self) -> str:
        """All that is on screen, one row a line."""
        return "\n".join(self.rows())

    def words(self) -> str:
        """All that is on screen with frames and line ends taken out, so that a wrapped sentence can be found."""
        return " ".join(self.text().translate(str.maketrans("│╭╮╰╯─┌┐└┘", "          ")).split())

    def panel(self) -> str:
        """The sentences of the panel, beside the number and the sign."""
        rows = [row.partition("│")[2] for row in self.rows()[1:-10] if "│" in row]
        if "handle ▶" in self.rows()[0]:
            rows = [row[:-13] for row in rows]
        return " ".join(" ".join(rows).split())

    def line(self) -> list[str]:
        """The strip of the line, one glyph a tooth, heel first; [0] is tooth 1."""
        row = self.line_row()
        glyphs = [glyph for glyph in row if glyph in "·◆■×◊─"]
        return glyphs if row.startswith("heel") else glyphs[::-1]

    def line_row(self) -> str:
        """The row of the strip that stands for the line."""
        return next(row for row in self.rows() if "▐█▌ heel" in row or "heel ▐█▌" in row).strip()

    def large(self, number: str) -> bool:
        """Whether ``number`` stands on screen in numerals of at least 5 rows, every row of them right."""
        rows = self.rows()
        for height in (5, 7, 9):
            drawn = ["".join(run.text for run in row).rstrip() for row in numeral(number, height)]
            for top in range(len(rows) - len(drawn) + 1):
                indent = len(drawn[0]) - len(drawn[0].lstrip())
                # The first ink of that shape in the row may be the side sign's.
                for found in re.finditer(rf"(?={re.escape(drawn[0].strip())})", rows[top]):
                    start = found.start() - indent
                    under = zip(rows[top:], drawn, strict=False)
                    if start >= 0 and all(row[start : start + len(wanted)] == wanted for row, wanted in under):
                        return True
        return False

    def places(self) -> str:
        """The row that says where one is."""
        return next(row for row in self.rows() if "NOW " in row)

    def boxes(self) -> list[tuple[str, str]]:
        """The boxed targets of the last rows: key as printed, and word."""
        inside = self.rows()[-2].strip().strip("│|")
        return [(key, word) for key, _, word in (box.partition(" ") for box in inside.split("││"))]

    def at_work(self) -> bool:
        """Whether a place is in hand to be done; of a gullet beside which a second face is filed, both of its jobs."""
        return self.boxes()[0][1] in ("done", "both done", "both")


@dataclass(frozen=True)
class Glance(Sight):
    """A screen as it was: its rows, and how many marks the log had."""

    cells: tuple[str, ...]
    marks: int

    def rows(self) -> list[str]:
        """The rows of cells that the terminal showed."""
        return list(self.cells)
