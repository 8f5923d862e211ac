"""The question asked before leaving: never with one key, and saying that all is saved."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen

from session.bench.widgets.words import Words


class Leave(ModalScreen[str]):
    """Gives "till" or "quit", or "stay"."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("q,ctrl+q,ctrl+c", "answer('quit')", "quit", priority=True),
        Binding("h", "answer('till')", "to the till"),
        Binding("escape,f5,space,enter,pagedown,pageup,n", "answer('stay')", "stay", priority=True),
    ]

    def __init__(self, saved: str) -> None:
        super().__init__()
        self._saved = saved

    def compose(self) -> ComposeResult:
        """What is saved, and the keys."""
        with Vertical(classes="sheet"):
            yield Words("Leave the bench?", classes="sheet-title")
            yield Words(self._saved)
            yield Words("")
            yield Words(" q  leave the program", classes="choice")
            yield Words(" h  hang the saw up: back to the till", classes="choice")
            yield Words(" Esc or Space  stay", classes="choice")

    def on_mount(self) -> None:
        """Draw the frame in ASCII where the app draws so."""
        self.set_class(getattr(self.app, "ascii_only", False), "ascii")

    def on_click(self, event: events.Click) -> None:
        """A line that is touched is the answer."""
        touched, _ = self.get_widget_at(event.screen_x, event.screen_y)
        for choice, answer in zip(self.query(".choice"), ("quit", "till", "stay"), strict=True):
            if touched is choice:
                self.dismiss(answer)

    def action_answer(self, answer: str) -> None:
        """Close with ``answer``."""
        self.dismiss(answer)
