"""What one press says of a clicker or pedal: its name, the act it means, and how long after the one before."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from session.desk.desk import ADVANCES
from session.desk.guards import Guards
from session.desk.key_table import DEFAULTS, MEANINGS
from session.machine.clock import Clock
from session.sentences.offers import Act


@dataclass(frozen=True, slots=True)
class KeyPress:
    """One press. after_s: seconds since the press before, None for the first. ignored: the bench's guard
    against a key that repeats would let it do nothing."""

    key: str
    act: Act | None
    remapped: bool
    after_s: float | None
    ignored: bool

    def __str__(self) -> str:
        means = "nothing at the bench" if self.act is None else f"{self.act}: {MEANINGS[self.act]}"
        own = " (your settings)" if self.remapped else ""
        after = "" if self.after_s is None else f", {self.after_s * 1000:.0f} ms after the one before"
        repeats = ", IGNORED: it repeats too soon" if self.ignored else ""
        return f"{self.key}{after}{repeats} = {means}{own}"


class Presses:
    """Reads presses as the bench would: ``keymap`` is what the keys mean, ``guard_s`` its repeat guard."""

    def __init__(self, keymap: Mapping[Act, tuple[str, ...]], clock: Clock, guard_s: float) -> None:
        self._acts: Final = {key: act for act, keys in keymap.items() for key in keys}
        self._usual: Final = {key: act for act, keys in DEFAULTS.items() for key in keys}
        self._clock: Final = clock
        self._guards: Final = Guards(clock, guard_s)
        self._before: float | None = None

    def read(self, key: str) -> KeyPress:
        """A press of ``key``, in the name that the terminal's driver gave it."""
        moment = self._clock.steady_s()
        act = self._act(key)
        after = None if self._before is None else moment - self._before
        self._before = moment
        ignored = act in ADVANCES and self._guards.repeats()
        remapped = key in self._acts and self._acts[key] is not self._usual.get(key)
        return KeyPress(key, act, remapped, after, ignored)

    def _act(self, key: str) -> Act | None:
        if key in self._acts:
            return self._acts[key]
        if len(key) == 1 and key in "0123456789":
            return Act.STROKES
        return Act.QUIT if key in ("ctrl+c", "ctrl+q") else None
