"""The panel: what is asked now, with its picture and words."""

from __future__ import annotations

from textual import events

from session.bench.widgets.drawing import Drawing
from session.pictures.panel_layout import panel_rows
from session.sentences.saying import Saying
from session.trade.saw import Saw
from session.walk.state import State


class Panel(Drawing):
    """Draws `panel_rows` in the room it has."""

    _told: tuple[State, Saw, Saying, bool] | None = None

    def show(self, state: State, saw: Saw, saying: Saying, *, ascii_only: bool) -> None:
        """Show this moment."""
        self._told = (state, saw, saying, ascii_only)
        self._draw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new room."""
        self._draw()

    def _draw(self) -> None:
        if self._told is None:
            return
        state, saw, saying, ascii_only = self._told
        self.rows = panel_rows(state, saw, saying, self.size.width, self.size.height, ascii=ascii_only)
