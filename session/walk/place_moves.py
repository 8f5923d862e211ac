"""Makers of the marks that set the place in hand, forward or back, all of them or none."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from session.walk.flagged_places import strokes_before
from session.walk.kept_outcomes import kept_outcomes, last_set_back
from session.walk.mark import Did, Mark
from session.walk.place import Place, place_of
from session.walk.rules import why_not
from session.walk.state import State
from session.walk.taken_back import SET_BACK


def moves_to(state: State, at: datetime, target: Place) -> tuple[Mark, ...]:
    """The marks that make ``target`` the place in hand, within its leg.

    Forward, what was marked of the places between before an earlier one was set stands again, and the others are
    marked done, each with the first and last named in ``many``; backward, the marks from ``target`` on are taken back.
    Raises ValueError when ``target`` is not in the route, forward lies beyond the leg in hand, or one of the marks may
    not be made: all of them, or none.
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
        kept = kept_outcomes(state)
        again, rest = [kept[p] for p in between if p in kept], [p for p in between if p not in kept]
        for seq, took in enumerate(again, state.next_seq):
            yield Mark(seq=seq, at=at, did=Did.PUT_BACK, of=took.seq)
        for seq, place in enumerate(rest, state.next_seq + len(again)):
            before = strokes_before(state) or None if place == state.place else None
            yield Mark(seq=seq, at=at, did=Did.DONE, **place.fields(), by="key", many=span(rest), strokes=before)
    else:
        over = gone_back_over(state, target)
        many = span([one for mark in over if (one := place_of(mark)) is not None]) if over else None
        back = sorted((mark.seq for mark in over), reverse=True)
        for seq, of in enumerate(back, state.next_seq):
            yield Mark(seq=seq, at=at, did=Did.TOOK_BACK, of=of, reason=SET_BACK, many=many)


def move_undone(state: State, at: datetime) -> tuple[Mark, ...]:
    """The last setting of an earlier place is as if it had not been made, where nothing was marked since: all that it
    took back stands again, and the check point that it answered is asked again. Empty where there is none."""
    moved = last_set_back(state)
    marks = [Mark(seq=seq, at=at, did=Did.PUT_BACK, of=one.seq) for seq, one in enumerate(moved, state.next_seq)]
    answered = next((one for one in state.marks if moved and one.seq == moved[-1].seq - 1), None)
    if answered is not None and answered.did is Did.CHECKED and answered.at == moved[-1].at:
        marks.append(Mark(seq=state.next_seq + len(marks), at=at, did=Did.TOOK_BACK, of=answered.seq))
    return tuple(marks)


def gone_back_over(state: State, target: Place) -> tuple[Mark, ...]:
    """What is marked from ``target`` to the place in hand, in the order of work: going back takes it back."""
    over = state.route.places[state.route.index[target] : state.here]
    return tuple(state.outcomes[place] for place in over if place in state.outcomes)


def span(places: Sequence[Place]) -> str:
    """FIRST-LAST of ``places``, one or more, as a mark names them."""
    return f"{_short(places[0])}-{_short(places[-1])}"


def _short(place: Place) -> str:
    return str(place.tooth or place.number or place.step)
