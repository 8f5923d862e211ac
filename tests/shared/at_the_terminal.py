"""What a terminal's driver would do to an app under test: give it an event, wait, and take what is to be drawn."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from textual import events
from textual._compositor import Compositor
from textual._context import visible_screen_stack
from textual.app import App
from textual.css import stylesheet
from textual.css.parse import parse
from textual.css.tokenize import tokenize_values
from textual.pilot import Pilot
from textual.strip import Strip
from textual.widgets import OptionList

#: No app takes as long to come to rest, however busy the machine; waiting so long is a failure, never a pace.
PATIENCE_S = 60.0

#: Turns of the event loop in which an app with nothing left to draw says so.
TURNS = 12


def send(app: App[Any], event: events.Event) -> None:
    """Give ``event`` to ``app`` as the driver does, without waiting for what comes of it."""
    event.set_sender(app)
    app.post_message(event)


async def rest(pilot: Pilot[Any]) -> None:
    """Wait until the app was left, or has dealt with all that came, and laid it out. It is drawn by who looks at it.

    Raises AssertionError with what it still waits for when that does not come.
    """
    try:
        async with asyncio.timeout(PATIENCE_S):
            while not await _rests(pilot):
                pass
    except TimeoutError:
        waits = "; ".join(_waited_for(pilot.app)) or "its screen to be drawn"
        raise AssertionError(f"the program does not come to rest; it waits for: {waits}") from None


async def _rests(pilot: Pilot[Any]) -> bool:
    """Have the app deal with what it has, then lay it out; whether no more came of either."""
    app = pilot.app
    # Waits until every widget has dealt with what it had, without the wait for an idle processor.
    await pilot.pause(0)
    if _left(app):
        return True
    if any(_waited_for(app)):
        # What is still to come of that may be a new layout, which nothing below would wait for.
        await asyncio.sleep(0)
        return False
    await app.animator.wait_for_idle()
    # What was laid out may want another layout: twice in a row there must be nothing to draw.
    for _ in range(2):
        # Set once the screen in front has been laid out and drawn.
        drawn = asyncio.Event()
        app.call_after_refresh(drawn.set)
        while not drawn.is_set():
            # Nearly always there is nothing more, and a few turns of the loop tell so; a pause asks each widget.
            await _turns()
            if not drawn.is_set():
                await pilot.pause(0)
            if _left(app):
                return True
    return not any(_waited_for(app))


async def _turns() -> None:
    """Let the event loop go round as often as widgets need to tell the screen in front that they want drawing."""
    for _ in range(TURNS):
        await asyncio.sleep(0)


def _left(app: App[Any]) -> bool:
    return app.return_code is not None


def _waited_for(app: App[Any]) -> Iterator[str]:
    """What is yet to be dealt with: messages, a size of the terminal, and a mark that a slow disk takes."""
    for pump in [app, *(pump for screen in app.screen_stack for pump in screen.walk_children())]:
        if count := pump.message_queue_size:
            yield f"{count} messages of {pump}"
    for screen in app.screen_stack:
        # A new size is told to the screens that are seen by a timer of Textual's, a moment after the app has it.
        if screen.is_current and screen.size != app.size:
            yield f"{screen} to be as large as the terminal, {app.size}"
        if getattr(screen, "waits", False):
            yield f"{screen} to have saved"


def drawn_rows(app: App[Any]) -> list[Strip]:
    """The rows of the screen in front with all that lies under it.

    The one place that reaches into Textual: it draws a whole screen as SVG for anyone, as rows for its driver only.
    """
    visible_screen_stack.set(app._background_screens)
    return app.screen._compositor.render_strips()


def draw_only_at_rest(patch: pytest.MonkeyPatch) -> None:
    """Let no app of this process draw what no terminal takes: its screen is drawn by `drawn_rows`, whole and once.

    Textual has an app without a terminal work out each change as it would be sent, some three a key, and throws it
    away: a third of the time of a test that presses keys.
    """
    render = Compositor.render_update

    def update(self: Compositor, full: bool = False, **how: Any) -> Any:
        if full:
            return render(self, full, **how)
        self._dirty_regions.clear()
        for widget in self.visible_widgets:
            # All that drawing does besides: a list then sees how long it is, which may want another layout.
            if isinstance(widget, OptionList):
                widget._update_lines()
        return None

    patch.setattr(Compositor, "render_update", update)


#: Style sheets that were read before, by all that makes a difference to what they come to.
_SHEETS: dict[tuple[object, ...], list[Any]] = {}
_VALUES: dict[frozenset[tuple[str, str]], Any] = {}


def read_sheets_once(patch: pytest.MonkeyPatch) -> None:
    """Let every app of this process use the rules that the first one read: reading them is a sixth of an app's start.

    Textual only looks at rules, and keeps those of one app so itself.
    """

    def tokens(values: Mapping[str, str]) -> Any:
        key = frozenset(values.items())
        if key not in _VALUES:
            _VALUES[key] = tokenize_values(dict(values))
        return _VALUES[key]

    def rules(scope: str, css: str, read_from: Any, *, variable_tokens: Any, **how: Any) -> list[Any]:
        # The tokens are one of ours, which is kept, so that its id is never another's.
        key = (scope, css, read_from, id(variable_tokens), *sorted(how.items()))
        if key not in _SHEETS:
            _SHEETS[key] = list(parse(scope, css, read_from, variable_tokens=variable_tokens, **how))
        return _SHEETS[key]

    patch.setattr(stylesheet, "tokenize_values", tokens)
    patch.setattr(stylesheet, "parse", rules)
