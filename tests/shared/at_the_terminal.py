"""What a terminal's driver would do to an app under test: give it an event, and take what is to be drawn."""

from __future__ import annotations

from typing import Any

from textual import events
from textual._context import visible_screen_stack
from textual.app import App
from textual.strip import Strip


def send(app: App[Any], event: events.Event) -> None:
    """Give ``event`` to ``app`` as the driver does, without waiting for what comes of it."""
    event.set_sender(app)
    app.post_message(event)


def drawn_rows(app: App[Any]) -> list[Strip]:
    """The rows of the screen in front with all that lies under it.

    The one place that reaches into Textual: it draws a whole screen as SVG for anyone, as rows for its driver only.
    """
    visible_screen_stack.set(app._background_screens)
    return app.screen._compositor.render_strips()
