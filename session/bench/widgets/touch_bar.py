"""The acts offered now, as targets of three rows: for a finger, a mouse, or to read the key from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from session.desk.key_names import shown
from session.pictures.ascii_signs import drawn
from session.sentences.offers import Act, Offer


class TouchBar(Widget):
    """One row of boxed targets, each with its key and its word."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"touch--frame", "touch--key", "touch--word"}

    class Pressed(Message):
        """A target was clicked or touched."""

        def __init__(self, act: Act) -> None:
            super().__init__()
            self.act = act

    offers: reactive[tuple[Offer, ...]] = reactive((), layout=False)

    def __init__(self, keymap: Mapping[Act, tuple[str, ...]], *, ascii_only: bool = False) -> None:
        super().__init__()
        self._keymap = keymap
        self._ascii = ascii_only

    def targets(self) -> list[tuple[Offer, str, int]]:
        """Each offer that fits, with the key shown on it and its width in cells, borders counted.

        Help is always kept; what does not fit is still a key, and help lists it.
        """
        found: list[tuple[Offer, str, int]] = []
        room = self.size.width
        for offer in self.offers:
            key = self._digits(offer) if offer.act is Act.STROKES else self._key(offer.act)
            width = len(key) + len(offer.word) + 3
            reserve = 0 if offer.act is Act.HELP else len(self._key(Act.HELP)) + len("help") + 3
            if width <= room - reserve:
                found.append((offer, key, width))
                room -= width
        return found

    def render_line(self, y: int) -> Strip:
        """One row of the boxes."""
        frame, key_style, word_style = (
            self.get_component_rich_style(name, partial=False) for name in ("touch--frame", "touch--key", "touch--word")
        )
        left, line, right, side = self._frame(y)
        segments: list[Segment] = []
        for offer, key, width in self.targets():
            if y == 1:
                segments += [
                    Segment(side, frame),
                    Segment(key, key_style),
                    Segment(" " + offer.word, word_style),
                    Segment(side, frame),
                ]
            else:
                segments.append(Segment(left + line * (width - 2) + right, frame))
        return Strip(segments).adjust_cell_length(self.size.width, self.rich_style)

    def on_click(self, event: events.Click) -> None:
        """Say which act was meant by where it was touched."""
        x = 0
        for offer, _, width in self.targets():
            if x <= event.x < x + width:
                event.stop()
                self.post_message(self.Pressed(offer.act))
                return
            x += width

    def _frame(self, y: int) -> tuple[str, str, str, str]:
        if self._ascii:
            return "+", "-", "+", "|"
        return ("╭", "─", "╮", "│") if y == 0 else ("╰", "─", "╯", "│")

    def _digits(self, offer: Offer) -> str:
        dash = "-" if self._ascii else "–"
        return f"0{dash}5" if offer.word == "grade" else f"1{dash}9"

    def _key(self, act: Act) -> str:
        keys = self._keymap.get(act, ())
        return drawn(shown(keys[0]), ascii_only=self._ascii) if keys else "-"
