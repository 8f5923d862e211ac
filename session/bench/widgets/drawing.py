"""A picture on the screen: rows of text from `session.pictures`, with a style for each role."""

from __future__ import annotations

from typing import ClassVar

from rich.segment import Segment
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from session.pictures.picture_rows import Role, Rows


class Drawing(Widget, inherit_css=True):
    """Draws the rows it is given, one Segment a run: far cheaper than styled text cell by cell."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"ink--{role.value.replace(' ', '-')}" for role in Role}

    rows: reactive[Rows] = reactive((), layout=False)

    def render_line(self, y: int) -> Strip:
        """One row of the picture, padded to the widget's width."""
        ground = self.rich_style
        if y >= len(self.rows):
            return Strip.blank(self.size.width, ground)
        segments = [
            Segment(run.text, self.get_component_rich_style(f"ink--{run.role.value.replace(' ', '-')}", partial=False))
            for run in self.rows[y]
        ]
        return Strip(segments).adjust_cell_length(self.size.width, ground)
