"""The question asked before leaving: never with one key, and saying that all is saved."""

from __future__ import annotations

from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList

from session.bench.screens.fresh_styles import FreshStyles
from session.bench.widgets.choice_list import ChoiceList
from session.bench.widgets.words import Words

#: Each answer with its line.
_CHOICES: Final = {
    "quit": " q  leave the program",
    "till": " h  hang the saw up: back to the till",
    "stay": " Esc or Space  stay",
}


class Leave(FreshStyles, ModalScreen[str]):
    """Gives "till" or "quit", or "stay"."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("q,ctrl+q,ctrl+c", "answer('quit')", "quit", priority=True),
        Binding("h", "answer('till')", "to the till"),
        Binding("escape,f5,space,enter,pagedown,pageup,n", "answer('stay')", "stay", priority=True),
    ]

    def __init__(self, saved: str) -> None:
        super().__init__()
        self._saved = saved

    @property
    def told(self) -> tuple[str, ...]:
        """What is asked, in words for a voice."""
        keys = ("q: leave the program", "h: hang the saw up, back to the till", "escape or space: stay")
        return ("Leave the bench?", self._saved, *keys)

    def compose(self) -> ComposeResult:
        """What is saved, and the keys."""
        with Vertical(classes="sheet"):
            yield Words("Leave the bench?", classes="sheet-title")
            yield Words(self._saved)
            yield Words("")
            choices = ChoiceList(_CHOICES.values(), classes="sheet-list short")
            choices.can_focus = False
            yield choices

    def on_mount(self) -> None:
        """Draw the frame in ASCII where the app draws so."""
        self.set_class(getattr(self.app, "ascii_only", False), "ascii")

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A line that is touched is the answer."""
        self.dismiss(tuple(_CHOICES)[event.option_index])

    def action_answer(self, answer: str) -> None:
        """Close with ``answer``."""
        self.dismiss(answer)
