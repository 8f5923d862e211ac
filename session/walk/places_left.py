"""How many places are still to be done: only those from the place in hand on are looked at, however many lie behind."""

from __future__ import annotations

from collections.abc import Sequence

from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State


def open_of(state: State, places: Sequence[Place], first: int) -> int:
    """How many of ``places`` are not passed: the route's from index ``first`` on, or some of them where flats are
    told against the strip.

    All before the place in hand are, so that only those from it on are looked at.
    """
    in_route = not state.route.strip
    ahead = places[max(0, state.here - first) :] if in_route else places
    # Where each mark lies behind the place in hand there is none ahead.
    marked = 0 if in_route and state.behind == len(state.outcomes) else state.outcomes.holds(ahead)
    left = len(ahead) - marked
    # A place with a mark is not alone, so none is counted twice.
    return left - sum(bool(state.alone(place)) for place in ahead) if state.some_alone else left


def left_to_do(state: State, stage: Stage) -> int:
    """How many places of ``stage`` are not passed."""
    first, left = len(state.route.places), 0
    for leg in reversed(state.route.legs):
        first -= len(leg.places)
        if first + len(leg.places) <= state.here:
            break
        if leg.stage is stage:
            left += open_of(state, leg.places, first)
    return left
