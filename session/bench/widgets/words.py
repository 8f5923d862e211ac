"""Plain words on the screen. Names, notes and reasons are the user's: never read as markup."""

from __future__ import annotations

from typing import Any

from textual.content import Content
from textual.widgets import Static

from session.pictures.ascii_signs import drawn


class Words(Static):
    """A Static that takes its text literally, in ASCII signs where the app draws in ASCII."""

    def __init__(self, text: str = "", **kwargs: Any) -> None:
        super().__init__(Content(text), markup=False, **kwargs)
        self._first = text

    def on_mount(self) -> None:
        """Draw what was given before there was an app to ask."""
        if self._first:
            self.say(self._first)

    def say(self, text: str) -> None:
        """Show ``text``."""
        self._first = ""
        self.update(Content(drawn(text, ascii_only=getattr(self.app, "ascii_only", False))))
