"""The states of all teeth of the line in the stage and side in hand, for the strip of the line."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence

from session.trade.grades import SHARES
from session.value_class import dataclass, field
from session.walk.flagged_places import open_flags
from session.walk.known_teeth import KnownTeeth, known_teeth
from session.walk.mark import Did
from session.walk.place import Place, Standing
from session.walk.stages import FACTS, Stage
from session.walk.state import State
from session.walk.tally import NONE_PASSED


@dataclass(frozen=True, slots=True)
class LineStanding:
    """The line as it stands.

    teeth: one state a tooth, heel first; None for one that is worked from the other side. hand: the tooth in hand, or
    None where none is. flagged: teeth with a flag on any of their places. known: the broken, low and high teeth.
    reaches: first and last tooth of each part that the vise holds at once; the whole line where no vise holds the saw.
    flats: the graded flats as shares of the pitch, by tooth, and the scale that they were graded in. strokes: those
    counted in each gullet in the stage in hand, or in the last one that was filed.
    """

    teeth: tuple[Standing | None, ...]
    hand: int | None
    flagged: tuple[int, ...]
    known: KnownTeeth
    reaches: tuple[tuple[int, int], ...]
    flats: Mapping[int, float] = field(default_factory=dict)
    scale: tuple[float, ...] = SHARES
    strokes: Mapping[int, int] = field(default_factory=dict)


def _flagged(state: State) -> tuple[int, ...]:
    """The teeth whose flag is open: once a place was looked at again, nothing is left to look at."""
    return tuple(sorted({place.tooth for place in open_flags(state) if place.tooth})) if state.flags else ()


def line_standing(state: State) -> LineStanding:
    """The line of ``state``."""
    place, graded = state.place, state.tally.graded_round
    filed = Stage.RESHAPE if place is not None and place.stage is Stage.RESHAPE else Stage.FILE
    return LineStanding(
        teeth=line_states(state),
        hand=place.tooth if place is not None and place.tooth else None,
        flagged=_flagged(state),
        known=known_teeth(state),
        reaches=state.plan.reaches if place is not None and FACTS[place.stage].in_vise else ((1, state.plan.points),),
        flats=state.tally.flats,
        scale=state.tally.rounds[graded].scale if graded else SHARES,
        strokes=state.tally.stages.get(filed, NONE_PASSED).teeth,
    )


def worked_teeth(state: State, stage: Stage) -> Container[int]:
    """The teeth or gullets done in ``stage``, on either side and in any round."""
    return state.tally.stages.get(stage, NONE_PASSED).teeth


def line_states(state: State) -> tuple[Standing | None, ...]:
    """One state a tooth, heel first; None for one that has no place in the stage and side in hand.

    The teeth of the other side are none of these, worked or not: a line that counted them as their neighbors would
    tell twice as much as was done.
    """
    index = min(state.here, len(state.route.places) - 1)
    leg, _ = state.route.leg_at(index)
    count = state.plan.points
    if not leg.places[0].tooth:
        return (Standing.AHEAD,) * count
    places = [place for place in leg.places if not place.on_strip] if state.route.strip else leg.places
    own = dict(zip((place.tooth for place in places), _standings(state, places), strict=True))
    if state.place is not None and state.place.on_strip:
        # Its flat is graded, and the tooth still in hand.
        own[state.place.tooth] = Standing.IN_HAND
    return tuple(map(own.get, range(1, count + 1)))


def _standings(state: State, places: Sequence[Place]) -> list[Standing]:
    """Which of the four states each of ``places`` is in."""
    if state.some_alone:
        return [state.standing(place) for place in places]
    found, hand = state.outcomes.each(places), state.place
    return [
        (Standing.IN_HAND if place is hand else Standing.AHEAD)
        if mark is None
        else Standing.DONE
        if mark.did is Did.DONE
        else Standing.LEFT_OUT
        for place, mark in zip(places, found, strict=True)
    ]
