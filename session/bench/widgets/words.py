"""Plain words on the screen. Names, notes and reasons are the user's: never read as markup."""

from __future__ import annotations

from typing import Any

from textual.content import Content
from textual.widgets import Static

from session.bench.one_frame import FrameWidget
from session.pictures.ascii_signs import drawn


class Words(FrameWidget, Static):
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
        grows = high is not None and high.is_auto
        return grows and content.get_height({}, self.size.width) != self.size.height
