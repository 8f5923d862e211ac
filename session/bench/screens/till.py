"""The till: the saws one owns, an interrupted sharpening on top."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from session.bench.signs import drawn
from session.bench.widgets.words import Words
from session.records.till import Till
from session.records.till_list import Entry, entries, open_entry

if TYPE_CHECKING:
    from session.bench.app import BenchApp


class TillScreen(Screen[None]):
    """A list to start or resume from."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space,pagedown,right", "open", "open", show=False),
        Binding("q", "leave", "leave", show=False),
    ]

    def __init__(self, till: Till, complaints: tuple[str, ...]) -> None:
        super().__init__()
        self._till = till
        self._complaints = complaints
        self._entries: list[Entry] = []

    def compose(self) -> ComposeResult:
        """Title, the saws, a line for what went wrong, and the keys."""
        yield Words(f"Toothline · the till at {self._till.path}", id="till-title")
        yield OptionList(id="till-list", markup=False)
        yield Words("\n".join(self._complaints), id="till-note")
        yield Words("Enter or Space opens · ↑ ↓ choose · q leaves", id="till-foot")

    def on_mount(self) -> None:
        """List the saws."""
        self.look_again()

    def look_again(self) -> None:
        """Read the till anew."""
        self._entries = entries(self._till)
        saws = self.query_one(OptionList)
        saws.clear_options()
        ascii_only = self._bench().ascii_only
        saws.add_options(Option(Content(drawn(entry.words, ascii_only=ascii_only))) for entry in self._entries)
        if self._entries:
            saws.highlighted = 0
        saws.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Start or resume the chosen one; what stands in the way is said, nothing is lost."""
        self._open(self._entries[event.option_index])

    def action_open(self) -> None:
        """The chosen one, by one of the advance keys."""
        chosen = self.query_one(OptionList).highlighted
        if chosen is not None:
            self._open(self._entries[chosen])

    async def action_leave(self) -> None:
        """Leave from the till."""
        self._bench().action_leave()

    def _open(self, entry: Entry) -> None:
        app = self._bench()
        try:
            sitting = open_entry(self._till, entry, app.clock, app.settings)
        except (ValueError, OSError) as wrong:
            self.say(str(wrong))
            return
        self.say("")
        app.open_bench(sitting)

    def say(self, note: str) -> None:
        """Show ``note`` under the list."""
        self.query_one("#till-note", Words).say(note)

    def _bench(self) -> BenchApp:
        return cast("BenchApp", self.app)
