"""What one press changes on the screen, gathered from its widgets and drawn in one go.

Left to itself, each widget that changed wakes by a message and tells its screen by another; a moment later the screen
asks all widgets for all their rows, those that stayed among them: a third of what a key costs.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Self

from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

if TYPE_CHECKING:
    _Of = Widget
else:
    # Textual takes the style rules of a widget's first base: that is to be the widget which this one stands before.
    _Of = object


class Frame:
    """The rows that changed, by their widgets, until they are drawn."""

    def __init__(self) -> None:
        self._changed: dict[Widget, set[int] | None] = {}
        #: Widgets are about to take other room, so that what they show is drawn once they have it.
        self.moves = False

    def add(self, widget: Widget, regions: tuple[Region, ...]) -> None:
        """``regions`` of what ``widget`` holds have changed; none named, all of it."""
        rows = self._changed.setdefault(widget, set())
        if not regions:
            self._changed[widget] = None
        elif rows is not None:
            top = widget.content_offset.y
            rows.update(top + y for region in regions for y in region.line_range)

    @property
    def stays(self) -> bool:
        """Whether there is something that changed, and all of it has its room on the screen, and keeps it."""
        return not self.moves and bool(self._changed) and all(widget.region for widget in self._changed)

    def take(self) -> None:
        """Let no widget tell the screen that it changed: the frame draws it."""
        for widget in self._changed:
            widget._repaint_required = False

    def leave(self) -> None:
        """Let each widget tell the screen by itself that it changed."""
        for widget in self._changed:
            widget.check_idle()

    def parts(self) -> Iterator[tuple[int, int, Strip]]:
        """Each row that changed, with the column and row of the screen where it begins, from above to below."""
        parts: list[tuple[int, int, Strip]] = []
        for widget, changed in self._changed.items():
            x, y, width, height = widget.region
            rows = range(height) if changed is None else [row for row in sorted(changed) if row < height]
            if rows:
                first = rows[0]
                strips = widget.render_lines(Region(0, first, width, rows[-1] + 1 - first))
                parts += [(x, y + row, strips[row - first]) for row in rows]
        yield from sorted(parts, key=lambda part: (part[1], part[0]))


class FrameWidget(_Of):
    """Stands before Textual's widget among the bases of one of ours: what changes of it goes into the app's frame."""

    _framed = False

    def refresh(self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False) -> Self:
        """Have it drawn anew: with the app's frame while there is one, else as Textual does."""
        frame = getattr(self.app, "frame", None) if self.is_mounted else None
        if isinstance(frame, Frame):
            frame.moves |= layout or recompose
            frame.add(self, regions)
            self._framed = not (layout or recompose)
        super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)
        self._framed = False
        return self

    def check_idle(self) -> None:
        """Wake to tell the screen what has to be done; of what the frame draws there is nothing to tell."""
        if not self._framed:
            super().check_idle()
