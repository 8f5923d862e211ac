"""The side sign: which side is worked, by word, by its place on the screen and by its shape."""

from __future__ import annotations

from textual import events

from session.bench.widgets.drawing import Drawing
from session.pictures.side_sign import side_sign


class SideSign(Drawing):
    """Stands at the right edge for side 1 and at the left edge for side 2, where the handle is."""

    def show(self, side: int, handle: str, *, ascii_only: bool) -> None:
        """Show ``side`` (0: none matters) with the handle on the person's ``handle``."""
        self._told = (side, handle, ascii_only)
        self._draw()

    _told: tuple[int, str, bool] = (0, "right", False)

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new room."""
        self._draw()

    def _draw(self) -> None:
        side, handle, ascii_only = self._told
        self.rows = side_sign(side, handle, self.size.width, self.size.height, ascii=ascii_only)
