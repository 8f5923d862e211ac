"""Marks of flats that a scan measured: all that it tells of one leveling at once, and one of them told anew."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from session.trade.flats_by_scan import FlatByScan
from session.trade.scan_readings import BY_SCAN
from session.value_class import replace
from session.walk import acts
from session.walk.added_stages import BY_A_SCAN
from session.walk.mark import Did, Mark
from session.walk.place import Place
from session.walk.route import Leg
from session.walk.stages import Kind, Stage
from session.walk.state import State


def take_scan(state: State, at: datetime, flats: Mapping[int, FlatByScan], scanned: str) -> tuple[Mark, ...]:
    """The flats of the leveling in hand are those that a scan measured; ``scanned`` says which scan, in words.

    The first mark adds the grading, and each flat names it, so that all of them are taken back together. A tooth that
    the scan does not tell is left to the eye.
    """
    first = replace(acts.add(state, at, Stage.LEVEL, passes=0), what=BY_A_SCAN, entered=scanned)
    there = state.after(first)
    if there.place is None or not there.place.tooth:
        return (first,)
    leg, _ = there.route.leg_at(there.here)
    told = [place for place in leg.places if place.tooth in flats and not there.passed(place)]
    many = f"{told[0].tooth}-{told[-1].tooth}" if told else None
    return first, *(
        Mark(
            seq=seq,
            at=at,
            did=Did.DONE,
            **place.fields(),
            by="key",
            value=flats[place.tooth].share,
            unit=BY_SCAN,
            off=flats[place.tooth].off if flats[place.tooth].share else None,
            of=first.seq,
            many=many,
        )
        for seq, place in enumerate(told, first.seq + 1)
    )


def scanned_places(state: State) -> tuple[Place, ...]:
    """The flats that a scan told of the leveling in hand, in their order."""
    leg = _scanned_leg(state)
    if leg is None:
        return ()
    return tuple(
        place for place in leg.places if (mark := state.outcomes.get(place)) is not None and mark.unit == BY_SCAN
    )


def flats_told(state: State) -> tuple[Place, ...]:
    """The flats of the leveling in hand that a scan told and those that an eye told beside it, in their order; each
    may be told anew by itself. None where no scan measured it."""
    leg = _scanned_leg(state)
    return () if leg is None else tuple(place for place in leg.places if place in state.outcomes)


def _scanned_leg(state: State) -> Leg | None:
    here = state.place
    if here is None or here.stage is not Stage.LEVEL or here.kind is Kind.PASS:
        return None
    level = state.tally.rounds.get(here.round)
    if level is None or level.spoiled:
        return None
    legs = (leg for leg in state.route.legs if leg.scan and leg.round == here.round)
    return max(legs, key=lambda leg: leg.places[0].number, default=None)
