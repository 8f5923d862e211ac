"""Tables and lines of words on stdout: columns as wide as what stands in them, on more rows where room is short.

Our own, because a person waits for it: the library that draws the screen takes longer to be loaded, and to lay out a
long table, than the commands take for what stands in it.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import Final

from session.commands.output.cell_count import cell_count
from session.commands.output.plain_data import can_show, write
from session.commands.output.printed_width import columns as room_for_words
from session.commands.output.printed_width import wrapped

#: What stands before the first column, and between two.
_INDENT: Final = "  "
_GAP: Final = "  "


def print_line(words: str) -> None:
    """``words`` in as many rows as the width asks for."""
    write("".join(f"{row}\n" for row in wrapped(words)))


def print_heading(words: str) -> None:
    """``words`` likewise, bold where a terminal shows it."""
    on, off = ("\x1b[1m", "\x1b[0m") if _obeys() else ("", "")
    write("".join(f"{on}{row}{off}\n" for row in wrapped(words)))


def print_table(
    title: str,
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    *,
    right: Sequence[str] = (),
    whole: Sequence[str] = (),
) -> None:
    """A table, an empty line below it; heads that are all empty are left out.

    right: the columns that hold numbers, and are ranged right. whole: those that keep to one row as long as there is
    room for a letter in the others.
    """
    if title:
        print_heading(title)
    ranged = tuple(head in right for head in heads)
    write("".join(f"{line}\n" for line in table_lines(heads, rows, ranged, [head in whole for head in heads])))
    write("\n")


def table_lines(
    heads: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[bool], whole: Sequence[bool]
) -> Iterator[str]:
    """The lines of a table, none with spaces at its end; the heads and a rule first, unless the heads are all empty."""
    widths = _widths([heads, *rows], whole, room_for_words())
    if any(heads):
        yield from _lines(heads, widths, right)
        yield _INDENT + ("─" if can_show("─") else "-") * (sum(widths) + len(_GAP) * (len(widths) - 1))
    for row in rows:
        yield from _lines(row, widths, right)


def _obeys() -> bool:
    """Whether stdout is a terminal that tells bold from plain."""
    return sys.stdout.isatty() and os.environ.get("TERM", "dumb") not in ("dumb", "unknown")


def _widths(rows: Sequence[Sequence[str]], whole: Sequence[bool], room: int) -> list[int]:
    """Cells of each column, in ``room`` cells together with all between them, as long as each can have one.

    Where room is short the widest give way first, down to their longest word; then words are parted.
    """
    every = [set(cells) for cells in zip(*rows, strict=True)]
    wanted = [_most(cell_count, cells) for cells in every]
    words = [_most(_longest_word, cells) for cells in every]
    room -= len(_INDENT) + len(_GAP) * (len(wanted) - 1)
    stiff = [most if keeps else word for most, word, keeps in zip(wanted, words, whole, strict=True)]
    pliant = [most if keeps else 1 for most, keeps in zip(wanted, whole, strict=True)]
    for least in (stiff, pliant, [1] * len(wanted)):
        for level in range(min(room, max(wanted)), 0, -1):
            widths = [min(most, max(level, few)) for most, few in zip(wanted, least, strict=True)]
            if sum(widths) <= room:
                return _filled(widths, wanted, room)
    return [1] * len(wanted)


def _filled(widths: list[int], wanted: Sequence[int], room: int) -> list[int]:
    """``widths`` with what is left of ``room``, a cell for each column that wants one, from the left."""
    short = [at for at, width in enumerate(widths) if width < wanted[at]]
    for at in short[: room - sum(widths)]:
        widths[at] += 1
    return widths


def _most(count: Callable[[str], int], cells: Iterable[str]) -> int:
    return max(map(count, cells), default=0)


def _longest_word(cell: str) -> int:
    return _most(cell_count, cell.split())


def _lines(row: Sequence[str], widths: Sequence[int], right: Sequence[bool]) -> Iterator[str]:
    """One row of the table, in as many lines as its fullest cell takes."""
    for parts in zip_longest(*map(_parts, row, widths), fillvalue=""):
        cells = []
        for part, width, ranged in zip(parts, widths, right, strict=True):
            rest = " " * (width - cell_count(part))
            cells.append(rest + part if ranged else part + rest)
        yield (_INDENT + _GAP.join(cells)).rstrip()


def _parts(cell: str, width: int) -> list[str]:
    """``cell`` in parts of at most ``width`` cells; a longer word is parted."""
    if cell_count(cell) <= width:
        return [cell]
    parts, part = [], ""
    for word in cell.split():
        longer = f"{part} {word}" if part else word
        if cell_count(longer) <= width:
            part = longer
            continue
        if part:
            parts.append(part)
        *full, part = _chopped(word, width)
        parts += full
    return [*parts, part]


def _chopped(word: str, width: int) -> list[str]:
    """``word`` in pieces of at most ``width`` cells, and of a letter at least."""
    pieces = [""]
    for letter in word:
        if pieces[-1] and cell_count(pieces[-1] + letter) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces
