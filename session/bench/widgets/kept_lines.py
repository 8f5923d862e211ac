"""The lines of a widget, each made once and kept until it changes, with what stands around them."""

from __future__ import annotations

from typing import Final, Self

from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.geometry import Region, Size, Spacing
from textual.strip import Strip

from session.bench.one_frame import FrameWidget


class _Around:
    """What stands around the words or the picture of a widget of one size, and its lines so far."""

    def __init__(self, size: Size, gutter: Spacing, edge: tuple[str, Color], ground: Color) -> None:
        blank = Style(bgcolor=ground.rich_color)
        kind, ink = edge
        drawn = Segment("|" if kind == "ascii" else "│", Style(color=(ground + ink).rich_color, bgcolor=blank.bgcolor))
        self.size: Final = size
        self.ground: Final = ground
        self.columns: Final = size.width - gutter.width
        self.rows: Final = range(gutter.top, size.height - gutter.bottom)
        self.blank: Final = blank
        within = gutter.left - bool(kind)
        self.left: Final = [*([drawn] if kind else []), *([Segment(" " * within, blank)] if within else [])]
        self.right: Final = [Segment(" " * gutter.right, blank)] if gutter.right else []
        self.lines: Final[dict[int, Strip]] = {}


class KeptLines(FrameWidget):
    """Stands before Textual's widget among the bases of one of ours that draws itself by `render_line`, within padding
    and an edge on its left; with any other border it is Textual that draws it."""

    _around: _Around | None = None

    def refresh(self, *regions: Region, repaint: bool = True, layout: bool = False, recompose: bool = False) -> Self:
        """Have all of it, or ``regions``, made anew."""
        if self._around is not None and repaint:
            if regions:
                first = self._around.rows.start
                for region in regions:
                    for y in region.line_range:
                        self._around.lines.pop(first + y, None)
            else:
                self._around = None
        return super().refresh(*regions, repaint=repaint, layout=layout, recompose=recompose)

    def notify_style_update(self) -> None:
        """Another theme, or another style."""
        super().notify_style_update()
        self._around = None

    def render_lines(self, crop: Region) -> list[Strip]:
        """The lines of ``crop``, the ones that changed made anew."""
        around = self._around
        if around is None or around.size != self.outer_size:
            (top, _), (right, _), (bottom, _), left = self.styles.border
            if top or right or bottom or self.styles.opacity != 1.0:
                return super().render_lines(crop)
            ground = self.background_colors[1]
            around = self._around = _Around(self.outer_size, self.gutter, left, ground)
        lines = [around.lines.get(y) or self._made(around, y) for y in crop.line_range]
        first, last = crop.column_span
        return lines if (first, last) == (0, around.size.width) else [line.crop(first, last) for line in lines]

    def _made(self, around: _Around, y: int) -> Strip:
        within = self.render_line(y - around.rows.start) if y in around.rows else Strip([])
        within = within.adjust_cell_length(around.columns, around.blank)
        line = Strip([*around.left, *within, *around.right], around.size.width)
        for line_filter in self.get_line_filters():
            line = line.apply_filter(line_filter, around.ground)
        around.lines[y] = line
        return line
