"""The panel: what is asked now, its picture when there is room, and the words beside it."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical

from session.bench.widgets.words import Words
from session.counsel.saying import Saying
from session.records.sitting import Sitting


class Panel(Vertical):
    """A title and the sentences under it."""

    def compose(self) -> ComposeResult:
        """Title and body."""
        yield Words(id="panel-title")
        yield Words(id="panel-body")

    def show(self, sitting: Sitting, saying: Saying, *, ascii_only: bool) -> None:
        """Show the words of this moment."""
        self.query_one("#panel-title", Words).say(saying.title)
        lines = [*saying.lines, *(f" {n}  {choice}" for n, choice in enumerate(saying.choices, 1))]
        self.query_one("#panel-body", Words).say("\n".join(lines))
