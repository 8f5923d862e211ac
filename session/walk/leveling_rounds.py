"""Which leveling one more pass belongs to: the one in hand, or a later one with the filing of its own flats."""

from __future__ import annotations

from session.walk.added_stages import FIRST_LATER
from session.walk.stages import Stage
from session.walk.state import State


def leveling_round(state: State) -> int:
    """The round of leveling that one more pass belongs to: a new one once the flats of the last are being filed."""
    place = state.place
    if place is not None and place.stage is Stage.LEVEL:
        return place.round
    last = max((one.round for one in state.added if one.stage is Stage.LEVEL), default=1)
    if last >= FIRST_LATER:
        filed = {round_ for round_, leveled in state.route.flats.items() if leveled == last}
        begun = any(place.stage is Stage.FILE and place.round in filed for place in state.outcomes)
        return last + 1 if begun else last
    if _filing_reached(state):
        return FIRST_LATER
    reshaped = {Stage.LEVEL, Stage.RESHAPE} <= state.taken_in and state.tally.begun(Stage.RESHAPE)
    return 2 if reshaped else 1


def _filing_reached(state: State) -> bool:
    """Whether gullets were filed, or the walk is past where they would have been."""
    if state.tally.begun(Stage.FILE) or state.place is None:
        return True
    order = state.plan.order
    if state.place.stage not in order or Stage.FILE not in order:
        return False
    return order.index(state.place.stage) > order.index(Stage.FILE)
