"""What a picture is made of: rows of runs, each run a text with a role, such as steel or file.

A picture never says which color it has. The screen decides that from the role, and everything that
matters can be read from the characters alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from itertools import groupby
from typing import Final

from session.value_class import dataclass


class Role(StrEnum):
    """What a run of characters shows."""

    PLAIN = "plain"
    STRONG = "strong"
    NUMERAL = "numeral"
    LABEL = "label"
    ARROW = "arrow"
    FRAME = "frame"
    AHEAD = "ahead"
    OTHER = "other"
    NOW = "now"
    DONE = "done"
    LEFT_OUT = "left out"
    FLAG = "flag"
    REACH = "reach"
    HANDLE = "handle"
    STEEL = "steel"
    FLAT = "flat"
    FILE = "file"
    BLOCK = "block"
    VISE = "vise"


class PictureError(ValueError):
    """A picture asked for with a measure that cannot be drawn; the message says what is allowed."""


@dataclass(frozen=True, slots=True)
class Run:
    """A text of one-cell characters, all in one role."""

    text: str
    role: Role


Row = tuple[Run, ...]
Rows = tuple[Row, ...]

#: The largest room that a picture is drawn in, in cells; no terminal is wider.
LARGEST: Final = 1000


def plain(rows: Rows) -> list[str]:
    """The characters of each row, without roles."""
    return ["".join(run.text for run in row) for row in rows]


def width(rows: Rows) -> int:
    """Cells in the longest row; 0 for no rows."""
    return max((len(text) for text in plain(rows)), default=0)


def row_of(chars: Sequence[str], roles: Sequence[Role]) -> Row:
    """One row from single cells, each a character and its role; neighbors of one role become one run."""
    runs: list[Run] = []
    at = 0
    for role, alike in groupby(roles):
        before, at = at, at + len(list(alike))
        runs.append(Run("".join(chars[before:at]), role))
    return tuple(runs)


def padded(rows: Rows, room_width: int, room_height: int | None = None) -> Rows:
    """The rows cut or filled with spaces on the right to ``room_width``, and to ``room_height`` rows if given."""
    filled = [_fit(row, room_width) for row in rows]
    if room_height is not None:
        blank = _fit((), room_width)
        filled = (filled + [blank] * room_height)[:room_height]
    return tuple(filled)


def centered(rows: Rows, room_width: int, room_height: int | None = None) -> Rows:
    """The rows in the middle of a room; what does not fit is cut on the right and below."""
    left = max(0, (room_width - width(rows)) // 2)
    inset: Rows = tuple((Run(" " * left, Role.PLAIN), *row) for row in rows) if left else rows
    over = max(0, (room_height - len(rows)) // 2) if room_height is not None else 0
    return padded(((),) * over + inset, room_width, room_height)


def beside(a: Rows, b: Rows, gap: int = 1) -> Rows:
    """Two pictures side by side, ``gap`` cells between them, the shorter one filled with spaces below."""
    height = max(len(a), len(b))
    left, right = padded(a, width(a) + gap, height), padded(b, width(b), height)
    return tuple(row_a + row_b for row_a, row_b in zip(left, right, strict=True))


def words(text: str, room_width: int, role: Role = Role.LABEL) -> Row:
    """One row with ``text`` in the middle, cut at the room's edge."""
    return centered(((Run(text[:room_width], role),),), room_width)[0]


def first_that_fits(room_width: int, texts: Sequence[str]) -> str:
    """The first of the texts, longest first, that fits the room; the last one cut when none does."""
    return next((text for text in texts if len(text) <= room_width), texts[-1][: max(0, room_width)])


def check_room(room_width: int, room_height: int) -> None:
    """Raise PictureError unless both are whole numbers of cells from 1 to ``LARGEST``."""
    for name, cells in (("width", room_width), ("height", room_height)):
        if not 1 <= cells <= LARGEST:
            raise PictureError(f"picture {name} {cells}: allowed are 1 to {LARGEST} cells")


def _fit(row: Row, room_width: int) -> Row:
    lengths = [len(run.text) for run in row]
    if sum(lengths) == room_width and all(lengths):
        return row
    kept: list[Run] = []
    left = room_width
    for run in row:
        if left <= 0:
            break
        text = run.text[:left]
        if text:
            kept.append(Run(text, run.role))
        left -= len(text)
    if left > 0:
        kept.append(Run(" " * left, Role.PLAIN))
    return tuple(kept)
