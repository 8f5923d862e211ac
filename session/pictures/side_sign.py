"""The side sign: which side is worked, as a word, a large number and an arrow to where the handle is."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from session.pictures.numerals import best_rows, numeral
from session.pictures.picture_rows import Role, Row, Rows, Run, centered, padded, words

_ARROWS: Final = {
    "right": ("██▄▄  ", "██████", "██▀▀  "),
    "left": ("  ▄▄██", "██████", "  ▀▀██"),
}
_ASCII_ARROWS: Final = {
    "right": (">>    ", ">>>>>>", ">>    "),
    "left": ("    <<", "<<<<<<", "    <<"),
}


@lru_cache(maxsize=8)
def side_sign(side: int, handle: str, width: int, height: int, *, comes: int = 0, ascii: bool = False) -> Rows:
    """The sign for ``side`` (1, 2, or 0 where no side matters) in a room of so many cells and rows.

    ``handle`` is "right" or "left": where the handle is as the person stands. comes: the side that the saw is to be
    turned to, 0 for none.
    """
    arrow = (_ASCII_ARROWS if ascii else _ARROWS)[handle]
    rows: list[Row] = []
    if side:
        size = best_rows(width, max(5, height - 6), str(side)) or 5
        rows.append(words(f"now SIDE {side}" if comes else f"SIDE {side}", width, Role.STRONG))
        # Not in the color of the tooth's number: from a bench away the two must not be taken for one another.
        rows += centered(numeral(str(side), size, ascii=ascii, role=Role.HANDLE), width)
    else:
        rows.append(words(f"then SIDE {comes}" if comes else "EITHER SIDE", width, Role.STRONG))
    if len(rows) + 5 <= height:
        rows.append(words("", width))
    rows += centered(tuple((Run(line, Role.HANDLE),) for line in arrow), width)
    rows.append(words(f"handle {handle}", width, Role.STRONG))
    return padded(tuple(rows), width, height)
