"""What a person does about the fault of a trial cut by the remedies that the program offers for it, as work."""

from __future__ import annotations

from collections.abc import Collection
from datetime import UTC, datetime
from typing import Final

from session.advice.cut_remedies import cut_remedies
from session.advice.work import What
from session.desk.act_questions import AS_IT_IS
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.proving.cut_figures import cut_figures
from session.rehearsal.proving.felt_faults import fault_felt
from session.texts.faults import RemedyStage, side_facing
from session.value_class import replace
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable
from session.walk.stages import Stage
from session.walk.state import State
from session.walk.work_plan import make_plan

_DAY: Final = datetime(2025, 5, 6, 7, 30, tzinfo=UTC)

#: What each added stage is as work. Leveling brings the filing of its flats, and what is filed is dressed.
_WORKS: Final = {
    Stage.SET: (What.SET,),
    Stage.LEVEL: (What.LEVEL_AGAIN, What.FILE, What.DRESS),
    Stage.FILE: (What.TOUCH_UP, What.DRESS),
}


def followed_up(plate: SimulatedPlate, over_points_mm: float, tried: Collection[str]) -> tuple[str, tuple[What, ...]]:
    """The remedy that is chosen after a trial cut with ``plate``, in the program's words, and its work; empty words for
    a cut without fault, and no work where the saw is left as it is.

    over_points_mm: the width measured last. tried: the words of those after which the cut was as before.
    """
    saw, fault = plate.saw, fault_felt(cut_figures(plate))
    if fault is None:
        return "", ()
    width = _measured(1, Stage.DRESS, Measurable.OVER_POINTS_END, round(over_points_mm, 3), "mm")
    measured: dict[str, Mark] = {Measurable.OVER_POINTS_END: width}
    if fault.toward:
        measured[Measurable.CUT_WANDER_TO] = _measured(2, Stage.PROVE, Measurable.CUT_WANDER_TO, fault.toward)
    state = replace(State.start(make_plan(saw)), measured=measured)
    offered = {one.words: one.extras for one in cut_remedies(state, saw, fault.name) if one.words not in tried}
    chosen = fault.pick([*offered, AS_IT_IS])
    works = [work for extra in offered.get(chosen, ()) for work in _work_of(extra)]
    return chosen, tuple(works)


def _measured(seq: int, stage: Stage, what: Measurable, value: float | str, unit: str | None = None) -> Mark:
    return Mark(seq=seq, at=_DAY, did=Did.MEASURED, stage=stage, what=what, value=value, unit=unit)


def _work_of(extra: RemedyStage) -> tuple[What, ...]:
    if extra.stage is not Stage.DRESS:
        return _WORKS.get(extra.stage, ())
    if len(extra.sides) != 1:
        return (What.STONE_BOTH,)
    return (What.STONE_LEFT if extra.sides == (side_facing("left"),) else What.STONE_RIGHT,)
