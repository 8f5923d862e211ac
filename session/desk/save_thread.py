"""Acts that write to disk, begun on a thread of their own: a slow disk shows as saving, never as a frozen screen."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor, wait
from typing import Final, TypeVar

T = TypeVar("T")

#: What takes longer to reach the disk is said to be on its way (bench rule 17), in seconds.
SHOWS_AFTER_S: Final = 0.1


class SaveThread:
    """Does one piece of work after another."""

    def __init__(self) -> None:
        self._thread: Final = ThreadPoolExecutor(max_workers=1, thread_name_prefix="saving")
        self._last: Future[object] | None = None

    def begin(self, work: Callable[[], T]) -> Future[T]:
        """Begin ``work``. Comes back when it is done, and after SHOWS_AFTER_S even when it is not."""
        begun = self._thread.submit(work)
        self._last = begun  # type: ignore[assignment]  # only asked whether it is done
        wait([begun], SHOWS_AFTER_S)
        return begun

    def settle(self) -> None:
        """Wait for the last piece of work."""
        if self._last is not None:
            wait([self._last])

    def close(self) -> None:
        """Wait for what was begun: a log is not let go of in the middle of a mark."""
        self._thread.shutdown(wait=True)
