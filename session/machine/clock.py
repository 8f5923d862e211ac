"""Time as the program takes it: one object to ask, so that tests and the rehearsal can set it."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Protocol

from session.machine.system_calls import steady_s
from session.value_class import dataclass


class Clock(Protocol):
    """The time of day for the record, and a steady count of seconds for guards and rests."""

    def now(self) -> datetime:
        """The time of day, with its offset, to the millisecond."""
        ...

    def steady_s(self) -> float:
        """Seconds on a count that never runs backward nor stops while the machine sleeps; only differences count.

        Nothing that is done to the time of day changes it.
        """
        ...


class SystemClock:
    """The machine's own clock."""

    def now(self) -> datetime:
        moment = datetime.now().astimezone()
        return moment.replace(microsecond=moment.microsecond // 1000 * 1000)

    def steady_s(self) -> float:
        return steady_s()


@dataclass()
class SetClock:
    """A clock that moves only when told to."""

    moment: datetime
    steady: float = 0.0

    def now(self) -> datetime:
        return self.moment

    def steady_s(self) -> float:
        return self.steady

    def pass_s(self, seconds: float) -> None:
        """Let ``seconds`` go by."""
        self.moment += timedelta(seconds=seconds)
        self.steady += seconds
