"""The panel: what is asked now, with its picture and words."""

from __future__ import annotations

from textual import events

from session.bench.widgets.drawing import Drawing
from session.pictures.panel_layout import panel_rows
from session.sentences.moment import Moment


class Panel(Drawing):
    """Draws `panel_rows` in the room it has."""

    _told: tuple[Moment, bool] | None = None

    def show(self, moment: Moment, *, ascii_only: bool) -> None:
        """Show ``moment``."""
        self._told = (moment, ascii_only)
        self._draw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new room."""
        self._draw()

    def _draw(self) -> None:
        if self._told is None:
            return
        moment, ascii_only = self._told
        self.rows = panel_rows(moment, self.size.width, self.size.height, ascii=ascii_only)
