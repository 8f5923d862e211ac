"""Reading that grows with the till, done on a thread of its own: the screen's thread asks whether it is there yet."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Final, Generic, TypeVar, cast

T = TypeVar("T")


class ReadAside(Generic[T]):
    """What ``read`` gives, read once, from when it is first asked for.

    told: called on that thread once it is there. Nothing waits for the thread when the program is left.
    """

    def __init__(self, read: Callable[[], T], told: Callable[[], None] = lambda: None) -> None:
        self._read: Final = read
        self._told: Final = told
        self._there: Final = threading.Event()
        self._found: T | None = None
        self._wrong: BaseException | None = None
        self._begun = False

    def ready(self) -> bool:
        """Whether it is there; begins to read it."""
        if not self._begun:
            self._begun = True
            threading.Thread(target=self._run, name="reading", daemon=True).start()
        return self._there.is_set()

    def __call__(self) -> T:
        """What was read, waited for. Raises what ``read`` raises."""
        self.ready()
        self._there.wait()
        if self._wrong is not None:
            raise self._wrong
        return cast(T, self._found)

    def _run(self) -> None:
        try:
            self._found = self._read()
        except BaseException as wrong:  # whoever asks for it is told
            self._wrong = wrong
        self._there.set()
        self._told()


def there(ask: Callable[[], object]) -> bool:
    """Whether ``ask`` answers without a wait."""
    return not isinstance(ask, ReadAside) or ask.ready()
