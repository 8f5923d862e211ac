"""Two guards over the keys: against a press that repeats, and against a silence in which the place got lost."""

from __future__ import annotations

from typing import Final

from session.machine.clock import Clock


class Guards:
    """Times advances and silences on the steady clock.

    guard_s: a second advance within so many seconds is a held key or pedal (bench rule 19: judgment).
    """

    def __init__(self, clock: Clock, guard_s: float) -> None:
        self._clock: Final = clock
        self.guard_s: Final = guard_s
        self._advanced: float | None = None
        self._acted: float | None = None

    def repeats(self) -> bool:
        """Note an advance; whether it came too soon after the one before. A held key stays too soon."""
        moment = self._clock.steady_s()
        before, self._advanced = self._advanced, moment
        return before is not None and moment - before < self.guard_s

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
