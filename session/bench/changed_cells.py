"""Sends the terminal the cells that changed, and no others: what it shows already is known and not sent again.

Textual sends each widget that changed row by row and whole, some 8,000 bytes a key, which is felt over a slow line. How
it draws is reached into here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any, Final

from rich.cells import get_character_cell_size
from rich.color import ColorSystem
from rich.console import Console
from rich.style import Style
from textual._compositor import ChopsUpdate, CompositorUpdate, LayoutUpdate
from textual.geometry import Size
from textual.screen import Screen
from textual.strip import SGR_STYLES, Strip

#: So many cells that stayed, between two that changed, are sent with them where they look alike: a step costs more.
_BRIDGED: Final = 3

#: How a cell looks, in the numbers of SGR (ECMA-48): its attributes, its ink and its ground.
Look = tuple[str, str, str]

#: What a terminal shows in one cell.
Cell = tuple[str, Look]

_BOLD: Final = "1"
_NOT_BOLD: Final = "22"

_BARE: Final[Look] = ("", "", "")


class ShownCells:
    """What the terminal shows, as far as it is known."""

    def __init__(self) -> None:
        self._size = Size()
        self._rows: list[list[Cell | None]] = []
        self._looks: dict[Style, Look] = {}

    def forget(self) -> None:
        """What the terminal shows is not known: somebody else wrote to it."""
        self._size = Size()

    def sent(self, update: CompositorUpdate | None, screen: Screen[Any]) -> CompositorUpdate | None:
        """``update`` of ``screen`` as it is to be sent: what changes single rows without what stays.

        All of the screen, where it was laid out for another size than what the terminal shows, or that is not known.
        """
        compositor = screen._compositor
        if compositor.size != self._size:
            self._size = compositor.size
            self._rows = [[None] * self._size.width for _ in range(self._size.height)]
            update = compositor.render_full_update()
        if isinstance(update, LayoutUpdate):
            return _Whole(update, self)
        return self.changed(_parts(update)) if isinstance(update, ChopsUpdate) else update

    def know(self, screen: Screen[Any]) -> bool:
        """Whether it is known what the terminal shows of ``screen``, which stands on it."""
        return screen._compositor.size == self._size

    def changed(self, parts: Iterable[tuple[int, int, Strip]]) -> CompositorUpdate:
        """What is to be sent of ``parts`` of rows, each with its column and row: no more than the cells that changed.

        They are asked for when there is a terminal to send them to.
        """
        return _Changed(parts, self)

    def show(self, x: int, y: int, strip: Strip, console: Console) -> list[tuple[int, list[Cell]]] | None:
        """Let ``strip`` stand from column ``x`` of row ``y`` on.

        Its runs of cells that were not shown there before, each with its column; None where it has characters that do
        not take one cell each, and so has to be sent as it is.
        """
        if not 0 <= y < len(self._rows):
            return None
        row, system = self._rows[y], console._color_system or ColorSystem.TRUECOLOR
        cells = self._cells(strip, system)
        if cells is None or x + len(cells) > len(row):
            row[x : x + strip.cell_length] = [None] * len(row[x : x + strip.cell_length])
            return None
        before = row[x : x + len(cells)]
        if before == cells:
            return []
        row[x : x + len(cells)] = cells
        return list(_runs(x, before, cells))

    def _cells(self, strip: Strip, system: ColorSystem) -> list[Cell] | None:
        cells: list[Cell] = []
        for text, style, _ in strip:
            if not text.isascii() and not _single(text):
                return None
            if style is None:
                look = _BARE
            elif style.link:
                return None
            elif (look := self._looks.get(style, _BARE)) is _BARE:
                look = self._looks[style] = _look(style, system)
            cells += [(char, look) for char in text]
        return cells


@lru_cache(maxsize=4096)
def _single(text: str) -> bool:
    """Whether each character of ``text`` takes one cell."""
    return all(get_character_cell_size(char) == 1 for char in text)


class _Whole(CompositorUpdate):
    """A whole screen, sent as it is, whatever the terminal shows."""

    def __init__(self, update: LayoutUpdate, shown: ShownCells) -> None:
        self._update, self._shown = update, shown

    def render_segments(self, console: Console) -> str:
        """What is written to the terminal."""
        for y, line in enumerate(self._update.strips, self._update.region.y):
            x = self._update.region.x
            for strip in line:
                self._shown.show(x, y, strip, console)
                x += strip.cell_length
        return self._update.render_segments(console)


class _Changed(CompositorUpdate):
    """Parts of rows, of which the cells that changed are sent."""

    def __init__(self, parts: Iterable[tuple[int, int, Strip]], shown: ShownCells) -> None:
        self._parts, self._shown = parts, shown

    def render_segments(self, console: Console) -> str:
        """What is written to the terminal."""
        pen = _Pen()
        for x, y, strip in self._parts:
            runs = self._shown.show(x, y, strip, console)
            if runs is None:
                pen.write_as_is(x, y, strip, console)
            else:
                for at, cells in runs:
                    pen.write(at, y, cells)
        return pen.written()


def _parts(update: ChopsUpdate) -> Iterator[tuple[int, int, Strip]]:
    """The parts of rows that ``update`` is to send, each with its column and row."""
    for y, first, last in update.spans:
        for end, (x, strip) in zip(update.chop_ends[y], update.chops[y].items(), strict=False):
            if strip is not None and x <= last and end > first:
                yield x, y, strip if end <= last else strip.crop(0, last - x)


def _runs(x: int, before: list[Cell | None], cells: list[Cell]) -> Iterator[tuple[int, list[Cell]]]:
    """The runs of ``cells``, from column ``x`` on, that are not as ``before``; short ways between them gone along."""
    changed = [at for at, (was, cell) in enumerate(zip(before, cells, strict=True)) if was != cell]
    first = last = changed[0]
    for at in changed[1:]:
        looks = {look for _, look in cells[last:at]}
        if at - last > _BRIDGED + 1 or len(looks) > 1:
            yield x + first, cells[first : last + 1]
            first = at
        last = at
    yield x + first, cells[first : last + 1]


def _look(style: Style, system: ColorSystem) -> Look:
    bits = style._attributes & style._set_attributes
    attributes = ";".join(number for bit, number in enumerate(SGR_STYLES) if bits & (1 << bit))
    ink = ";".join(style.color.downgrade(system).get_ansi_codes()) if style.color is not None else ""
    ground = ";".join(style.bgcolor.downgrade(system).get_ansi_codes(False)) if style.bgcolor is not None else ""
    return attributes, ink, ground


class _Pen:
    """Writes cells with as few control sequences as will do: where they stand, and how they differ from the last."""

    def __init__(self) -> None:
        self._parts: list[str] = []
        self._at = (-1, -1)
        self._look = _BARE

    def write(self, x: int, y: int, cells: list[Cell]) -> None:
        """Write ``cells`` from column ``x`` of row ``y`` on."""
        self._go(x, y)
        for char, look in cells:
            if look != self._look:
                self._wear(look)
            self._parts.append(char)
            x += 1
        self._at = (x, y)

    def write_as_is(self, x: int, y: int, strip: Strip, console: Console) -> None:
        """Write ``strip`` as Textual does."""
        self._go(x, y)
        self._wear(_BARE)
        self._parts.append(strip.render(console))
        self._at = (-1, -1)

    def written(self) -> str:
        """All that was written, and the terminal's usual look after it."""
        self._wear(_BARE)
        return "".join(self._parts)

    def _go(self, x: int, y: int) -> None:
        if self._at == (x, y):
            return
        ahead = x - self._at[0]
        self._parts.append(f"\x1b[{ahead}C" if self._at[1] == y and ahead > 0 else f"\x1b[{y + 1};{x + 1}H")

    def _wear(self, look: Look) -> None:
        if look == self._look:
            return
        codes = [code for code, had in zip(look, self._look, strict=True) if code != had]
        if look[0] != self._look[0] and self._look[0] == _BOLD:
            # Most that is not plain is bold alone, and has its own end.
            codes = [_NOT_BOLD, *(look[:1] if look[0] else ()), *codes[1:]]
        elif self._look[0] and look[0] != self._look[0]:
            codes = [""]
        if "" in codes:
            # What is not said is taken off by taking all off.
            codes = ["0", *(code for code in look if code)]
        self._parts.append(f"\x1b[{';'.join(codes)}m")
        self._look = look
