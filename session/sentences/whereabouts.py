"""Where one is, in words: the place before, the place in hand, the next, and what comes after that."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from session.sentences.mark_words import STOOD, brief, told
from session.trade.saw import Saw
from session.walk.account import ACTS
from session.walk.mark import Did, Mark
from session.walk.place import Place, place_of
from session.walk.places_left import open_of
from session.walk.stages import FACTS, Kind
from session.walk.state import State
from session.walk.work_plan import Plan

#: Cells under the large numerals of the smallest screen.
BESIDE_NUMERALS: Final = 27


def named(place: Place, saw: Saw) -> str:
    """A place by its full name with its distance from the heel, as a rule on the plate shows it."""
    if place.tooth:
        which = ", its tooth" if place.kind is Kind.GULLET else ","
        return f"{place}{which} {saw.from_heel(place.tooth)} from the heel"
    return str(place)


def on_rule(place: Place, saw: Saw) -> str:
    """How far from the heel a tooth stands, or of a gullet the tooth that it is named by: a rule is laid on points."""
    far = saw.from_heel(place.tooth)
    if place.kind is not Kind.GULLET:
        return f"{far} from the heel"
    said = f"{far}, heel to tooth {place.tooth}"
    return said if len(said) <= BESIDE_NUMERALS else f"{far}, heel to {place.tooth}"


def between(plan: Plan, place: Place | None) -> str:
    """Which teeth a gullet lies between, as its number is that of a tooth too; empty for any other place."""
    if place is None or place.kind is not Kind.GULLET:
        return ""
    # In front of the last tooth there is no other.
    last = place.tooth >= plan.points
    return f"in front of tooth {place.tooth}" if last else f"between teeth {place.tooth} and {place.tooth + 1}"


def newest_first(state: State) -> Iterator[Mark]:
    """The marks that still stand and say something about the saw."""
    return (mark for mark in reversed(state.marks) if mark.did in ACTS and mark.seq not in state.taken)


def previous(state: State) -> str:
    """The last thing done to the saw, or that nothing was."""
    last = state.last_act
    if last is None:
        return "nothing yet"
    place = place_of(last)
    by_reach = last.did is Did.SHIFTED and place is not None and place.stage not in STOOD
    if by_reach and place is not None and first_clamped(state) == last.seq:
        return f"clamped at {brief(place)}"
    return told(last, short=True)


def stood(state: State) -> str:
    """What is done to the saw where it has to be held otherwise: "clamped", "shifted" or "laid flat"."""
    place = state.place
    if place is not None and place.stage in STOOD:
        return STOOD[place.stage]
    return "clamped" if state.clamped is None else "shifted"


def first_clamped(state: State) -> int | None:
    """The seq of the mark that clamped a reach first, nothing being there to be shifted; None before it."""
    moved = (mark for mark in state.marks if mark.did in (Did.SHIFTED, Did.TURNED) and mark.seq not in state.taken)
    stands = (mark for mark in moved if mark.did is Did.TURNED or mark.stage not in STOOD)
    return next((mark.seq for mark in stands), None)


def following(state: State) -> Place | None:
    """The open place after the one in hand, in this stage and side, or None."""
    if state.place is None:
        return None
    leg, first = state.route.leg_at(state.here)
    for place in leg.places[state.here - first + 1 :]:
        if not state.passed(place):
            return place
    return None


def next_words(state: State) -> str:
    """The next place, or the stage and side that come after this one."""
    place = following(state)
    if place is not None:
        return brief(place)
    if state.place is None:
        return "finished"
    here, _ = state.route.leg_at(state.here)
    for leg in state.route.legs[state.route.legs.index(here) + 1 :]:
        first = next((place for place in leg.places if not state.passed(place)), None)
        if first is not None and (leg.stage, leg.round) == (here.stage, here.round) and not leg.side:
            # What follows within the stage goes by its own name: after the passes the look at the flats.
            return brief(first) if first.step else str(first)
        if first is not None:
            return f"{leg.stage}, side {leg.side}" if leg.side else str(leg.stage)
    return "the end"


def ahead(state: State) -> str:
    """The next interruption by the work itself: a shift of the saw or a turn; empty when none is near."""
    place = state.place
    if place is None or not FACTS[place.stage].in_vise:
        return ""
    first, last = state.plan.reach_of(place.tooth)
    leg, _ = state.route.leg_at(state.here)
    inside = [p.tooth for p in leg.places if first <= p.tooth <= last]
    if leg.places[-1].tooth == inside[-1]:
        return f"side ends with {inside[-1]}"
    return f"shift the saw after {inside[-1]}"


def progress(state: State, place: Place | None) -> tuple[int, int, int]:
    """Places done, places left out, and all places, of the stage and side that ``place`` belongs to; None is the end.

    A place that leaves itself out, as a stump does, was not worked either.
    """
    leg, first = state.route.leg_at(len(state.route.places) - 1 if place is None else state.route.index[place])
    # A tooth counts once, however much is told of its flat.
    places = [one for one in leg.places if not one.on_strip] if state.route.strip else leg.places
    # Only where any was left out are all of them looked through.
    tally = state.tally.stages.get(leg.stage)
    left = 0
    if tally is not None and tally.left_out:
        left += sum(mark is not None and mark.did is Did.LEFT_OUT for mark in state.outcomes.each(places))
    if state.some_alone:
        left += sum(bool(state.alone(one)) for one in places)
    return len(places) - open_of(state, places, first) - left, left, len(places)


def numeral(state: State) -> str:
    """What the large numerals show: the tooth, the pass, or the step's number; at the end, how many were left out."""
    place = state.place
    if place is None:
        return str(len(state.left_out()) + len(state.left_by_itself()))
    if place.kind is Kind.STEP:
        _, first = state.route.leg_at(state.here)
        return str(state.here - first + 1)
    return str(place.tooth or place.number)
