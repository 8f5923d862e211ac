"""The strip of the whole line, with the place in hand on it."""

from __future__ import annotations

from textual import events

from session.bench.widgets.drawing import Drawing
from session.pictures.line_strip import strip
from session.walk.line_states import flagged_teeth, hand_tooth, line_states
from session.walk.stages import FACTS
from session.walk.state import State


class LineStrip(Drawing):
    """The tooth line as the person sees it: the heel on the side where the handle is."""

    _told: tuple[State, str, bool] | None = None

    def show(self, state: State, handle: str, *, ascii_only: bool) -> None:
        """Show the line of this moment, with the handle on the person's ``handle``, "right" or "left"."""
        self._told = (state, handle, ascii_only)
        self._draw()

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new room."""
        self._draw()

    def _draw(self) -> None:
        if self._told is None or self.size.width < 1 or self.size.height < 1:
            return
        state, handle, ascii_only = self._told
        in_vise = state.place is not None and FACTS[state.place.stage].in_vise
        self.rows = strip(
            line_states(state),
            hand_tooth(state.place),
            state.plan.reaches if in_vise else ((1, state.plan.points),),
            1 if handle == "right" else 2,
            self.size.width,
            height=min(3, self.size.height),
            flags=flagged_teeth(state),
            ascii=ascii_only,
        )
