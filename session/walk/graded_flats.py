"""What the graded flats of a walk tell: where the steel is to come off, and how much one stroke took of it.

The bench asks here while the walk lasts, and its record once it is finished, so that both learn the same bite.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Final

from session.trade.evening import EveningPlan
from session.trade.graded_line import GradedLine
from session.trade.grades import GRADE, SHARES, USUAL
from session.trade.saw import Saw
from session.trade.strip_plan import plan_by_strip
from session.trade.strokes import (
    DEFAULT_BITE,
    LEARN_FROM,
    LEAST_BITE_MM3,
    MOST_BITE_MM3,
    Bite,
    learn_bite,
    spread_by_rounding,
)
from session.trade.tooth import tooth_of
from session.trade.trade_error import TradeError
from session.value_class import replace
from session.walk.added_stages import REST_NOT_SEEN, STRIP_ASIDE
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.tally import Tally, counted_by_hand

#: How a place is said to be marked when no hand did it: the timer counts no strokes; in older logs it claims one.
_BY_TIMER: Final = "timer"


def usable_flats(state: State, stage: Stage, round_: int = 1) -> Mapping[int, float]:
    """The graded flats, as shares of the pitch, as they are for round ``round_`` of ``stage``.

    None when a leveling pass has widened those flats since, or when reshaping or filing has used them up.
    """
    tally = state.tally
    if stage is Stage.LEVEL:
        return tally.flats_of(round_)
    if round_ > 1:
        return tally.flats_of(state.route.flats.get(round_, 0)) if stage is Stage.FILE else {}
    return {} if _void(tally, stage) else state.flats


def last_grade(state: State) -> int | None:
    """The grade given last in the grading that was begun last; None before any was given in it."""
    # Not the last act: a check point or a tooth left out may stand between two grades.
    for mark in reversed(state.marks):
        if mark.seq in state.taken:
            continue
        if mark.did is Did.ADDED and mark.stage is Stage.LEVEL and mark.what not in (STRIP_ASIDE, REST_NOT_SEEN):
            return None
        if mark.unit == GRADE and isinstance(mark.value, int):
            return mark.value
    return None


def rest_of_flats(state: State) -> bool:
    """Whether the flats from the place in hand on can be answered for at once: nothing but the eye tells of them, and
    there are several."""
    place = state.place
    if place is None or place.stage is not Stage.LEVEL or not place.tooth or place.on_strip:
        return False
    leg, first = state.route.leg_at(state.here)
    return not leg.scan and state.here - first + 1 < len(leg.places)


def usable_readings(state: State, stage: Stage, round_: int = 1) -> Mapping[int, float]:
    """Where the flats of `usable_flats` were told to lie, on the strip or by a scan, in quarters of their width; by
    tooth."""
    tally = state.tally
    if stage is Stage.LEVEL:
        return tally.readings_of(round_)
    if round_ > 1:
        return tally.readings_of(state.route.flats.get(round_, 0)) if stage is Stage.FILE else {}
    return {} if _void(tally, stage) else tally.readings_of(tally.graded_round)


def _void(tally: Tally, stage: Stage) -> bool:
    """Whether what was told of the flats before filing is true of them no more."""
    return tally.widened or (stage is Stage.FILE and tally.grades_spent)


def broken_teeth(state: State) -> tuple[int, ...]:
    """The broken teeth of the line, as told at the look over."""
    return tuple(tooth for tooth in state.broken if tooth <= state.plan.points)


def leaning(
    state: State, saw: Saw, flats: Mapping[int, float], readings: Mapping[int, float] | None = None
) -> EveningPlan | None:
    """What to take and where to lean by the flats as graded: the exact plan for those told against the strip or
    measured by a scan, else the printed rule, as grades tell no places.

    None without grades, or for a line that allows none.
    """
    if not flats:
        return None
    # The line may have been counted longer or shorter than the recipe has it.
    return _leaning(
        replace(saw, points=state.plan.points),
        tuple(sorted(flats.items())),
        tuple(sorted((readings or {}).items())),
        broken_teeth(state),
    )


@lru_cache(maxsize=16)
def _leaning(
    saw: Saw, flats: tuple[tuple[int, float], ...], readings: tuple[tuple[int, float], ...], broken: tuple[int, ...]
) -> EveningPlan | None:
    given, spaces = dict(flats), [saw.line.pitch_at(tooth) for tooth in range(1, saw.points + 1)]
    shares = [given.get(tooth, SHARES[USUAL]) for tooth in range(1, saw.points + 1)]
    widths = [share * space for share, space in zip(shares, spaces, strict=True)]
    try:
        line = GradedLine(
            widths,
            saw.pitch_mm,
            tooth_of(saw).depth_mm,
            saw.plate.mm,
            grades=[given.get(tooth) for tooth in range(1, saw.points + 1)],
            broken=broken,
            spaces_mm=spaces,
            rises=_rises(saw) if saw.zones else (),
        )
        # What was told of a flat that was graded anew holds for it; without a grade there is no width to tell by.
        return plan_by_strip(line, {tooth: told for tooth, told in readings if tooth in given})
    except TradeError:
        return None


def _rises(saw: Saw) -> tuple[float, ...]:
    """Depth over space of each gullet of a progressive line."""
    rises: list[float] = []
    for first, last, zone in saw.line.stretches():
        rises += [tooth_of(saw.at(first)).depth_mm / zone.pitch_mm] * (last - first + 1)
    return tuple(rises)


def bite_here(state: State, saw: Saw, stage: Stage = Stage.FILE, known: Bite = DEFAULT_BITE) -> Bite:
    """Steel taken by one stroke, learned from the strokes that this walk marked in ``stage``; else ``known`` itself."""
    if len(_counted_in(state, stage)) < LEARN_FROM:
        return known
    return bite_by(leaning(state, saw, usable_flats(state, stage), usable_readings(state, stage)), state, stage, known)


def bite_by(plan: EveningPlan | None, state: State, stage: Stage, known: Bite) -> Bite:
    """The same by the evening plan that the gullets of ``stage`` were filed to.

    Places that the timer marked teach nothing, nor does a gullet whose bite no file can have (a slip of the key), nor
    flats that another pass has widened since they were graded. Where every gullet says one stroke nothing is learned
    either: in older logs that is what the advance key claimed of its own accord, so that nobody may have counted.
    """
    marks = _counted_in(state, stage)
    if plan is None or len(marks) < LEARN_FROM or state.tally.widened:
        return known
    volumes, strokes = [], []
    for mark in sorted(marks, key=lambda mark: mark.seq):
        tooth, count = mark.tooth or 0, mark.strokes or 0
        if tooth <= len(plan.volumes_mm3):
            volume = plan.volumes_mm3[tooth - 1]
            if LEAST_BITE_MM3 * count <= volume <= MOST_BITE_MM3 * count:
                volumes.append(volume)
                strokes.append(count)
    learned = learn_bite(volumes, strokes, known) if counted_by_hand(strokes) else known
    if learned is known:
        return known
    return spread_by_rounding(learned, strokes)


def _counted_in(state: State, stage: Stage) -> list[Mark]:
    # Those of later rounds filed other flats, those before the file was changed were filed with another.
    told = state.measured.get(Measurable.FILE)
    since = 0 if told is None else told.seq
    places = ((place, mark) for place, mark in state.outcomes.items() if place.stage is stage and place.round == 1)
    return [mark for _, mark in places if mark.seq > since and _counted(mark)]


def _counted(mark: Mark) -> bool:
    """Whether somebody counted the strokes of a gullet."""
    return mark.did is Did.DONE and (mark.tooth or 0) > 0 and (mark.strokes or 0) > 0 and mark.by != _BY_TIMER
