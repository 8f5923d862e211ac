"""A page to print: its paper, what is drawn on it, and the correction for a printer that is out."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from session.prints.drawn_shapes import Shape
from session.value_class import dataclass

#: What the bar of 100 mm may measure; a printer that is further out was told to fit the page (judgment).
LEAST_BAR_MM: Final = 90.0
MOST_BAR_MM: Final = 110.0

#: What no printer is trusted to reach, in mm of the paper.
MARGIN: Final = 10.0


class Paper(StrEnum):
    """A size of paper."""

    A4 = "a4"
    LETTER = "letter"


#: The shorter and the longer side of each, in mm.
SIZES: Final = {Paper.A4: (210.0, 297.0), Paper.LETTER: (215.9, 279.4)}


@dataclass(frozen=True, slots=True)
class PaperStock:
    """The paper in the printer, and what its bar of 100 mm measured when printed, LEAST_BAR_MM to MOST_BAR_MM."""

    paper: Paper = Paper.A4
    bar_mm: float = 100.0

    @property
    def scale(self) -> float:
        """By how much everything is drawn larger, so that it comes out of that printer as it should be."""
        return 100.0 / self.bar_mm

    def size_mm(self, lying: bool = False) -> tuple[float, float]:
        """Width and height of the paper."""
        short, long = SIZES[self.paper]
        return (long, short) if lying else (short, long)

    def room(self, lying: bool = False) -> tuple[float, float]:
        """Width and height within the margins, in mm as they come out on paper."""
        wide, high = self.size_mm(lying)
        return (wide - 2 * MARGIN) / self.scale, (high - 2 * MARGIN) / self.scale


@dataclass(frozen=True, slots=True)
class PageSheet:
    """One page. shapes: in mm as they come out on paper, from the upper left corner of the margins."""

    title: str
    stock: PaperStock
    lying: bool
    shapes: tuple[Shape, ...]
