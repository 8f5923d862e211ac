"""A disk at which the program is killed at any one of its calls, and at a write also half way through it."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Final, Literal, get_args

from gated_disk import GatedDisk, T

#: The moments of a call at which a program may be killed; only a write can be cut in two.
When = Literal["before the call", "half way", "after the call"]
EVERY_MOMENT: Final[tuple[When, ...]] = get_args(When)


class Killed(BaseException):
    """The program is no more: nothing that it would still do is done."""


class DyingDisk(GatedDisk):
    """Dies at its ``at``-th call that changes anything (0 for none), and lets the kernel have what it had open.

    when: before that call or after it; "half way" counts writes alone, and half of that one is on disk.
    error: raise this OSError once instead, and live on.
    """

    #: Calls that are not counted: they only look, or change a lock's own words, which decide nothing.
    UNCOUNTED: Final = frozenset({"stat", "fstat", "truncate"})

    def __init__(self, at: int, *, when: When = "before the call", error: int | None = None) -> None:
        self.at, self.when, self.error = at, when, error
        self.calls = 0
        self.dead = False
        self.held: set[int] = set()

    def gate(self, call: str, act: Callable[[], T], half: Callable[[], T] | None = None) -> T:
        if call in self.UNCOUNTED:
            return act()
        if self.dead:
            raise Killed
        if self.when == "half way" and half is None:
            return self._done(call, act)
        self.calls += 1
        if self.calls != self.at:
            return self._done(call, act)
        if self.error is not None:
            raise OSError(self.error, "made to fail")
        self.dead = True
        if self.when == "half way" and half is not None:
            half()
        if self.when == "after the call":
            self._done(call, act)
        raise Killed

    def _done(self, call: str, act: Callable[[], T]) -> T:
        result = act()
        if call == "open" and isinstance(result, int):
            self.held.add(result)
        return result

    def close(self, fd: int) -> None:
        if self.dead:
            raise Killed
        super().close(fd)
        self.held.discard(fd)

    def bury(self) -> None:
        """What the kernel does for a program that has ended."""
        for fd in self.held:
            os.close(fd)
        self.held.clear()


def killed(disk: DyingDisk, act: Callable[[DyingDisk], object]) -> bool:
    """Whether ``act`` was killed by ``disk``, with what it had open let go of."""
    try:
        act(disk)
    except Killed:
        return True
    finally:
        disk.bury()
    return False
