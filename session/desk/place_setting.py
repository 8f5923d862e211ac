"""The place set by hand: forward, backward, at a check point that differs, or where it was lost."""

from __future__ import annotations

from session.desk.act_reply import Reply
from session.desk.mark_writer import MarkWriter
from session.walk import acts, place_moves
from session.walk.front_question import Ask
from session.walk.place import Place
from session.walk.scanned_marks import flats_told


def set_place(making: MarkWriter, target: Place) -> Reply:
    """Make ``target`` the place in hand, close the check point or confirm the place."""
    state, now, at = making.state, making.state.front, making.at()
    try:
        told = target in flats_told(state)
        marks = [acts.look_again(state, at, target)] if told else list(place_moves.moves_to(state, at, target))
    except ValueError as wrong:
        return Reply(f"{wrong}.", refused=True)
    if now.ask is Ask.CHECK:
        places = state.route.places
        last = places[max(0, state.route.index[target] - 1)]
        marks = [*acts.numbered((acts.check(state, at, last.tooth or last.number), *marks), state.next_seq)]
    reply = making.make_all(marks, f"The place is now {target}.")
    if not reply.refused and making.state.front.ask is Ask.CONFIRM:
        confirmed = making.make(acts.confirm(making.state, at, "set"))
        return confirmed if confirmed.refused else reply
    return reply
