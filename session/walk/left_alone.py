"""Places that leave themselves out, by what is known of their teeth: nobody is asked, and no mark is made."""

from __future__ import annotations

from collections.abc import Mapping, Set
from typing import Final

from session.trade.sides import gullet_beside_first_back
from session.value_class import replace
from session.walk.mark import Did, Mark
from session.walk.place import Place
from session.walk.route import Route
from session.walk.stages import Kind, Stage
from session.walk.tally import Tally, flat_of
from session.walk.work_plan import Plan

#: Why, in the words that the list of what was left out has.
BROKEN: Final = "broken"
NO_FLAT: Final = "no flat"
NOT_GRADED: Final = "not graded"
WIDENED: Final = "graded before the last pass"


def why_alone(
    place: Place, plan: Plan, route: Route, tally: Tally, broken: Set[int], outcomes: Mapping[Place, Mark]
) -> str:
    """Why ``place`` leaves itself out; empty when it does not.

    plan, route, tally: the walk so far. broken: stumps: they are not bent, graded or filed to a point (DREW). outcomes:
    for each place done or left out, the mark that says so.
    """
    if place.stage is Stage.LEVEL:
        if not place.tooth:
            return ""
        level = tally.rounds.get(place.round)
        widened = level is not None and level.spoiled and (place.number or 1) <= level.grading
        alone = BROKEN if place.tooth in broken else WIDENED if widened else ""
        return alone or (_off_strip(place, outcomes) if place.on_strip else "")
    leveled = route.flats.get(place.round, 0) if place.stage is Stage.FILE else 0
    return _of_teeth(place, plan.points, broken, tally.flatless(leveled) if leveled else frozenset(), plan.sides)


def _of_teeth(place: Place, points: int, broken: Set[int], flatless: Set[int], sides: int) -> str:
    """The same by what is known of the teeth of a line of ``points`` filed from so many ``sides``.

    flatless: the teeth that are known to have no flat, where the place is filed for its flats; else empty. A gullet has
    two teeth beside it, and is filed as long as either of them may have a flat; the back of tooth 1 is filed beside one
    of them, beyond the toe there is no tooth.
    """
    if place.kind is not Kind.GULLET:
        return BROKEN if place.tooth in broken else ""
    beside = [tooth for tooth in (place.tooth, place.tooth + 1) if tooth <= points]
    if all(tooth in broken for tooth in beside):
        return BROKEN
    if place.tooth == gullet_beside_first_back(sides):
        beside = [1, *beside]
    beside = [tooth for tooth in beside if tooth not in broken]
    return NO_FLAT if all(tooth in flatless for tooth in beside) else ""


def _off_strip(place: Place, outcomes: Mapping[Place, Mark]) -> str:
    """Why a flat is not told against the strip, by what was marked of its tooth: there is none, or it was left out as
    it was to be graded. Empty when it is told, and when it was not graded yet."""
    graded = outcomes.get(replace(place, step=""))
    if graded is None:
        return ""
    return NOT_GRADED if graded.did is Did.LEFT_OUT else "" if flat_of(graded) else NO_FLAT
