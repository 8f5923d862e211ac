"""The line of a record: what became of each tooth in each stage, and the places left out or flagged.

A header that holds no plan, or a plan that makes no walk, still leaves the marks: then only the drawing is missing.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from session.commands.output.replayed_record import ReplayedRecord
from session.log.log_bytes import LogStanding
from session.prints.record_matter import ToothOutcome
from session.texts.wording import nth_time
from session.trade.scan_readings import BY_SCAN
from session.walk.account import Account
from session.walk.flagged_places import flags_left
from session.walk.known_teeth import known_teeth
from session.walk.place import Place, Standing
from session.walk.stages import Stage
from session.walk.state import State

#: What is said of a flagged place that was gone back to.
LOOKED_AGAIN: Final = "looked at again"


def left_out(record: ReplayedRecord) -> list[tuple[Place, str]]:
    """The places left out in the end, in the order they were passed, each with its reason.

    Of a finished record those that left themselves out are among them, last, as on its last screen.
    """
    found = [(place, mark.reason or "") for place, mark in record.account.passed_over().items()]
    state = record.state if record.log.state is LogStanding.FINISHED else None
    return found if state is None else [*found, *state.left_by_itself()]


def flagged(account: Account) -> list[tuple[Place, str]]:
    """The flagged places, each with what was said last, which may be nothing, and whether it was gone back to."""
    still = flags_left(account)
    return [
        (place, "; ".join(word for word in (mark.reason, "" if place in still else LOOKED_AGAIN) if word))
        for place, mark in account.flags.items()
    ]


def drawings(record: ReplayedRecord) -> list[ToothOutcome]:
    """A line for each stage and round that works tooth by tooth; none when the header's plan makes no walk."""
    state = record.state
    if state is None:
        return []
    legs: dict[tuple[Stage, int], list[Place]] = {}
    for leg in state.route.legs:
        if any(place.tooth for place in leg.places):
            legs.setdefault((leg.stage, leg.round), []).extend(leg.places)
    return [_drawn(state, stage, number, places) for (stage, number), places in legs.items()]


def place_words(place: Place) -> str:
    """A place for a list: stage, tooth or step, and side where there is one."""
    side = f", side {place.side}" if place.side else ""
    again = f", {nth_time(place.round)}" if place.round > 1 else ""
    return f"{place.stage}, {place}{side}{again}"


def _drawn(state: State, stage: Stage, number: int, places: Sequence[Place]) -> ToothOutcome:
    states: list[Standing | None] = [None] * state.plan.points
    for place in places:
        if not place.on_strip:
            states[place.tooth - 1] = state.standing(place)
    here = state.place if state.place in places else None
    flags = {place.tooth for place in flags_left(state) if (place.stage, place.round) == (stage, number)}
    figures = _figures(state, places)
    what = f"level, flats {_told_by(state, places)}" if stage is Stage.LEVEL else str(stage)
    return ToothOutcome(
        title=what if number == 1 else f"{what}, {nth_time(number)}",
        states=tuple(states),
        here=here.tooth if here is not None else None,
        flags=frozenset(tooth for tooth in flags if 1 <= tooth <= state.plan.points),
        known=known_teeth(state),
        figures=figures,
        figures_are=("grades" if stage is Stage.LEVEL else "strokes") if figures else "",
        reaches=state.plan.reaches,
    )


def _told_by(state: State, places: Sequence[Place]) -> str:
    """How the flats of a leveling were told, by the eye or by a scan."""
    marks = (state.outcomes.get(place) for place in places)
    return "by a scan" if any(mark is not None and mark.unit == BY_SCAN for mark in marks) else "graded"


def _figures(state: State, places: Sequence[Place]) -> dict[int, int]:
    """The grade, or the strokes, that was told of each tooth or gullet."""
    found: dict[int, int] = {}
    for place in places:
        mark = state.outcomes.get(place)
        if mark is None or not place.tooth or place.on_strip:
            continue
        told = mark.value if place.stage is Stage.LEVEL else mark.strokes
        if isinstance(told, int) and not isinstance(told, bool):
            found[place.tooth] = told
    return found
