"""The recipe that a form wrote, shown whole, and whether the saw's sharpening is begun at once."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen

from session.bench.screens.fresh_styles import FreshStyles
from session.bench.widgets.words import Words


class HungUp(FreshStyles, ModalScreen[bool]):
    """Gives whether its sharpening is to begin."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("s", "answer(True)", "sharpen it now"),
        Binding("escape,f5,enter,space,q,ctrl+q,ctrl+c", "answer(False)", "to the till", priority=True),
    ]

    def __init__(self, done: str, where: str, text: str) -> None:
        super().__init__()
        self._done = done
        self._where = where
        self._text = text

    def compose(self) -> ComposeResult:
        """Where it is, what stands in it, and the keys."""
        with Vertical(classes="sheet"):
            yield Words(f"{self._done}: {self._where}", classes="sheet-title")
            yield Words("This is its file. In the till, e changes it by the form and keeps your comments.")
            with VerticalScroll(classes="sheet-body"):
                yield Words(self._text)
            yield Words("s sharpens it now · ↑ ↓ show the rest · Enter or Esc to the till", classes="foot")

    def on_mount(self) -> None:
        """Draw the frame in ASCII where the app draws so, and let the arrows scroll."""
        self.set_class(getattr(self.app, "ascii_only", False), "ascii")
        self.query_one(VerticalScroll).focus()

    def action_answer(self, answer: bool) -> None:
        """Close with ``answer``."""
        self.dismiss(answer)
