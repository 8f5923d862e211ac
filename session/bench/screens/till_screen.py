"""The till: the saws one owns, an interrupted sharpening on top."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from session.bench.widgets.words import Words
from session.machine.refusal import Refusal
from session.pictures.ascii_signs import drawn
from session.till.till_folder import Till, slug
from session.till.till_list import Entry, entries, open_entry

if TYPE_CHECKING:
    from session.bench.app import BenchApp


class TillScreen(Screen[None]):
    """A list to start or resume from."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space,pagedown,right", "open", "open", show=False),
        Binding("q,ctrl+q,ctrl+c", "leave", "leave", show=False),
    ]

    def __init__(self, till: Till, complaints: tuple[str, ...]) -> None:
        super().__init__()
        self._till = till
        self._complaints = complaints
        self._entries: list[Entry] = []
        self._needs: dict[str, str] = {}
        self._leaving = False

    def compose(self) -> ComposeResult:
        """Title, the saws, a line for what went wrong, and the keys."""
        yield Words(f"Toothline · the till at {self._till.path}", id="till-title")
        yield OptionList(id="till-list", markup=False)
        yield Words("\n".join(self._complaints), id="till-note")
        yield Words("Enter or Space opens · ↑ ↓ choose · q, q leaves", id="till-foot")

    def on_mount(self) -> None:
        """List the saws."""
        self.set_class(self._bench().ascii_only, "ascii")
        self.look_again()

    def look_again(self) -> None:
        """Read the till anew."""
        self._entries = entries(self._till)
        self._needs = self._what_each_needs()
        saws = self.query_one(OptionList)
        saws.clear_options()
        saws.add_options(Option(self._row(entry, chosen=False)) for entry in self._entries)
        if self._entries:
            saws.highlighted = 0
        saws.focus()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Point at the chosen one with a sign, so that it is not told by color alone (bench rule 7)."""
        for index, entry in enumerate(self._entries[: event.option_list.option_count]):
            row = self._row(entry, chosen=index == event.option_index)
            event.option_list.replace_option_prompt_at_index(index, row)

    def _row(self, entry: Entry, *, chosen: bool) -> Content:
        need = f"\n    {self._needs[entry.own]}" if entry.own in self._needs else ""
        return Content(drawn(f"{'▶' if chosen else ' '} {entry.words}{need}", ascii_only=self._bench().ascii_only))

    def _what_each_needs(self) -> dict[str, str]:
        """For each of the till's own saws with records, when it is due and why."""
        try:
            recorded = set(self._till.log_folders())
        except Refusal as wrong:
            self.say(str(wrong))
            return {}
        own = [entry.own for entry in self._entries if entry.own and slug(entry.own) in recorded]
        if not own:
            return {}
        # A till without records need not wait for the history to load.
        from session.advice.saw_advice import next_visit

        told = {name: next_visit(self._till, name, self._bench().clock.now()) for name in own}
        return {name: lines[0] for name, lines in told.items() if lines}

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Start or resume the chosen one; what stands in the way is said, nothing is lost."""
        self._open(self._entries[event.option_index])

    def action_open(self) -> None:
        """The chosen one, by one of the advance keys."""
        chosen = self.query_one(OptionList).highlighted
        if chosen is not None:
            self._open(self._entries[chosen])

    def action_leave(self) -> None:
        """Leave from the till, with a second press: no single key quits (bench rule 21)."""
        if self._leaving:
            self.app.exit(0)
        self._leaving = True
        self.say("All is saved. q again leaves; any other key stays.")

    def on_key(self, event: events.Key) -> None:
        """Any other key takes the leaving back."""
        if self._leaving and event.key not in ("q", "ctrl+q", "ctrl+c"):
            self._leaving = False
            self.say("")

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
