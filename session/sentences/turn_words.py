"""The one sentence to act on while the saw is turned: item by item, at last the first place of the new side."""

from __future__ import annotations

from typing import Final

from session.trade.saw import Leans, Saw
from session.trade.sides import side_on_which_leans_away
from session.walk.front import Front
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State

_ITEMS: Final = {
    "saw": "Turn the saw end for end: the handle is on your {handle} now.",
    "guide": "Turn the guide block over: its rake leans the other way now.",
    "fleam": "Turn the fleam guide: the file crosses the other way now.",
    "low": "Clamp the saw low: teeth {first} to {last}, the gullets just above the jaws.",
}

#: A saw that is dressed lies flat, so it is turned over and not end for end.
_OVER: Final = "Turn the saw over: the handle is on your {handle} now."


def turn_words(state: State, saw: Saw, now: Front) -> str:
    """What to do for the item in hand of the turn that ``now`` asks for; without an item, where the new side begins."""
    handle = "right" if now.side == 1 else "left"
    if not now.name:
        return _first(state, saw, now.place, now.side, handle)
    if now.place is not None and now.place.stage is Stage.DRESS:
        return _OVER.format(handle=handle)
    first, last = now.reach or (1, state.plan.points)
    return _ITEMS[now.name].format(handle=handle, first=first, last=last)


def _first(state: State, saw: Saw, place: Place | None, side: int, handle: str) -> str:
    if place is None or not place.tooth:
        return f"Lay the saw flat, side {side} up: handle on your {handle}, points away from you."
    tooth = place.tooth
    where = {1: "at the heel", 2: "the second from the heel"}.get(tooth, f"{saw.from_heel(tooth)} from the heel")
    which = "away from" if side_on_which_leans_away(tooth, state.plan.leans) == side else "toward"
    return f"Find tooth {tooth}, {where}: it {'leans' if _set(state, place) else 'is to lean'} {which} you."


def _set(state: State, place: Place) -> bool:
    """Whether the teeth lean at all: those of a line that was never set stand straight until they are."""
    if state.plan.leans is not Leans.UNSET:
        return True
    return place.stage is not Stage.SET and any(done.stage is Stage.SET for done in state.outcomes)
