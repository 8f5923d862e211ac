"""Plain words on the screen. Names, notes and reasons are the user's: never read as markup."""

from __future__ import annotations

from typing import Any

from textual.content import Content
from textual.widgets import Static


class Words(Static):
    """A Static that takes its text literally."""

    def __init__(self, text: str = "", **kwargs: Any) -> None:
        super().__init__(Content(text), markup=False, **kwargs)

    def say(self, text: str) -> None:
        """Show ``text``."""
        self.update(Content(text))
