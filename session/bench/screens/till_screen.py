"""The till: the saws one owns, an interrupted sharpening on top."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import OptionList

from session.bench.widgets.choice_list import ChoiceList
from session.bench.widgets.words import Words
from session.files.settings import Settings
from session.log.sitting import Sitting
from session.machine.clock import Clock
from session.machine.refusal import Refusal
from session.till.till_folder import Till, slug
from session.till.till_list import Entry, entries, open_entry


class TillScreen(Screen[None]):
    """A list to start or resume from; a sitting that was opened is given to ``opens``."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space,pagedown,right", "open", "open", show=False),
        Binding("q,ctrl+q,ctrl+c", "leave", "leave", show=False),
    ]

    def __init__(
        self,
        till: Till,
        settings: Settings,
        clock: Clock,
        complaints: tuple[str, ...],
        opens: Callable[[Sitting], None],
    ) -> None:
        super().__init__()
        self._till = till
        self._settings = settings
        self._clock = clock
        self._complaints = complaints
        self._opens = opens
        self._entries: list[Entry] = []
        self._leaving = False

    def compose(self) -> ComposeResult:
        """Title, the saws, a line for what went wrong, and the keys."""
        yield Words(f"Toothline · the till at {self._till.path}", id="till-title")
        yield ChoiceList(id="till-list")
        yield Words("\n".join(self._complaints), id="till-note")
        yield Words("Enter or Space opens · ↑ ↓ choose · q, q leaves", id="till-foot")

    def on_mount(self) -> None:
        """List the saws, unless a bench was opened over them at once: then the list is read when it closes."""
        self.set_class(self._settings.drawing == "ascii", "ascii")
        if self.is_current:
            self.look_again()

    def look_again(self) -> None:
        """Read the till anew."""
        self._entries = entries(self._till)
        needs = self._what_each_needs()
        rows = (f"  {one.words}" + (f"\n    {needs[one.own]}" if one.own in needs else "") for one in self._entries)
        saws = self.query_one(ChoiceList)
        saws.fill(rows, chosen=0)
        saws.focus()

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

        told = {name: next_visit(self._till, name, self._clock.now()) for name in own}
        return {name: lines[0] for name, lines in told.items() if lines}

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Start or resume the chosen one; what stands in the way is said, nothing is lost."""
        self._open(self._entries[event.option_index])

    def action_open(self) -> None:
        """The chosen one, by one of the advance keys."""
        chosen = self.query_one(ChoiceList).highlighted
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
        try:
            sitting = open_entry(self._till, entry, self._clock, self._settings)
        except (ValueError, OSError) as wrong:
            self.say(str(wrong))
            return
        self.say("")
        self._opens(sitting)

    def say(self, note: str) -> None:
        """Show ``note`` under the list."""
        self.query_one("#till-note", Words).say(note)
