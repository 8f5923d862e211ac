"""The practice on the screen, in the look of the bench and with its keys."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.screen import Screen

from session.bench.screens.takes_acts import TakesActs
from session.bench.widgets.drawing import INKS, Drawing
from session.bench.widgets.far_panel import ROOMY
from session.bench.widgets.too_small import TooSmall
from session.bench.widgets.touch_bar import TouchBar
from session.bench.widgets.words import Words
from session.desk.key_table import ROWS, USUAL_KEYS
from session.desk.press_guards import Guards
from session.machine.clock import Clock
from session.pictures.large_number import large_number
from session.practice.lesson import Lesson
from session.practice.lesson_picture import lesson_picture
from session.practice.lesson_words import page_of
from session.sentences.offers import Act

#: Acts that mean the same here as at the bench.
_ACTS: Final = (Act.DONE, Act.TAKE_BACK, Act.MORE, Act.LEAVE_OUT, Act.QUIT)


class PracticeScreen(TakesActs, Screen[None]):
    """Ten teeth under the keys; nothing is recorded. Leaving takes two presses, as everywhere (bench rule 21)."""

    COMPONENT_CLASSES: ClassVar[set[str]] = set(INKS.values())
    BINDINGS: ClassVar[list[BindingType]] = [
        *(Binding(str(digit), f"act('{Act.STROKES}', {digit})", show=False) for digit in range(10)),
        *(
            Binding(",".join(USUAL_KEYS[act]), f"act('{act}')", ROWS[act].told, show=False, id=str(act))
            for act in _ACTS
        ),
    ]

    def __init__(self, keymap: Mapping[Act, tuple[str, ...]], clock: Clock, guard_s: float, *, seed: int = 1) -> None:
        super().__init__()
        self.lesson: Final = Lesson(seed)
        self._keymap: Final = keymap
        self._guards: Final = Guards(clock, guard_s)
        self._leaving = False

    def compose(self) -> ComposeResult:
        """Head, the number and the words, the teeth, what is asked, what came of it, and the boxes."""
        with Horizontal(id="head"):
            yield Words("Practice · nothing is recorded", id="saw")
            yield Words("", id="stage")
        with Horizontal(id="main"):
            yield Drawing(id="number")
            with Vertical(id="panel"):
                yield Words("", id="lesson")
        yield Drawing(id="teeth")
        yield Words("", id="flats")
        yield Words("", id="instruction")
        yield Words("", id="came")
        yield TouchBar(self._keymap)
        yield TooSmall(id="small")

    def on_mount(self) -> None:
        """Show the first tooth."""
        self.set_class(bool(getattr(self.app, "ascii_only", False)), "ascii")
        self._show("Grade the flats first, as after leveling. Look at the picture: it is the steel itself.")

    def on_resize(self, event: events.Resize) -> None:
        """Ask for room where there is too little, and draw larger where there is more."""
        self.set_class(not self.query_one(TooSmall).fit(event.size), "small")
        self.set_class(event.size.height >= ROOMY, "roomy")

    def take(self, act: Act, digit: int = 0) -> None:
        """Do an act and show what came of it."""
        if act is Act.QUIT:
            self._leave()
            return
        self._leaving = False
        if self.has_class("small"):
            return
        if act is Act.DONE and self._guards.repeats():
            self._show("Too soon after the last press: ignored.")
            return
        self._show(self.lesson.act(act, digit))

    def _leave(self) -> None:
        if self._leaving:
            self.dismiss()
            return
        self._leaving = True
        self._show("q again leaves; any other key stays. Nothing was recorded.")

    def _show(self, came: str) -> None:
        page, ascii_only = page_of(self.lesson), bool(getattr(self.app, "ascii_only", False))
        handle = "handle ▶" if page.side == 1 else "◀ handle"
        self.query_one("#stage", Words).say(f"{page.stage}  side {page.side} of 2  {handle}")
        self.query_one("#number", Drawing).draw(
            partial(large_number, page.numeral, (page.of,), most_rows=7, ascii=ascii_only)
        )
        self.query_one("#lesson", Words).say("\n".join((page.title, *page.lines)))
        self.query_one("#teeth", Drawing).draw(partial(lesson_picture, self.lesson, ascii=ascii_only))
        told = "  ".join(f"{tooth}: {flat}" for tooth, flat in enumerate(page.flats, 1))
        self.query_one("#flats", Words).say(f"Flats now  {told}")
        self.set_class(page.ended, "ended")
        self.query_one("#instruction", Words).say(page.instruction)
        self.query_one("#came", Words).say(came)
        self.query_one(TouchBar).offers = page.offers
