"""How wide a line of words may be: as wide as the terminal, 80 columns where nothing tells; longer ones are wrapped."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from typing import Final

#: Where no terminal is to be asked, and COLUMNS says nothing.
UNKNOWN_WIDTH: Final = 80

#: No narrower, or words would be broken at every turn.
_LEAST: Final = 40


def columns() -> int:
    """The columns of a line on stdout, 40 or more: COLUMNS, else the terminal's own width, else 80."""
    told = os.environ.get("COLUMNS", "")
    if told.isdecimal() and int(told):
        return max(_LEAST, int(told))
    try:
        width = os.get_terminal_size(sys.stdout.fileno()).columns
    except (OSError, ValueError, AttributeError):
        width = 0
    return max(_LEAST, width or UNKNOWN_WIDTH)


def wrapped(line: str, width: int | None = None, *, hang: int = 2) -> list[str]:
    """``line`` in rows of at most ``width`` cells, those after the first ``hang`` cells deeper than it begins.

    A word that is longer than the room, such as a path, stays whole.
    """
    room = columns() if width is None else width
    if len(line) <= room:
        return [line]
    # As textwrap would do it, which takes longer to load than all lines of a record to wrap.
    begins = line[: len(line) - len(line.lstrip())]
    rows, row, gap = list[str](), "", 0
    for word in line.strip().split(" "):
        if not word:
            gap += 1
        elif row and len(row) + gap + len(word) <= room:
            row, gap = row + " " * gap + word, 1
        else:
            rows += [row] if row else []
            row, gap = begins + " " * (hang if rows else 0) + word, 1
    return [*rows, row or line]


def wrapped_lines(lines: Iterable[str]) -> str:
    """``lines`` as text for stdout, each wrapped and ended."""
    width = columns()
    return "".join(f"{row}\n" for line in lines for row in wrapped(line, width))
