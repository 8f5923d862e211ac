"""A screen that opens is not styled twice: each of its widgets was just styled as it came."""

from __future__ import annotations

from textual import events


class FreshStyles:
    """Stands before Textual's screen among the bases of one of ours. Styling all anew is a sixth of opening it."""

    _seen = False

    def on_screen_resume(self, event: events.ScreenResume) -> None:
        """Come to the front: later, when another theme may have been chosen meanwhile, styled anew."""
        event.refresh_styles = self._seen
        self._seen = True
