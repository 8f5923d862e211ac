"""A page as it is being filled: its head, words down the page, drawings, and at its foot the bars for the printer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from session.prints.drawn_shapes import Anchor, Ink, Lettering, Shape, box, trace
from session.prints.letter_widths import lines_within, shortened, wide_mm
from session.prints.page_sheets import PageSheet, PaperStock

#: Sizes of letters, in mm: of the head, of what is under it, of a heading, of words, and of what is small.
HEAD: Final = 5.6
UNDER: Final = 3.6
HEADING: Final = 4.0
WORDS: Final = 3.3
SMALL: Final = 2.8

#: From one line of words to the next, of their size.
LEADING: Final = 1.36

#: How high the foot with its bars is, in mm.
FOOT: Final = 17.0

#: Smaller letters for a head that is long, in mm.
_HEADS: Final = (HEAD, 4.8, 4.0)

#: Room left of the head for the number of the page.
_PAGE: Final = 30.0

_CHECK: Final = (
    "Print at 100 %, then measure both bars. If they are out, make the page anew with --printed and what the "
    "100 mm bar measures."
)


class SheetDraft:
    """One page. ``y`` is how far down it is filled, in mm; ``wide`` and ``foot`` where its room ends."""

    def __init__(self, stock: PaperStock, title: str, under: str = "", *, lying: bool = False) -> None:
        self.stock, self.title, self.lying = stock, title, lying
        self.wide, self.high = stock.room(lying)
        self.foot = self.high - FOOT
        self._shapes: list[Shape] = []
        room = self.wide - _PAGE
        size = next((one for one in _HEADS if wide_mm(title, one, bold=True) <= room), _HEADS[-1])
        self.letter((0.0, HEAD), shortened(title, room, size, bold=True), size, bold=True)
        self.y = HEAD + 1.5
        if under:
            self.words(under, size=UNDER)
            self.y += 1.0
        self._bars()

    def add(self, *shapes: Shape) -> None:
        """Draw ``shapes``."""
        self._shapes += shapes

    def letter(
        self,
        at: tuple[float, float],
        text: str,
        size: float = WORDS,
        *,
        anchor: Anchor = Anchor.START,
        bold: bool = False,
        turned: float = 0.0,
    ) -> None:
        """One line of letters, its foot at ``at``."""
        self.add(Lettering(at, text, size, anchor, bold, turned))

    def words(
        self,
        text: str,
        *,
        size: float = WORDS,
        bold: bool = False,
        left: float = 0.0,
        right: float | None = None,
        hang: float = 0.0,
    ) -> None:
        """A paragraph between ``left`` and ``right``, below what is there; later lines stand in by ``hang``."""
        end = self.wide if right is None else right
        for number, line in enumerate(lines_within(text, end - left - hang, size, bold)):
            self.y += size * LEADING
            self.letter((left + (hang if number else 0.0), self.y), line, size, bold=bold)

    def heading(self, text: str) -> None:
        """What the words below it are about."""
        self.y += 2.0
        self.words(text, size=HEADING, bold=True)

    def numbered(self, texts: Iterable[str], *, left: float = 0.0, right: float | None = None) -> None:
        """Sentences one below the other, each with its number."""
        for number, text in enumerate(texts, 1):
            begins = self.y
            self.words(text, left=left + 5.5, right=right)
            self.letter((left, begins + WORDS * LEADING), f"{number}.")
            self.y += 0.6

    def ticks(self, texts: Iterable[str], size: float, *, left: float = 0.0) -> None:
        """Texts one after the other, each behind a box to tick; as many on a line as it holds."""
        x, side = self.wide + 1.0, 0.95 * size
        for text in texts:
            needs = side + 1.2 + wide_mm(text, size)
            if x + needs > self.wide:
                x = left
                self.y += size * 1.55
            self.add(box(x, self.y - 0.87 * size, side, side, Ink.LINE))
            self.letter((x + side + 1.2, self.y), shortened(text, self.wide - x - side - 1.2, size), size)
            x += needs + 4.0

    def row(self, name: str, value: str, size: float, left: float, right: float) -> None:
        """A name and its value, one at either end of a line, with points between."""
        self.y += size * 1.36
        room = right - left - wide_mm(value, size) - 3.0
        name = shortened(name, room, size)
        self.letter((left, self.y), name, size)
        self.letter((right, self.y), value, size, anchor=Anchor.END, bold=True)

    def blanks(self, names: Sequence[str], size: float) -> None:
        """Lines to write on, side by side, each behind what is to be written."""
        self.y += size * 1.9
        share = self.wide / len(names)
        for number, name in enumerate(names):
            left = number * share
            self.letter((left, self.y), f"{name}:", size)
            begin = left + wide_mm(f"{name}:", size) + 1.5
            self.add(trace((begin, self.y + 0.6), (left + share - 3.0, self.y + 0.6), ink=Ink.FINE))

    def numbered_as(self, page: int, pages: int) -> None:
        """Which page of how many it is; nothing where there is but one."""
        if pages > 1:
            self.letter((self.wide, HEAD), f"page {page} of {pages}", UNDER, anchor=Anchor.END)

    def done(self) -> PageSheet:
        """The page as it stands."""
        return PageSheet(self.title, self.stock, self.lying, tuple(self._shapes))

    def _bars(self) -> None:
        """100 mm and 4 in, with marks between, and what they are there for."""
        at = self.high
        self._bar(at - 8.5, 25.0, "25 mm", "100 mm", "bar-100-mm")
        self._bar(at - 1.5, 25.4, "1 in", "4 in", "bar-4-in")
        left, y = 122.0, self.y
        self.y = at - 16.5
        self.words(_CHECK, size=SMALL, left=left)
        self.y = y

    def _bar(self, y: float, part: float, one: str, whole: str, name: str) -> None:
        self.add(trace((0.0, y), (4 * part, y), ink=Ink.LINE, name=name))
        self.add(*(trace((n * part, y - 2.0), (n * part, y + 1.5), ink=Ink.LINE) for n in range(5)))
        self.letter((part / 2, y - 0.9), one, SMALL, anchor=Anchor.MIDDLE)
        self.letter((4 * part + 2, y + 1), whole, UNDER)
