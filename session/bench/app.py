"""The Textual application: which screen is open, and how the program ends."""

from __future__ import annotations

import asyncio
import gc
import os
import signal
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, Final, TypeVar

from textual.binding import Binding, BindingType
from textual.screen import Screen

from session.advice.saw_records import SawRecords
from session.bench.drawn_app import DrawnApp
from session.bench.screens.bench_screen import BenchScreen
from session.bench.screens.till_screen import READ_AT_ONCE, TillScreen
from session.bench.terminal_driver import WatchedDriver
from session.bench.themes import inks_for, wear_theme, without_color
from session.bench.voice import begin_speech
from session.desk.desk import Desk
from session.desk.key_table import USUAL_KEYS, keymap
from session.desk.read_aside import ReadAside
from session.desk.save_thread import SaveThread
from session.files.settings import Settings
from session.log.sitting import Sitting
from session.machine.clock import Clock
from session.machine.ending_signals import ENDING
from session.machine.refusal import HUNG_UP, INTERRUPTED
from session.machine.speech import Speech
from session.machine.untrusted_text import read_text, shown
from session.sentences.offers import Act
from session.texts.guidance import Level
from session.till.till_folder import Till
from session.till.till_list import begin
from session.walk.known_bites import KnownBites

if TYPE_CHECKING:
    from session.form.own_saw_form import OwnSawForm

T = TypeVar("T")

#: Seconds after which nobody waits for the first screen any more.
_OPENED_S: Final = 1.0


class BenchApp(DrawnApp):
    """The program at the bench. Opens the till, or goes straight to a sitting when given one."""

    TITLE = "Toothline"
    CSS_PATH = "style.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        # Textual quits on ctrl+q by itself; here no single key does (bench rule 21): each screen asks in its own words.
        Binding("ctrl+q,ctrl+c", "screen.leave", show=False, priority=False),
        Binding("ctrl+z", "suspend_process", show=False, priority=True),
    ]

    def __init__(
        self,
        till: Till,
        settings: Settings,
        clock: Clock,
        *,
        sitting: Sitting | None = None,
        note: str = "",
        form: OwnSawForm | None = None,
        practice: Callable[[], Screen[None]] | None = None,
        complaints: tuple[str, ...] = (),
        environment: Mapping[str, str] = os.environ,
    ) -> None:
        plain = without_color(environment)
        # Told at once: Textual picks its filter here, and its gray one would send colors all the same.
        super().__init__(ansi_color=True if plain else None, driver_class=WatchedDriver)
        self.terminal: WatchedDriver | None = None
        self._loop: asyncio.AbstractEventLoop | None = None
        self._former: dict[int, Any] = {}
        self.till: Final = till
        self.settings: Final = settings
        self.clock: Final = clock
        self.keys: Final[dict[Act, tuple[str, ...]]] = keymap(settings.keys)
        self.complaints: Final = complaints
        self.sitting = sitting
        self._note: Final = note
        self._form = form
        self._practice: Final = practice
        self.last_log: Path | None = None
        self._desk: Desk | None = None
        self._saving: SaveThread | None = None
        self._speech: Speech | None = None
        wear_theme(self, plain or settings.theme)
        self.worn()

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our own inks, for a theme of Textual's that does not know them."""
        return inks_for(self.current_theme)

    async def on_mount(self) -> None:
        """Listen for signals, then open the sitting or the form that was given, else the till."""
        self._loop = asyncio.get_running_loop()
        if self.terminal is not None:
            self.set_timer(_OPENED_S, _look_what_can_go)
        for number in ENDING:
            self._end_on(number, 128 + number)
        self._end_on(signal.SIGINT, INTERRUPTED)
        self.set_keymap({str(act): ",".join(keys) for act, keys in self.keys.items() if keys != USUAL_KEYS[act]})
        if self.sitting is not None:
            self.open_bench(self.sitting, self._note)
        elif self._form is not None:
            self._show_form(self._form)
        else:
            await self._show_till()

    def _end_on(self, number: int, code: int) -> None:
        """End with ``code`` on a signal, even while the screen's own thread waits for a terminal to take a drawing.

        The event loop's own handlers would wait for that thread; Python's run in it, whatever it waits for.
        """

        def told(_number: int, _frame: object) -> None:
            if self.terminal is not None:
                self.terminal.hurry(code)
            if self._loop is not None:
                self._loop.call_soon_threadsafe(self._stop, code)

        self._former[number] = signal.signal(number, told)

    def on_unmount(self) -> None:
        """Leave signals as they were found."""
        for number, former in self._former.items():
            signal.signal(number, former)

    def terminal_opened(self, terminal: WatchedDriver) -> None:
        """Keep the terminal, to ask it what it has shown."""
        self.terminal = terminal

    def terminal_gone(self) -> None:
        """The other end of the terminal is gone, told on another thread: end as a closed window does."""
        if self._loop is not None:
            self._loop.call_soon_threadsafe(self._stop, HUNG_UP)

    def open_form(self, recipe: Path | None = None) -> None:
        """Open the form for a new saw of one's own, or to change ``recipe``, one of the till.

        Raises Refusal when it is open elsewhere, or cannot be kept.
        """
        # Whoever only sharpens does not wait for it to load.
        from session.form.own_saw_form import change_form, new_saw_form

        if recipe is None:
            self._show_form(new_saw_form(self.till, self.clock, self.settings))
        else:
            self._show_form(change_form(self.till, recipe, self.clock))

    def _show_form(self, form: OwnSawForm) -> None:
        from session.bench.screens.form_screen import FormScreen

        self._form = form
        self.push_screen(FormScreen(form, self.settings.guard_ms / 1000), self._form_closed)

    async def _form_closed(self, recipe: Path | None) -> None:
        done = ""
        if self._form is not None:
            done = self._form.words[2]
            self._form.close()
            self._form = None
        await self._show_till()
        if isinstance(self.screen, TillScreen):
            self.screen.led_here()
        if recipe is None:
            return
        from session.bench.screens.hung_up import HungUp

        def go_on(sharpen: bool | None) -> None:
            if sharpen:
                self._begin(recipe)

        self.push_screen(HungUp(done, shown(recipe), read_text(recipe)), go_on)

    def _begin(self, recipe: Path) -> None:
        """Begin a sharpening of the saw in ``recipe``; what stands in the way is said at the till."""
        try:
            sitting = begin(self.till, recipe, self.clock, self.settings)
        except (ValueError, OSError) as wrong:
            if isinstance(self.screen, TillScreen):
                self.screen.say(str(wrong))
            return
        self.open_bench(sitting)

    async def _show_till(self, worked: str = "", told: str = "") -> None:
        """Show the till as it is now, the saw just ``worked``, if any, in hand, and what is ``told`` of it."""
        if isinstance(self.screen, TillScreen):
            self.screen.look_again(worked, told)
            return
        # Made when it is first seen: whoever only sharpens does not wait for it.
        offered = self._practice
        till = TillScreen(
            self.till,
            self.settings,
            self.clock,
            self.complaints,
            self.open_bench,
            self.open_form,
            worked=worked,
            told=told,
            practices=None if offered is None else lambda: self.push_screen(offered()),
        )
        # A key that is on its way meanwhile finds the saws listed.
        await self.push_screen(till)

    def open_bench(self, sitting: Sitting, note: str = "") -> None:
        """Open the bench on ``sitting``, ``note`` first; closing it lets go of the log."""
        self.sitting = sitting
        self.last_log = sitting.journal.path
        sitting.units = self.settings.units
        desk = Desk(
            sitting,
            guard_s=self.settings.guard_ms / 1000,
            idle_s=float(self.settings.idle_s),
            level=Level(self.settings.guidance),
            next_visit=self._read(lambda: self._next_visit(sitting.saw.name)),
            bites=lambda: self._bites(sitting.saw.name),
            records=self._read(lambda: self._records(sitting.saw.name)),
            account=lambda: _account(sitting.journal.path),
        )
        self._desk = desk
        self._saving = SaveThread()
        self._speech = begin_speech(self.settings, self._unspoken)
        bench = BenchScreen(
            desk,
            self.keys,
            self._saving,
            ascii_only=self.ascii_only,
            most_rows=self.settings.numerals,
            sound=self.settings.sound,
            note=desk.making.torn() or note,
            terminal=self.terminal,
            speaker=self._speech,
        )
        self.push_screen(bench, self._bench_closed)

    def _unspoken(self, why: str) -> None:
        """What keeps the bench from being spoken, told on another thread, perhaps when the bench has closed."""
        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._tell_unspoken, why)

    def _tell_unspoken(self, why: str) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, BenchScreen):
                screen.unspoken(why)

    def _read(self, read: Callable[[], T]) -> Callable[[], T]:
        """``read``, beside the screen where the till holds so much that the screen would wait for it."""
        if not self.till.holds_more_than(READ_AT_ONCE):
            return read

        def told() -> None:
            if self._loop is not None and not self._loop.is_closed():
                self._loop.call_soon_threadsafe(self._tell_records)

        return ReadAside(read, told)

    def _tell_records(self) -> None:
        """Records were read beside the screen: the bench shows what they add, if it is still open."""
        for screen in self.screen_stack:
            if isinstance(screen, BenchScreen):
                screen.records_told()

    def _next_visit(self, name: str) -> tuple[str, ...]:
        # Only a finished sharpening needs the history, so that opening the bench does not wait for it.
        from session.advice.saw_advice import next_visit

        return next_visit(self.till, name, self.clock.now())

    def _records(self, name: str) -> SawRecords:
        # Only the look over needs it.
        from session.advice.saw_advice import saw_records

        return saw_records(self.till, name)

    def _bites(self, name: str) -> KnownBites:
        # Only the first gullet needs it, so that opening the bench does not wait for it.
        from session.till.learned_bite import known_bites

        return known_bites(self.till, name)

    @property
    def ascii_only(self) -> bool:
        """Whether pictures are drawn in plain ASCII."""
        return self.settings.drawing == "ascii"

    @property
    def fault(self) -> str:
        """What the disk would not take in the last sitting, never mended; empty when all is saved."""
        return self._desk.fault if self._desk is not None else ""

    async def _bench_closed(self, answer: str | None) -> None:
        worked = self.sitting.saw.name if self.sitting is not None else ""
        finished = self.sitting is not None and self.sitting.state.finished
        self.release()
        if answer == "quit":
            self.exit(0)
        else:
            told = f'Finished: {worked}. Its record is read again by: toothline show "{worked}"' if finished else ""
            await self._show_till(worked, told)

    def release(self) -> None:
        """Let go of the open log, if one is open."""
        if self._speech is not None:
            self._speech.close()
            self._speech = None
        if self._saving is not None:
            self._saving.close()
        if self._form is not None:
            self._form.close()
        if self.sitting is not None:
            self.sitting.close()
            self.sitting = None

    def _stop(self, code: int) -> None:
        """A signal: once every mark is on disk, only the terminal has to be given back.

        The log is let go of after that, by whoever ran the app: a key on its way may still want to make its mark.
        """
        if self._saving is not None:
            self._saving.settle()
        self.exit(code, return_code=code)


def _look_what_can_go() -> None:
    """Let memory be cleared in short steps from now on: what was loaded stays, and is looked at no more."""
    gc.freeze()
    gc.set_threshold(50_000)


def _account(log: Path) -> tuple[str, ...]:
    # Only a finished sharpening needs it.
    from session.advice.closing_account import account_of

    return account_of(log)
