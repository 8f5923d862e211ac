"""A screen whose keys and boxes are acts: both come to one method, `take`."""

from __future__ import annotations

from session.bench.widgets.touch_row import TouchRow
from session.sentences.offers import Act


class TakesActs:
    """Stands before Textual's screen among the bases of one of ours."""

    def action_act(self, act: str, digit: int = 0) -> None:
        """A key was pressed that means ``act``."""
        self.take(Act(act), digit)

    def action_leave(self) -> None:
        """The app's own keys for leaving ask as ours does."""
        self.take(Act.QUIT)

    def on_touch_row_box_touched(self, event: TouchRow.BoxTouched) -> None:
        """A box was touched; one for a digit is that, one of several none of them, or the first choice."""
        act, _, digit = event.box.partition("#")
        self.take(Act(act), int(digit or 1))

    def take(self, act: Act, digit: int = 0) -> None:
        """Do an act and show what came of it."""
        raise NotImplementedError
