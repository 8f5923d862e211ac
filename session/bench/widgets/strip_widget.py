"""The strip of the whole line, with the place in hand on it."""

from __future__ import annotations

from textual import events

from session.bench.widgets.drawing import Drawing
from session.pictures.line_strip import strip
from session.walk.line_states import LineStanding


class LineStrip(Drawing):
    """The tooth line as the person sees it: the heel on the side where the handle is."""

    _told: tuple[LineStanding, str, bool] | None = None

    def show(self, line: LineStanding, handle: str, *, ascii_only: bool) -> None:
        """Show ``line`` with the handle on the person's ``handle``, "right" or "left"."""
        self._told = (line, handle, ascii_only)
        self._draw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new room."""
        self._draw()

    def _draw(self) -> None:
        if self._told is None or self.size.width < 1 or self.size.height < 1:
            return
        line, handle, ascii_only = self._told
        self.rows = strip(
            line.teeth,
            line.hand,
            line.reaches,
            1 if handle == "right" else 2,
            self.size.width,
            height=min(3, self.size.height),
            flags=line.flagged,
            ascii=ascii_only,
        )
