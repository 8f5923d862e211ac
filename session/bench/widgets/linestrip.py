"""The strip of the whole line, with the place in hand on it."""

from __future__ import annotations

from textual import events

from session.bench.widgets.drawing import Drawing
from session.trade.saw import Saw
from session.walk.state import State


class LineStrip(Drawing):
    """The tooth line as the person sees it: the heel on the side where the handle is."""

    _told: tuple[State, Saw, bool] | None = None

    def show(self, state: State, saw: Saw, *, ascii_only: bool) -> None:
        """Show the line of this moment."""
        self._told = (state, saw, ascii_only)
        self._draw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new room."""
        self._draw()

    def _draw(self) -> None:
        pass
