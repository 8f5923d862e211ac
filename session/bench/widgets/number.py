"""The large number: the tooth, pass or step in hand, to be read from a bench away."""

from __future__ import annotations

from typing import Any

from textual import events

from session.bench.widgets.drawing import Drawing
from session.pictures.numerals import SIZES, best_rows, numeral
from session.pictures.picture_rows import Role, Rows, centered, padded, words


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
        number, of, where, _ = self._told
        width, height = self.size
        if width < 1 or height < 1:
            return
        if self._counting is None:
            told = (of, where) if where else (of,)
            self.rows = self._large(number, told, width, height, self._most_rows)
            return
        left, what = self._counting
        place = self._large(number, (of,), width, height - height // 2, self._most_rows)
        # Smaller where it can be and in another color, not to be taken for the number of the place.
        self.rows = (*place, *self._large(left, (what,), width, height // 2, SIZES[-1], Role.HANDLE))

    def _large(
        self, number: str, told: tuple[str, ...], width: int, height: int, most_rows: int, role: Role = Role.NUMERAL
    ) -> Rows:
        """``number`` as large as there is room for, what is ``told`` of it right under it, all in the middle."""
        first, *others = told
        under = (words(first, width, Role.STRONG), *(words(text, width, Role.PLAIN) for text in others))
        size = best_rows(width, min(height - len(under), most_rows), number)
        big = numeral(number, size, ascii=self._told[-1], role=role) if size else (words(number, width, role),)
        gap: Rows = ((),) if len(big) + len(under) < height else ()
        group = (*centered(big, width), *gap, *under)
        above = (height - len(group) + 1) // 2
        return padded((*((),) * above, *group), width, height)
