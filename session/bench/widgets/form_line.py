"""The line that every answer of the form is typed on."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from textual import events
from textual.widgets import Input

from session.machine.clean_text import clean
from session.trade.told_amounts import LONGEST_ANSWER

#: Keys that change the line, each with what it does there.
_EDITS: Final = {
    "backspace": "delete_left",
    "delete": "delete_right",
    "ctrl+u": "delete_left_all",
    "ctrl+w": "delete_left_word",
    "left": "cursor_left",
    "right": "cursor_right",
    "home": "home",
    "end": "end",
}


class FormLine(Input):
    """Textual's line, with keys that are typed faster than they are dealt with kept in their order.

    picks: whether a first digit picks a choice, which it then does. leads: whether a key leads through the form, which
    it then does. Both here and not by a binding, which would be heard after the keys that follow it.
    """

    def __init__(self, picks: Callable[[int], bool], leads: Callable[[str], bool], **kwargs: Any) -> None:
        super().__init__(compact=True, max_length=LONGEST_ANSWER, **kwargs)
        self._picks = picks
        self._leads = leads
        #: What stands there has just been refused: it stays to be mended, a digit picks all the same, and what is typed
        #: takes its place.
        self.refused = False

    def on_key(self, event: events.Key) -> None:
        """Give a first digit to the choices, and what leads on or back to the form."""
        digit = int(event.character) if event.character and event.character.isdecimal() else 0
        refused, self.refused = self.refused, False
        begins = not self.value or refused
        if not (begins and digit and self._picks(digit)) and not self._leads(event.key):
            if event.key not in _EDITS:
                if refused and event.is_printable:
                    self.value = ""
                return
            getattr(self, f"action_{_EDITS[event.key]}")()
        event.stop()
        event.prevent_default()

    def on_paste(self, event: events.Paste) -> None:
        """Take what is pasted as one line without control signs: the terminal would obey them as it is drawn."""
        event.prevent_default()
        event.stop()
        if self.refused:
            self.value, self.refused = "", False
        self.replace(clean(event.text), *self.selection)
