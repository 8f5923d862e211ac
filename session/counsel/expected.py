"""What to expect in the gullet in hand: strokes, lean, and whether a tooth is to be left alone.

It rests on the graded flats. Without grades nothing is claimed, and after reshaping the grades taken before
it are spent.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from session.counsel.wording import times
from session.trade.evening import EveningPlan, plan_evening
from session.trade.grades import widths_mm
from session.trade.line_read import LineError, line_from_widths
from session.trade.saw import Saw
from session.trade.strokes import DEFAULT_BITE, Bite, StrokeError, gullet_volume_mm3, learn_bite
from session.trade.tooth import tooth_of
from session.walk.mark import Did
from session.walk.place import Place
from session.walk.stages import Stage
from session.walk.state import State

#: A flank that gives less than this is not worth a stroke: judgement.
_WORTH_MM: Final = 0.005


@dataclass(frozen=True, slots=True)
class Expected:
    """For one gullet: how many strokes (None: not known), which way to lean, and what else to say.

    low: neither of its teeth has steel to give. learned: gullets that the number of strokes rests on, 0 when
    it is the default, which is from memory.
    """

    strokes: int | None = None
    lean: str | None = None
    low: bool = False
    notes: tuple[str, ...] = ()
    learned: int = 0


NOTHING: Final = Expected()

#: The back of tooth 1 lies in no gullet of the count, so nothing else would have it filed (common practice, no source).
BEHIND_THE_FIRST: Final = Expected(notes=("Then the back of tooth 1, behind it, held the same.",))


def expected(state: State, saw: Saw) -> Expected:
    """What to expect at the place in hand, a gullet to be reshaped or filed; NOTHING elsewhere."""
    place = state.place
    if place is None or place.stage not in (Stage.FILE, Stage.RESHAPE):
        return NOTHING
    grades = usable_grades(state, place)
    if not grades:
        return BEHIND_THE_FIRST if place.tooth == 1 else NOTHING
    # The line may have been counted longer or shorter than the recipe has it.
    saw = replace(saw, points=state.plan.points)
    bite = learned_bite(state, saw)
    plan = evening(saw, tuple(sorted(grades.items())), broken_teeth(state), round(bite.mm3, 4))
    if plan is None:
        return NOTHING
    index = place.tooth - 1
    notes = []
    # Beyond the toe there is no tooth, and so no flat either.
    flatless = {*plan.low, *plan.broken, saw.points + 1}
    gives_front = plan.front_mm[index] > _WORTH_MM
    gives_back = place.tooth < saw.points and plan.back_mm[index + 1] > _WORTH_MM
    for tooth, gives in ((place.tooth, gives_front), (place.tooth + 1, gives_back)):
        if tooth in plan.broken:
            notes.append(f"Tooth {tooth} is broken: keep its neighbors their own size (DREW).")
        elif tooth in plan.low and tooth <= saw.points and not gives:
            notes.append(f"Tooth {tooth} is low: nothing comes off it.")
    if place.tooth == 1 and plan.heel_strokes:
        strokes = times(plan.heel_strokes, "stroke")
        notes.append(f"Then the back of tooth 1, behind it: {strokes}, held the same.")
    return Expected(
        strokes=plan.strokes[index],
        lean=str(plan.lean[index]),
        low={place.tooth, place.tooth + 1} <= flatless,
        notes=tuple(notes),
        learned=bite.gullets,
    )


def usable_grades(state: State, place: Place) -> Mapping[int, int]:
    """The grades that tell of the flats as they are at ``place``; none when reshaping has used them up."""
    if place.stage is Stage.FILE and any(p.stage is Stage.RESHAPE for p in state.outcomes):
        latest = max((p.round for p in state.outcomes if p.stage is Stage.LEVEL and p.tooth), default=0)
        return state.grades if latest > 1 else {}
    return state.grades


def broken_teeth(state: State) -> tuple[int, ...]:
    """The broken teeth told at the look over."""
    mark = state.measured.get("broken teeth")
    found = str(mark.value).split(",") if mark is not None else []
    return tuple(
        tooth for tooth in (int(text) for text in found if text.strip().isdigit()) if tooth <= state.plan.points
    )


def learned_bite(state: State, saw: Saw) -> Bite:
    """Steel taken by one stroke, learned from the strokes already marked in this walk; else the default."""
    place = state.place
    marks = [m for p, m in state.outcomes.items() if place is not None and p.stage is place.stage and m.did is Did.DONE]
    counted = [(m.tooth, m.strokes) for m in marks if m.tooth and m.strokes]
    grades = usable_grades(state, place) if place is not None else {}
    if len(counted) < 5 or not grades:
        return DEFAULT_BITE
    saw = replace(saw, points=state.plan.points)
    plan = evening(saw, tuple(sorted(grades.items())), broken_teeth(state), DEFAULT_BITE.mm3)
    if plan is None:
        return DEFAULT_BITE
    rise = tooth_of(saw).depth_mm / saw.pitch_mm
    volumes = []
    for tooth, _ in counted:
        take = plan.front_mm[tooth - 1] + (plan.back_mm[tooth] if tooth < saw.points else 0.0)
        volumes.append(gullet_volume_mm3(take, max(0.0, saw.pitch_mm - take), rise, saw.plate.mm))
    try:
        return learn_bite(volumes, [strokes for _, strokes in counted])
    except StrokeError:
        return DEFAULT_BITE


@lru_cache(maxsize=16)
def evening(
    saw: Saw, grades: tuple[tuple[int, int], ...], broken: tuple[int, ...], bite_mm3: float
) -> EveningPlan | None:
    """The evening plan for graded flats, or None for a line that none can be made for."""
    widths = widths_mm(dict(grades), saw.points, saw.pitch_mm)
    try:
        line = line_from_widths(widths, saw.pitch_mm, broken)
        return plan_evening(line, tooth_of(saw).depth_mm, saw.plate.mm, bite_mm3=bite_mm3)
    except (LineError, StrokeError):
        return None
