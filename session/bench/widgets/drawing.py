"""A picture on the screen: rows of text from `session.pictures`, with a style for each role."""

from __future__ import annotations

from collections.abc import Callable
from itertools import zip_longest
from typing import Final

from rich.segment import Segment
from textual import events
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from session.bench.widgets.kept_lines import KeptLines
from session.pictures.picture_rows import Role, Rows

#: The inks by role, as the style sheet names them: component classes of the screen that holds the drawings. Were they
#: each drawing's own, every one of them would be looked up in the style sheet again for each drawing.
INKS: Final = {role: f"ink--{role.value.replace(' ', '-')}" for role in Role}


class Drawing(KeptLines, Widget, inherit_css=True):
    """Draws its picture in the room it has, one Segment a run: far cheaper than styled text cell by cell.

    Only the rows that changed are drawn anew. The screen that it stands on has `INKS` among its component classes.
    """

    rows: Rows = ()

    _picture: Callable[[int, int], Rows] | None = None

    def draw(self, picture: Callable[[int, int], Rows], wider: int = 0) -> None:
        """Show ``picture``, rows for so many columns and rows; drawn anew whenever the room is another.

        wider: columns that the room is about to gain (or, below 0, to lose), for which it is drawn already.
        """
        self._picture = picture
        self._fill(wider)

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new room."""
        self._fill()

    def _fill(self, wider: int = 0) -> None:
        width, height = self.size
        width += wider if width else 0
        if self._picture is None or width <= 0 or height <= 0:
            return
        before, self.rows = self.rows, self._picture(width, height)
        both = zip_longest(before, self.rows)
        changed = [Region(0, y, width, 1) for y, (was, row) in enumerate(both) if was != row]
        if changed:
            self.refresh(*changed)

    def render_line(self, y: int) -> Strip:
        """One row of the picture."""
        if y >= len(self.rows):
            return Strip([])
        ink = self.screen.get_component_rich_style
        return Strip([Segment(run.text, ink(INKS[run.role], partial=False)) for run in self.rows[y]])
