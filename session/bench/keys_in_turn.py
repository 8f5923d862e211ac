"""Keys that come faster than they are dealt with, each kept until the one before it has come to its end.

Left to itself, Textual gives every key to what has the keys when the key comes. A key that opens a sheet has not opened
it yet when the next ones come, so that what is typed ahead would be given to the screen under the sheet and be lost.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Awaitable, Callable
from functools import partial
from typing import Any, Final

from textual import events
from textual.app import App, ScreenStackError
from textual.dom import DOMNode
from textual.screen import Screen

#: Where the way of a key is lost with a widget that is gone, the next one is waited for no longer (judgment).
LONGEST_S: Final = 0.5


class KeysInTurn(App[int]):
    """An app that hands out one key, or one text that is pasted, at a time."""

    def __init__(self, **how: Any) -> None:
        super().__init__(**how)
        self._ahead: Final[deque[events.Event]] = deque()
        self._in_hand: events.Event | None = None

    @property
    def key_in_hand(self) -> bool:
        """Whether a key, or what it made, has not come to its end yet."""
        return self._in_hand is not None

    async def on_event(self, event: events.Event) -> None:
        """Keep a key that has just come until its turn; all else goes its way."""
        if not isinstance(event, events.Key | events.Paste) or event.is_forwarded:
            await super().on_event(event)
        elif self._in_hand is None:
            await self._hand_out(event)
        else:
            self._ahead.append(event)
            if len(self._ahead) == 1:
                self.set_timer(LONGEST_S, partial(self._next, self._in_hand))

    async def _hand_out(self, event: events.Event) -> None:
        self._in_hand = event
        to = self._keys_go_to()
        await super().on_event(event)
        self._follow(event, to, lambda: self._came_up(event, to))

    def _keys_go_to(self) -> DOMNode:
        try:
            return self.focused or self.screen
        except ScreenStackError:
            return self

    def _follow(self, event: events.Event, at: DOMNode | None, then: Callable[[], Awaitable[None]]) -> None:
        """Go from ``at`` up to the app, waiting in each queue behind what ``event`` has put into it."""
        while at is not None and at is not self:
            if at.call_later(self._follow, event, at.parent, then):
                return
            # It is gone, and what waited for it with it.
            at = at.parent
        self.call_later(then)

    async def _came_up(self, event: events.Event, to: DOMNode) -> None:
        """The key was dealt with; so is what it made, unless that is on its way: what a line or a list tells of it, or
        a screen, which is mounted and has its line in hand once it has heard of this."""
        now = self._keys_go_to()
        if self._in_hand is event and (now is not to or not isinstance(to, Screen)):
            self._follow(event, now, lambda: self._next(event))
        else:
            await self._next(event)

    async def _next(self, event: events.Event) -> None:
        """``event`` has come to its end, or has been waited for long enough: the next one has its turn."""
        if self._in_hand is not event:
            return
        self._in_hand = None
        if self._ahead:
            await self._hand_out(now := self._ahead.popleft())
            if self._ahead:
                self.set_timer(LONGEST_S, partial(self._next, now))
