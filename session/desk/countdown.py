"""Hands-free: a countdown that marks the place in hand by itself, for hands that cannot leave the file.

It is off at every start. It only ever marks work of one kind after another: anything that is asked holds it,
and so does any key. Its marks say that the timer made them.
"""

from __future__ import annotations

from typing import Final

from session.machine.clock import Clock
from session.value_class import dataclass

#: Seconds before the end at which it warns.
WARNS_AT_S: Final = 3

#: Seconds for which a place's time may be up without its being marked, because it is not shown or because nobody looked
#: at the clock, as while the machine sleeps; then the countdown is held: judgment.
UNSEEN_S: Final = 5

#: The shortest and longest countdown, in seconds.
LEAST_S: Final = 3
MOST_S: Final = 120


@dataclass()
class Countdown:
    """Counts down on the clock. ``seconds`` is None while it is off."""

    clock: Clock
    seconds: int | None = None
    _since: float = 0.0

    def start(self, seconds: int) -> None:
        """Begin, or begin again, with ``seconds`` (3 … 120). Raises ValueError outside that."""
        if not LEAST_S <= seconds <= MOST_S:
            raise ValueError(f"{seconds} seconds; allowed: {LEAST_S} to {MOST_S}")
        self.seconds = seconds
        self.again()

    def again(self) -> None:
        """Count from the full time anew."""
        self._since = self.clock.steady_s()

    def hold(self) -> None:
        """Stop: a key was pressed, or something is asked."""
        self.seconds = None

    def over_s(self) -> float:
        """Seconds since the time was up, 0 while it is not."""
        if self.seconds is None:
            return 0.0
        return max(0.0, self.clock.steady_s() - self._since - self.seconds)

    def left_s(self) -> int:
        """Whole seconds left, 0 when the time is up or the countdown is off."""
        if self.seconds is None:
            return 0
        return max(0, self.seconds - int(self.clock.steady_s() - self._since))

    @property
    def warns(self) -> bool:
        """Whether it is about to mark."""
        return self.seconds is not None and self.left_s() <= WARNS_AT_S
