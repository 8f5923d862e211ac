"""A list to choose from, with a sign at the row in hand, so that it is not told by color alone (bench rule 7)."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from session.pictures.ascii_signs import drawn

_SIGN = "▶"


class ChoiceList(OptionList):
    """Textual's list with rows taken literally. The first cell of each row is kept for the sign."""

    def __init__(self, rows: Iterable[str] = (), *, chosen: int | None = None, **kwargs: Any) -> None:
        super().__init__(markup=False, compact=True, **kwargs)
        self._rows = tuple(rows)
        self._chosen = chosen
        self._signed: int | None = None

    def on_mount(self) -> None:
        """List what was given before there was an app to ask how it draws."""
        self.fill(self._rows, chosen=self._chosen)

    def fill(self, rows: Iterable[str], *, chosen: int | None = None) -> None:
        """List ``rows`` instead, with row ``chosen`` (from 0) in hand, or none."""
        self._rows, self._chosen, self._signed = tuple(rows), chosen, None
        self.set_options(Option(self._prompt(index)) for index in range(len(self._rows)))
        self.highlighted = chosen

    def action_page_down(self) -> None:
        """A page further; but what moves on or looks back at the bench never begins a choice."""
        if self.highlighted is not None:
            super().action_page_down()  # type: ignore[no-untyped-call]  # Textual gives it no type

    def action_page_up(self) -> None:
        """A page back, in the same way."""
        if self.highlighted is not None:
            super().action_page_up()  # type: ignore[no-untyped-call]

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Put the sign at the row that is in hand now."""
        before, self._signed = self._signed, self.highlighted
        for index in (before, self._signed):
            if index is not None:
                self.replace_option_prompt_at_index(index, self._prompt(index))

    def _prompt(self, index: int) -> Content:
        row = f"{_SIGN if index == self._signed else ' '}{self._rows[index][1:]}"
        return Content(drawn(row, ascii_only=getattr(self.app, "ascii_only", False)))
