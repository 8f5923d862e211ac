"""The large number: the tooth, pass or step in hand, to be read from a bench away."""

from __future__ import annotations

from typing import Any

from textual import events

from session.bench.widgets.drawing import Drawing
from session.pictures.ink import Role, Rows, centered, padded, words
from session.pictures.numerals import best_rows, numeral


class Number(Drawing):
    """The number in the largest numerals that the room and the settings allow, with what it counts under it."""

    def __init__(self, most_rows: int, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._most_rows = most_rows

    _told: tuple[str, str, str, bool] = ("0", "", "", False)

    def show(self, number: str, of: str, where: str, *, ascii_only: bool) -> None:
        """Show ``number``, then ``of`` ("gullet of 155") and ``where`` ("6.6 in from the heel")."""
        self._told = (number, of, where, ascii_only)
        self._draw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new room."""
        self._draw()

    def _draw(self) -> None:
        number, of, where, ascii_only = self._told
        width, height = self.size
        if width < 1 or height < 1:
            return
        size = best_rows(width, min(height - 2, self._most_rows), number)
        big: Rows = numeral(number, size, ascii=ascii_only) if size else (words(number, width, Role.NUMERAL),)
        top = centered(big, width, height - 2)
        under = (words(of, width, Role.STRONG), words(where, width, Role.PLAIN))
        self.rows = padded((*top, *under), width, height)
