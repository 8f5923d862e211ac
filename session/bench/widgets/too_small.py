"""What is shown when the terminal is too small: a plain sentence, and nothing is lost."""

from __future__ import annotations

from typing import Final

from textual.geometry import Size

from session.bench.widgets.words import Words

#: The least room in which the bench can show all that the rules ask of it.
LEAST: Final = Size(80, 24)


class TooSmall(Words):
    """Covers the screen while the terminal is smaller than the bench needs."""

    #: The same for a voice, which need not tell the columns.
    WORDS = "The window is too small for the bench. Your place is kept, and all is saved."

    def fit(self, room: Size) -> bool:
        """Say what is missing; whether the room will do."""
        enough = room.width >= LEAST.width and room.height >= LEAST.height
        self.display = not enough
        if not enough:
            self.say(
                f"The bench needs {LEAST.width} columns and {LEAST.height} rows; this window has "
                f"{room.width} and {room.height}. Make it larger. Your place is kept, and all is saved."
            )
        return enough
