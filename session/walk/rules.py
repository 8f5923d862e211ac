"""Which acts are allowed, by what is asked now.

The screen's footer, its help and its checks all look it up here, so that no key does what the log could not replay.
"""

from __future__ import annotations

from typing import Final

from session.trade.grades import SHARES
from session.trade.pitch import MOST_POINTS
from session.trade.saw import Leans
from session.trade.scan_readings import BY_SCAN, scanned_off
from session.trade.strip_readings import MOST_QUARTERS, quarters_of
from session.walk.added_rules import why_not_add
from session.walk.added_work import not_begun
from session.walk.flagged_places import looked_again
from session.walk.front_question import Ask, Front
from session.walk.kept_outcomes import kept_outcomes
from session.walk.mark import Did, Mark
from session.walk.measurable_facts import whole_in
from session.walk.measurables import Measurable, counts_line
from session.walk.place import Place, place_of
from session.walk.stages import LEAN_ITEM, Kind, Stage, facts_of
from session.walk.state import State
from session.walk.tally import flat_of

#: Most strokes one mark may carry; more in one gullet is a slip of the key, not a plan.
MOST_STROKES: Final = 99


_ALWAYS: Final = frozenset({Did.PAUSED, Did.RESUMED})
_WITH_BACK: Final = _ALWAYS | {Did.TOOK_BACK}

_ALLOWED: Final[dict[Ask, frozenset[Did]]] = {
    Ask.FINISHED: frozenset(),
    Ask.PAUSED: frozenset({Did.RESUMED}),
    Ask.CONFIRM: _WITH_BACK | {Did.CONFIRMED, Did.DONE},
    Ask.CHECK: _WITH_BACK | {Did.CHECKED, Did.DONE, Did.ADDED},
    Ask.CAUTION: _WITH_BACK | {Did.ACKNOWLEDGED, Did.DECIDED, Did.ADDED},
    Ask.TURN: _WITH_BACK | {Did.ACKNOWLEDGED, Did.TURNED},
    Ask.SHIFT: _WITH_BACK | {Did.SHIFTED, Did.DONE},
    Ask.FIT: _WITH_BACK | {Did.ACKNOWLEDGED, Did.MEASURED},
    Ask.WORK: _WITH_BACK | {Did.DONE, Did.LEFT_OUT, Did.FLAGGED, Did.MEASURED, Did.DECIDED, Did.ADDED},
    Ask.END: _WITH_BACK | {Did.FINISHED},
}

#: Where “done” only counts the places up to one found on the saw (`place_moves.moves_to`), not one just worked.
_PASSED_BY_MANY: Final = frozenset({Ask.CHECK, Ask.CONFIRM, Ask.SHIFT})

#: What is asked before a place of another side or another reach is worked.
_BEFORE_WORK: Final = frozenset({Ask.TURN, Ask.SHIFT, Ask.FIT})


def allowed(state: State) -> frozenset[Did]:
    """The acts that may be made now."""
    now = state.front
    acts = _ALLOWED[now.ask]
    if Did.TOOK_BACK in acts and (looked_again(state) is not None or kept_outcomes(state)):
        acts |= {Did.PUT_BACK}
    if state.last_act is None:
        acts -= {Did.TOOK_BACK}
    if now.ask is Ask.TURN:
        acts -= {Did.TURNED if now.name else Did.ACKNOWLEDGED}
    if now.ask is Ask.FIT:
        acts -= {Did.ACKNOWLEDGED if now.name == LEAN_ITEM else Did.MEASURED}
    if now.ask in _BEFORE_WORK and state.marks and state.added and state.marks[-1].seq == state.added[-1].seq:
        # What is added together is added at one place, whatever the first of it asks for.
        acts |= {Did.ADDED}
    if all(begun(state, stage) for stage in state.plan.order if facts_of(stage).optional):
        acts -= {Did.DECIDED}
    place = state.place
    if place is None:
        acts -= {Did.DONE}
    elif place.stage is Stage.CLOSE:
        acts -= {Did.LEFT_OUT, Did.DECIDED}
        if begun(state, Stage.CLOSE):
            acts -= {Did.ADDED}
    return acts


def why_not(state: State, mark: Mark) -> str | None:
    """Why ``mark`` may not be made now, in one sentence, or None when it may."""
    if mark.seq != state.next_seq:
        return f"the next mark is {state.next_seq}, not {mark.seq}"
    now = state.front
    if mark.did is Did.GAVE_UP:
        # No act of the bench: whatever was asked, it is not answered any more.
        return _asked(now) if now.ask is Ask.FINISHED else None
    if mark.did not in allowed(state):
        return f"“{mark.did}” is not possible here: {_asked(now)}"
    place = place_of(mark)
    match mark.did:
        case Did.DONE | Did.LEFT_OUT | Did.FLAGGED:
            return _why_not_place(state, now, mark, place)
        case Did.TOOK_BACK:
            return None if mark.of in can_take_back(state) else f"mark {mark.of} is not one that can be taken back"
        case Did.PUT_BACK:
            again = looked_again(state)
            held = again is not None and mark.of == again.seq
            held = held or mark.of in {took.seq for took in kept_outcomes(state).values()}
            return None if held else f"mark {mark.of} is not one that can be put back"
        case Did.ACKNOWLEDGED:
            if mark.what != now.name:
                return f"what is asked is “{now.name}”, not “{mark.what}”"
            # The side tells an item of the turn from a caution, in the log as in the fold.
            return None if (mark.side or 0) == now.side else f"“{now.name}” belongs to side {now.side}"
        case Did.TURNED:
            return None if mark.side == now.side else f"the saw has to be turned to side {now.side}"
        case Did.SHIFTED:
            if now.reach is None:
                return None if place == now.place else "the saw has to be held for the place in hand"
            first, last = now.reach
            right = mark.tooth is not None and first <= mark.tooth <= last
            return None if right else "the saw has to be shifted to the reach of the place in hand"
        case Did.CHECKED:
            return None if place == now.place else "that check point is not the one asked"
        case Did.MEASURED:
            return _why_not_measured(state, now, mark)
        case Did.DECIDED:
            return _why_not_decide(state, mark)
        case Did.ADDED:
            return why_not_add(state, mark)
        case _:
            return None


def can_take_back(state: State) -> frozenset[int]:
    """The seqs that may be taken back: the last act, any place done or left out, and what was added and not begun."""
    places = {mark.seq for place, mark in state.outcomes.items() if place in state.route.index}
    last = state.last_act
    return frozenset({*places, *not_begun(state), *({last.seq} if last is not None else set())})


def begun(state: State, stage: Stage) -> bool:
    """Whether any place of the stage is done or left out."""
    return state.tally.begun(stage)


def _why_not_place(state: State, now: Front, mark: Mark, place: Place | None) -> str | None:
    if mark.did is Did.DONE and mark.unit == BY_SCAN and place is not None:
        return _why_not_scanned(state, mark, place)
    if place is None or place != state.place:
        return f"the place in hand is {state.place}, not {place}"
    if mark.did is Did.LEFT_OUT and not (mark.reason or "").strip():
        return "leaving a place out needs a reason"
    if mark.did is Did.DONE and now.ask in _PASSED_BY_MANY and mark.many is None:
        return f"“done” is not possible here: {_asked(now)}"
    if mark.did is Did.DONE and place.on_strip:
        told = mark.value is None or quarters_of(mark.value, mark.unit) is not None
        return None if told else f"a flat lies {MOST_QUARTERS} quarters of its width off its mark at most, either way"
    if mark.did is Did.DONE and place.stage is Stage.LEVEL and place.tooth and flat_of(mark) is None:
        return f"a flat is graded 0 to {len(SHARES) - 1}"
    if mark.off is not None and (scanned_off(mark.off) is None or flat_of(mark) is None):
        return "a flat lies less than a pitch off its place, and nothing else does"
    if mark.strokes is not None:
        if place.kind not in (Kind.GULLET, Kind.TOOTH):
            return "strokes are counted in gullets and at teeth only"
        if not 1 <= mark.strokes <= MOST_STROKES:
            return f"{mark.strokes} strokes; allowed: 1 to {MOST_STROKES}"
    return None


def _why_not_scanned(state: State, mark: Mark, place: Place) -> str | None:
    """A scan tells all the flats of a grading at once, those behind one that it did not see among them."""
    here = state.place
    leg = state.route.leg_at(state.here)[0] if here is not None else None
    if leg is None or not leg.scan or place not in leg.places or state.passed(place):
        return f"no scan tells of {place} now"
    share = flat_of(mark)
    if share is None:
        return "a flat that a scan measured is 0 to less than 1 of the pitch"
    return None if not share or scanned_off(mark.off) is not None else "a flat lies less than a pitch off its place"


def _why_not_measured(state: State, now: Front, mark: Mark) -> str | None:
    if not mark.what or mark.value is None:
        return "a measured mark needs what and value"
    if now.ask is Ask.FIT and (mark.what != Measurable.FIRST_LEANS or mark.value not in list(Leans)):
        return f"what is asked is how tooth 1 leans; allowed: {', '.join(Leans)}"
    if not counts_line(mark):
        return None
    points = mark.value
    if whole_in(Measurable.POINTS, points) is None:
        return f"{points} points in the line; allowed: a whole number from 2 to {MOST_POINTS}"
    if points != state.plan.points and any(place.tooth for place in state.outcomes):
        # Another count would move the sides and the reaches under the teeth already worked.
        return f"teeth of this line have been worked, so its count stays {state.plan.points}"
    return None


def _why_not_decide(state: State, mark: Mark) -> str | None:
    if mark.stage is None or not isinstance(mark.value, bool):
        return "a decision names a stage and says true or false"
    if not facts_of(mark.stage).optional:
        return f"the stage {mark.stage} always belongs to a sharpening"
    if mark.stage not in state.plan.order:
        return f"the stage {mark.stage} is not one of this sharpening"
    if begun(state, mark.stage):
        return f"the stage {mark.stage} has begun; leave its places out one by one, with a reason"
    return None


def _asked(now: Front) -> str:
    return {
        Ask.FINISHED: "the sharpening is finished",
        Ask.PAUSED: "the work is paused",
        Ask.CONFIRM: "the place has to be confirmed on the saw first",
        Ask.CHECK: "a check point is open",
        Ask.CAUTION: "a caution has to be acknowledged first",
        Ask.TURN: "the saw has to be turned first",
        Ask.SHIFT: "the saw has to be shifted first",
        Ask.FIT: f"“{now.name}” has to be answered first",
        Ask.WORK: f"{now.place} is in hand",
        Ask.END: "only the end is left",
    }[now.ask]
