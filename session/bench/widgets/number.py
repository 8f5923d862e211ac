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
    _counting: tuple[str, str] | None = None

    def show(
        self, number: str, of: str, where: str, *, ascii_only: bool, counting: tuple[str, str] | None = None
    ) -> None:
        """Show ``number``, then ``of`` ("gullet of 155") and ``where`` ("6.6 in from the heel").

        counting: a second number with what it counts, shown as large under the first (bench rules 5 and 23).
        """
        self._told, self._counting = (number, of, where, ascii_only), counting
        self._draw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new room."""
        self._draw()

    def _draw(self) -> None:
        number, of, where, ascii_only = self._told
        width, height = self.size
        if width < 1 or height < 1:
            return
        if self._counting is not None:
            first = self._large(number, of, width, height - height // 2, ascii_only)
            self.rows = padded((*first, *self._large(*self._counting, width, height // 2, ascii_only)), width, height)
            return
        under = words(where, width, Role.PLAIN)
        self.rows = padded((*self._large(number, of, width, height - 1, ascii_only), under), width, height)

    def _large(self, number: str, of: str, width: int, height: int, ascii_only: bool) -> Rows:
        """``number`` as large as the room allows, with what it counts in the last row."""
        size = best_rows(width, min(height - 1, self._most_rows), number)
        big: Rows = numeral(number, size, ascii=ascii_only) if size else (words(number, width, Role.NUMERAL),)
        return (*centered(big, width, height - 1), words(of, width, Role.STRONG))
