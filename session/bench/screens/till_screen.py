"""The till: the saws one owns, an interrupted sharpening on top."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import ClassVar, Final, TypeVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.timer import Timer
from textual.widgets import OptionList

from session.bench.screens.fresh_styles import FreshStyles
from session.bench.widgets.choice_list import ChoiceList
from session.bench.widgets.words import Words
from session.desk.press_guards import Guards
from session.desk.read_aside import ReadAside
from session.files.saw_names import names_inside
from session.files.settings import Settings
from session.log.sitting import Sitting
from session.machine.clock import Clock
from session.machine.disk import REAL
from session.machine.lock import LockHeld, is_held
from session.machine.refusal import Refusal
from session.till.till_folder import Till, slug
from session.till.till_list import Entry, entries, open_entry, saw_entries

T = TypeVar("T")

#: So many files of records are read before the first row is shown; more, beside the screen (judgment).
READ_AT_ONCE: Final = 100

#: So often it is looked whether a log that another has open is free, in seconds (judgment).
LOOKS_S: Final = 1.0


class TillScreen(FreshStyles, Screen[None]):
    """A list to start or resume from; a sitting that was opened is given to ``opens``.

    worked: the saw just worked, if any, which is in hand first. told: what is said of that.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space,pagedown,right", "open", "open", show=False),
        Binding("n", "hang_up", "hang up a saw", show=False),
        Binding("e", "change", "change a saw", show=False),
        Binding("p", "practice", "practice", show=False),
        Binding("q,ctrl+q,ctrl+c", "leave", "leave", show=False),
    ]

    def __init__(
        self,
        till: Till,
        settings: Settings,
        clock: Clock,
        complaints: tuple[str, ...],
        opens: Callable[[Sitting], None],
        hangs_up: Callable[[Path | None], None],
        *,
        worked: str = "",
        told: str = "",
        practices: Callable[[], object] | None = None,
    ) -> None:
        super().__init__()
        self._till = till
        self._settings = settings
        self._clock = clock
        self._complaints = complaints
        self._opens = opens
        self._hangs_up = hangs_up
        #: Opens the practice, where that is offered.
        self._practices = practices
        self._entries: list[Entry] = []
        self._guards: Final = Guards(clock, settings.guard_ms / 1000)
        #: The saw that was worked last, as long as the till has been open.
        self._worked = worked
        self._told = told
        #: The row that came into hand by itself after a sharpening: the key that led here does not open it.
        self._unchosen: Entry | None = None
        #: Looks whether a log that another has open is free, while the note says that it is not.
        self._watching: Timer | None = None
        self._leaving = False
        self._title = f"Toothline · the till at {till.path}"
        #: More of the till is on its way.
        self.waits = False

    def compose(self) -> ComposeResult:
        """Title, the saws, a line for what went wrong, and the keys."""
        yield Words(self._title, id="till-title")
        yield ChoiceList(id="till-list")
        yield Words("\n".join(self._complaints), id="till-note")
        # With one key more, the row still has to end within 80 columns.
        opens, practice = ("Space", " · p practice") if self._practices is not None else ("Enter or Space", "")
        yield Words(f"{opens} opens · ↑ ↓ choose · n new saw · e change it{practice} · q, q leaves", id="till-foot")

    def on_mount(self) -> None:
        """List the saws."""
        self.set_class(self._settings.drawing == "ascii", "ascii")
        self.look_again(self._worked, self._told)

    def look_again(self, worked: str = "", told: str = "") -> None:
        """Read the till anew: at once where that is little, else the saws first and what the records say beside it.

        worked: the saw just worked, if any, which is in hand then. told: what is said of that under the list.
        """
        if told:
            self.say("\n".join((*self._complaints, told)))
        self._worked, self._unchosen = worked, None
        if worked:
            # The press that led here may be held: what repeats it opens nothing.
            self._guards.repeats()
        self.query_one(ChoiceList).focus()
        if self._till.holds_more_than(READ_AT_ONCE):
            self._fill(saw_entries(self._till), kept=False)
            self.waits = True
            self.run_worker(self._read_on(), exclusive=True)
        else:
            self._fill(entries(self._till), kept=False)
            self._fill(self._entries, self._what_each_needs())

    def led_here(self) -> None:
        """Note that a key led here just now: held on, it opens nothing."""
        self._guards.repeats()

    async def _read_on(self) -> None:
        """The rest of the till, which may take a while: the logs that wait first, then what each saw needs."""
        title, first = self.query_one("#till-title", Words), self.query_one(ChoiceList).highlighted
        title.say(self._title.replace(" · ", " · reading the records … · ", 1))
        found = await self._aside(lambda: entries(self._till))
        # What waits stands on top and in hand, unless somebody has chosen already.
        self._fill(found, kept=self.query_one(ChoiceList).highlighted != first)
        self._fill(self._entries, await self._aside(self._what_each_needs))
        title.say(self._title)
        self.waits = False

    async def _aside(self, read: Callable[[], T]) -> T:
        loop, there = asyncio.get_running_loop(), asyncio.Event()

        def told() -> None:
            if not loop.is_closed():
                loop.call_soon_threadsafe(there.set)

        reading = ReadAside(read, told)
        if not reading.ready():
            await there.wait()
        return reading()

    def _fill(self, found: list[Entry], needs: Mapping[str, str] = MappingProxyType({}), *, kept: bool = True) -> None:
        """List ``found``, each saw with what it needs; with the same row in hand as before where that is ``kept``."""
        saws = self.query_one(ChoiceList)
        hand = saws.highlighted
        before = self._entries[hand] if kept and hand is not None and hand < len(self._entries) else None
        self._entries = found
        rows = (f"  {one.words}" + (f"\n    {needs[one.own]}" if one.own in needs else "") for one in found)
        worked = next((n for n, one in enumerate(found) if self._worked and one.name == self._worked), 0)
        chosen = found.index(before) if before in found else worked
        if self._worked and not kept and found:
            self._unchosen = found[chosen]
        saws.fill(rows, chosen=chosen)

    def _what_each_needs(self) -> dict[str, str]:
        """For each of the till's own saws with records, when it is due and why, and whether it is due for set."""
        try:
            recorded = set(self._till.log_folders())
        except Refusal as wrong:
            self.app.call_later(self.say, str(wrong))
            return {}
        own = [entry.own for entry in self._entries if entry.own and self._is_recorded(entry, recorded)]
        if not own:
            return {}
        # A till without records need not wait for the history to load.
        from session.advice.next_time import SET_IT
        from session.advice.saw_advice import next_visit

        told = {name: next_visit(self._till, name, self._clock.now()) for name in own}
        return {
            name: "\n    ".join([lines[0], *(line for line in lines[1:] if line.startswith(SET_IT))])
            for name, lines in told.items()
            if lines
        }

    def _is_recorded(self, entry: Entry, recorded: set[str]) -> bool:
        """Whether the saw of ``entry`` has a folder of logs, under its name or one of before."""
        names = (entry.own, *(names_inside(entry.recipe)[1:] if entry.recipe is not None else ()))
        return any(slug(name) in recorded for name in names)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Start or resume the chosen one; what stands in the way is said, nothing is lost."""
        self._open(self._entries[event.option_index])

    def action_open(self) -> None:
        """The chosen one, by one of the advance keys."""
        chosen = self.query_one(ChoiceList).highlighted
        if chosen is not None:
            self._open(self._entries[chosen])

    def action_hang_up(self) -> None:
        """Open the form for a saw of one's own."""
        self._form(None)

    def action_change(self) -> None:
        """Open the form for the chosen saw, where it is one's own."""
        chosen = self.query_one(ChoiceList).highlighted
        entry = self._entries[chosen] if chosen is not None and chosen < len(self._entries) else None
        if entry is not None and entry.form:
            self._open(entry)
        elif entry is None or not entry.own or entry.recipe is None:
            self.say("e changes a saw of your own; a supplied one stays as it is: n hangs up one like it.")
        else:
            self._form(entry.recipe)

    def _form(self, recipe: Path | None) -> None:
        """Open the form, to change ``recipe`` where there is one; what stands in the way is said."""
        try:
            self._hangs_up(recipe)
        except Refusal as wrong:
            self.say(str(wrong))

    def action_practice(self) -> None:
        """Open the practice, where it is offered."""
        if self._practices is not None:
            self._practices()

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
        if self._guards.repeats():
            return
        unchosen, self._unchosen = self._unchosen, None
        if entry == unchosen:
            begins = "goes on with" if entry.log is not None else "begins another sharpening of"
            self.say(f"The same key again {begins} {entry.name or 'this one'}.")
            return
        if entry.form:
            self._form(entry.recipe)
            return
        try:
            sitting = open_entry(self._till, entry, self._clock, self._settings)
        except (ValueError, OSError) as wrong:
            self.say(str(wrong))
            if isinstance(wrong, LockHeld) and entry.log is not None:
                self._watch(entry.log)
            return
        self.say("")
        self._opens(sitting)

    def _watch(self, log: Path) -> None:
        """Look whether another still has ``log``, and say when it was let go of: the note is not true for longer."""

        def look() -> None:
            if not is_held(log, REAL):
                self.say("Nobody else has it open any more: Enter goes on with it.")

        self._watching = self.set_interval(LOOKS_S, look)

    def say(self, note: str) -> None:
        """Show ``note`` under the list."""
        if self._watching is not None:
            self._watching.stop()
            self._watching = None
        self.query_one("#till-note", Words).say(note)
