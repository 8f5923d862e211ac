"""Writes marks for a front end: each is on disk before anything is said, and what the disk did is said in words."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Final

from session.desk.act_reply import Reply
from session.log.journal import JournalFault
from session.log.sitting import NotNow, Sitting
from session.sentences.mark_words import told
from session.texts.wording import capital, times
from session.walk import acts
from session.walk.mark import Mark
from session.walk.state import State


class MarkWriter:
    """Writes marks to one sitting. ``fault`` is why the disk would not take one, and what to note by hand."""

    def __init__(self, sitting: Sitting) -> None:
        self.sitting: Final = sitting
        self.fault = ""
        self._by_hand = ""

    @property
    def state(self) -> State:
        """The state after the marks so far."""
        return self.sitting.state

    def at(self) -> datetime:
        """The moment that a mark made now carries."""
        return self.sitting.clock.now()

    def make(self, *marks: Mark, note: str = "") -> Reply:
        """Write the marks one by one, then say ``note``; what the disk refuses stops the walk."""
        for mark in marks:
            try:
                self.sitting.make(mark)
            except NotNow as refused:
                return Reply(f"{capital(str(refused))}.", refused=True)
            except JournalFault as fault:
                self._by_hand = f"Note by hand: {told(mark)}."
                # The path is left to the sheet shown on leaving: it may be long, and this has to be read whole.
                self.fault = f"{self._by_hand} {capital(fault.reason)}. A yes reads the log again."
                return Reply(self.fault, refused=True)
        return Reply(note)

    def make_all(self, marks: Iterable[Mark], note: str) -> Reply:
        """The same for marks in a sequence."""
        return self.make(*marks, note=note)

    def saved(self) -> str:
        """That all is saved and where, or why it is not and what to note by hand."""
        if self.fault:
            return self.fault
        state, name = self.state, self.sitting.journal.path.name
        again = "" if state.finished else " Resume at this place any time."
        return f"All is saved: {times(len(state.marks), 'mark')} in {name}.{again}"

    def torn(self) -> str:
        """What to say of a torn end that was set aside when the log was opened; empty when there was none."""
        end = self.sitting.journal.torn
        if end is None:
            return ""
        return f"One mark was torn and set aside ({end.file.name}): look on the saw whether {self.state.place} is done."

    def read_again(self) -> Reply:
        """After a fault: believe only what the disk holds, and have the place found again."""
        try:
            self.sitting.read_again()
        except (JournalFault, OSError, ValueError) as still:
            self.fault = f"{self._by_hand} The disk still refuses: {still}"
            return Reply(self.fault, refused=True)
        self.fault = ""
        resumed = acts.resume(self.state, self.at(), after="no key", seconds=0.0)
        return self.make(resumed, note="The log was read again from disk. Find the place.")
