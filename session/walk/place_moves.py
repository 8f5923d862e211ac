"""Makers of the marks that set the place in hand, forward or back, all of them or none."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from session.walk.flagged_places import strokes_before
from session.walk.mark import Did, Mark
from session.walk.place import Place
from session.walk.rules import why_not
from session.walk.state import State


def set_place(state: State, at: datetime, target: Place) -> tuple[Mark, ...]:
    """The marks that make ``target`` the place in hand, within its leg.

    Forward, the places between are marked done, each with the first and last named in ``many``; backward,
    the marks from ``target`` on are taken back. Raises ValueError when ``target`` is not in the route,
    forward lies beyond the leg in hand, or one of the marks may not be made: all of them, or none.
    """
    marks = tuple(_marks_to(state, at, target))
    for mark in marks:
        reason = why_not(state, mark)
        if reason is not None:
            raise ValueError(reason)
        state = state.after(mark)
    return marks


def _marks_to(state: State, at: datetime, target: Place) -> Iterable[Mark]:
    index = state.route.index.get(target)
    if index is None:
        raise ValueError(f"{target} is not a place of this sharpening")
    if index >= state.here:
        leg, first = state.route.leg_at(min(state.here, len(state.route.places) - 1))
        between = [p for p in state.route.places[state.here : index] if not state.passed(p)]
        if any(p not in leg.places for p in between) or index >= first + len(leg.places):
            raise ValueError("the place can be set forward only within the stage and side in hand")
        if between:
            many = span(between)
            seq = state.next_seq
            for n, place in enumerate(between):
                before = strokes_before(state) or None if place == state.place else None
                yield Mark(seq=seq + n, at=at, did=Did.DONE, **place.fields(), by="key", many=many, strokes=before)
    else:
        seq = state.next_seq
        back = (mark.seq for mark in gone_back_over(state, target))
        for n, of in enumerate(sorted(back, reverse=True)):
            yield Mark(seq=seq + n, at=at, did=Did.TOOK_BACK, of=of)


def gone_back_over(state: State, target: Place) -> tuple[Mark, ...]:
    """What is marked from ``target`` to the place in hand, in the order of work: going back takes it back."""
    over = state.route.places[state.route.index[target] : state.here]
    return tuple(state.outcomes[place] for place in over if place in state.outcomes)


def span(places: Sequence[Place]) -> str:
    """FIRST-LAST of ``places``, one or more, as a mark names them."""
    return f"{_short(places[0])}-{_short(places[-1])}"


def _short(place: Place) -> str:
    return str(place.tooth or place.number or place.step)
