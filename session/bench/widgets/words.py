"""Plain words on the screen. Names, notes and reasons are the user's: never read as markup."""

from __future__ import annotations

from typing import Any

from rich.cells import cell_len
from rich.segment import Segment
from textual.content import Content
from textual.strip import Strip
from textual.widgets import Static

from session.bench.widgets.kept_lines import KeptLines
from session.pictures.ascii_signs import drawn


class Words(KeptLines, Static):
    """A Static that takes its text literally, in ASCII signs where the app draws in ASCII."""

    def __init__(self, text: str = "", **kwargs: Any) -> None:
        super().__init__(Content(text), markup=False, **kwargs)
        self._first = text

    def on_mount(self) -> None:
        """Draw what was given before there was an app to ask."""
        if self._first:
            self.say(self._first)

    def say(self, text: str) -> None:
        """Show ``text``. The screen is laid out anew only where it takes other room than what stood here."""
        self._first = ""
        content = Content(drawn(text, ascii_only=getattr(self.app, "ascii_only", False)))
        if content != self.content:
            self.update(content, layout=self._takes_other_room(content))

    def _takes_other_room(self, content: Content) -> bool:
        """Whether ``content`` may need other rows or columns than the widget has. Laying out is half a key's cost."""
        # Where the style sheet says nothing, a widget fills the room there is.
        wide, high = self.styles.width, self.styles.height
        if not self.size or (wide is not None and wide.is_auto):
            return True
        if high is None or not high.is_auto:
            return False
        width, height = self.size
        return (1 if _one_row(content.plain, width) else content.get_height({}, width)) != height

    def render_line(self, y: int) -> Strip:
        """One row; a text of no more than one is drawn as it stands, without being wrapped."""
        text = self.content.plain if isinstance(self.content, Content) else ""
        if y or not text or self.text_selection is not None or not _one_row(text, self.size.width):
            return super().render_line(y)
        # Textual finds by its offsets what is selected with a mouse.
        return Strip([Segment(text, self.visual_style.rich_style)]).apply_offsets(0, y)


def _one_row(text: str, width: int) -> bool:
    return "\n" not in text and cell_len(text) <= width
