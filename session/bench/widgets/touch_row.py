"""A row of boxes that do what their keys do: for a finger, a mouse, or to read the key from."""

from __future__ import annotations

from typing import ClassVar

from rich.segment import Segment
from textual import events
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from session.bench.one_frame import FrameWidget
from session.pictures.ascii_signs import drawn


class TouchRow(FrameWidget, Widget):
    """Boxes of three rows, each with its key and its word; one that is touched says its name."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"touch--frame", "touch--key", "touch--word"}

    class BoxTouched(Message):
        """A box was clicked or touched."""

        def __init__(self, name: str) -> None:
            super().__init__()
            self.box = name

    #: Of each box the name that it says, its key and its word.
    boxes: reactive[tuple[tuple[str, str, str], ...]] = reactive((), layout=False)

    def fitting(self) -> tuple[tuple[str, str, str], ...]:
        """The boxes that there is room for."""
        return self.boxes

    def render_line(self, y: int) -> Strip:
        """One row of the boxes."""
        frame, key_style, word_style = (
            self.get_component_rich_style(name, partial=False) for name in ("touch--frame", "touch--key", "touch--word")
        )
        left, line, right, side = "+-+|" if self.in_ascii else ("╭─╮│" if y == 0 else "╰─╯│")
        segments: list[Segment] = []
        for _, key, word in self.fitting():
            if y == 1:
                segments += [
                    Segment(side, frame),
                    Segment(drawn(key, ascii_only=self.in_ascii), key_style),
                    Segment(_after(word), word_style),
                    Segment(side, frame),
                ]
            else:
                segments.append(Segment(left + line * (box_width(key, word) - 2) + right, frame))
        return Strip(segments).adjust_cell_length(self.size.width, self.rich_style)

    def on_click(self, event: events.Click) -> None:
        """Say which box was meant by where it was touched."""
        x = 0
        for name, key, word in self.fitting():
            width = box_width(key, word)
            if x <= event.x < x + width:
                event.stop()
                self.post_message(self.BoxTouched(name))
                return
            x += width

    @property
    def in_ascii(self) -> bool:
        """Whether only ASCII is drawn."""
        return bool(getattr(self.app, "ascii_only", False))


def box_width(key: str, word: str) -> int:
    """Cells of a box with its frame."""
    return len(key) + len(_after(word)) + 2


def _after(word: str) -> str:
    """The word behind a key; nothing where the key alone says it."""
    return f" {word}" if word else ""
