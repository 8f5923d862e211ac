"""Guards over the keys: against a press that repeats or was meant for the question before, and against silence."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Final

from session.machine.clock import Clock

#: So many times the guard's seconds a press counts as meant for the question before, where it has just become another
#: one: who presses on without reading is quicker than that (judgment).
ANEW: Final = 3

#: Within so many times the guard's seconds of the press before, a press that would pass a question over is asked about
#: once: it was hardly read (judgment).
UNREAD: Final = 10


class Guards:
    """Times advances and silences on the steady clock.

    guard_s: a second advance within so many seconds is a held key or pedal (bench rule 19: judgment).
    """

    def __init__(self, clock: Clock, guard_s: float) -> None:
        self._clock: Final = clock
        self.guard_s: Final = guard_s
        self._advanced: float | None = None
        self._gap: float | None = None
        self._answered: tuple[Hashable, Hashable] | None = None
        self._refused = False
        self._passing: Hashable = None
        self._acted: float | None = None

    def repeats(self) -> bool:
        """Note an advance; whether it came too soon after the one before. A held key stays too soon."""
        moment = self._clock.steady_s()
        before, self._advanced = self._advanced, moment
        self._gap = None if before is None else moment - before
        return self._gap is not None and self._gap < self.guard_s

    def meant_for_another(self, act: Hashable, asked: Hashable) -> bool:
        """Whether the advance noted last, ``act``, came right after the same act had answered a question of another
        kind than ``asked``. Pressed on, it stays meant for that; and once it was, no other advance counts either before
        the hand has rested as long: whoever pressed on has not read what is asked now."""
        before, now = self._answered, (act, asked)
        soon = self._gap is not None and self._gap < ANEW * self.guard_s
        other = before is not None and before[0] == act and before != now
        self._refused = soon and (self._refused or other)
        if not self._refused:
            self._answered = now
        return self._refused

    def hardly_read(self, asked: Hashable) -> bool:
        """Whether the advance noted last passes ``asked`` over right after the advance before: true once of each."""
        first, self._passing = asked != self._passing, asked
        return first and self._gap is not None and self._gap < UNREAD * self.guard_s

    def silence_s(self) -> float:
        """Note an act; seconds since the one before, 0 for the first."""
        moment = self._clock.steady_s()
        before, self._acted = self._acted, moment
        return 0.0 if before is None else moment - before


def span(seconds: float) -> str:
    """A length of time as it is said: "40 s", "3 min 5 s", "2 h 10 min"."""
    minutes, rest = divmod(int(max(0.0, seconds)), 60)
    hours, minutes = divmod(minutes, 60)
    if hours:
        return f"{hours} h {minutes} min"
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"
