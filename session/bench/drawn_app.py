"""The app as it draws: the cells that changed, or all of them where nobody knows what the terminal shows."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Final

from textual._compositor import CompositorUpdate
from textual.screen import Screen

from session.bench.changed_cells import ShownCells
from session.bench.keys_in_turn import KeysInTurn
from session.bench.one_frame import Frame
from session.bench.terminal_driver import guard_continuing


class DrawnApp(KeysInTurn):
    """Draws the screen in front, and those that show through it."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**options)
        self._cells: Final = ShownCells()
        self._worn_before = False
        #: What changes while a press is answered; None while none is.
        self.frame: Frame | None = None

    def _display(self, screen: Screen[Any], renderable: Any) -> None:
        """Send what is to be shown without the cells that the terminal shows already."""
        if self.screen_stack[:1] == [screen] or self._batch_count:
            # Nothing stands on the screen below all: what was shown before stays until the next is drawn.
            return
        if renderable is None or isinstance(renderable, CompositorUpdate):
            renderable = self._cells.sent(renderable, screen)
        super()._display(screen, renderable)

    def draw(self, frame: Frame, screen: Screen[Any]) -> None:
        """Draw what changed on ``screen`` at once; left to Textual where more than that is to be drawn with it, such as
        a sheet that was opened over it."""
        if screen is self.screen and frame.stays and self._cells.know(screen):
            frame.take()
            changed: Any = self._cells.changed(frame.parts())
            super()._display(screen, changed)
        else:
            frame.leave()

    @property
    def _background_screens(self) -> list[Screen[Any]]:
        """The screens that show through the one in front: none through an opaque one.

        Textual counts the screen below an opaque one among them, and has all drawn anew whenever that is laid out.
        """
        if not self.screen_stack or self.screen.styles.background.a == 1:
            return []
        return super()._background_screens

    def worn(self) -> None:
        """The theme of the start was chosen: what is about to be parsed has its colors from the first."""
        self.stylesheet.set_variables(self.get_css_variables())
        self._worn_before = True

    def refresh_css(self, animate: bool = True) -> None:
        """Parse and style all anew for another theme; once for one that was worn before anything was parsed."""
        worn, self._worn_before = self._worn_before, False
        if not worn:
            super().refresh_css(animate)

    async def on_mount(self) -> None:
        """Draw all anew once the program goes on after a stop: others wrote to the terminal meanwhile."""
        self.app_resume_signal.subscribe(self, lambda _: self._draw_anew())
        guard_continuing(self._draw_anew)

    def on_resize(self) -> None:
        """A window that gets smaller, be it for a moment, loses what stood there: the next drawing is of all."""
        self._cells.forget()

    def _draw_anew(self) -> None:
        self._cells.forget()
        self.refresh()


@contextmanager
def in_one_frame(screen: Screen[Any]) -> Iterator[Frame]:
    """Gather what changes on ``screen``, one of a DrawnApp, and draw it at the end. Within another frame it is that."""
    app = screen.app
    assert isinstance(app, DrawnApp)
    if app.frame is not None:
        yield app.frame
        return
    app.frame = frame = Frame()
    try:
        yield frame
    finally:
        app.frame = None
    app.draw(frame, screen)
