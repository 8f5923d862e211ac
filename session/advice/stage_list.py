"""The stages of a saw's next sharpening as the recipe alone plans them: how many places, and why.

Nothing has been measured yet; the look over at the bench may change all of it.
"""

from __future__ import annotations

from typing import Final

from session.texts.guidance import words
from session.trade.saw import Saw
from session.trade.setting import NEVER_BACK
from session.value_class import dataclass
from session.walk.route import route
from session.walk.stages import FACTS, Stage
from session.walk.work_plan import Plan


@dataclass(frozen=True, slots=True)
class PlannedStage:
    """One stage. places: how many, 0 when it is left out; sides: places of each leg as (side, places), side 0
    for work that has no side; why and source: the advice; notes: what to heed."""

    stage: Stage
    taken_in: bool
    places: int
    sides: tuple[tuple[int, int], ...]
    why: str
    source: str
    notes: tuple[str, ...] = ()


#: What is said of a stage in the plan where nothing was looked at.
STANDS: Final = "Not measured: the plan stands."


def stages(saw: Saw, plan: Plan) -> tuple[PlannedStage, ...]:
    """All stages in this recipe's order of work, those left out among them."""
    legs = route(plan, plan.taken_in, ()).legs
    told = []
    for stage in plan.order:
        mine = [leg for leg in legs if leg.stage is stage]
        why, source = words(stage).why, words(stage).source
        if stage not in plan.taken_in:
            why, source = _left_out(saw, stage)
        elif FACTS[stage].optional and stage is not Stage.PROVE:
            # What the stage is for; what was not looked at yet gives no other reason.
            why, source = f"{why} {STANDS}", f"{source}; common practice, no source"
        told.append(
            PlannedStage(
                stage=stage,
                taken_in=stage in plan.taken_in,
                places=sum(len(leg.places) for leg in mine),
                sides=tuple((leg.side, len(leg.places)) for leg in mine),
                why=why,
                source=source,
                notes=(NEVER_BACK,) if stage is Stage.SET and stage in plan.taken_in else (),
            )
        )
    return tuple(told)


def _left_out(saw: Saw, stage: Stage) -> tuple[str, str]:
    """Why a recipe's plan is without ``stage``, and who says so."""
    match stage:
        case Stage.RESHAPE:
            return "Not measured: the flats tell after leveling. It costs the most steel.", "FIT; GOR p. 150"
        case Stage.SET if saw.set_per_side is not None and saw.set_per_side.mm == 0:
            return "The recipe asks for no set.", "NOYES; GRIF art. 14; SLOJD"
        case Stage.DRESS if saw.dressing_passes == 0:
            return "The recipe asks for no passes; it is often left out.", "WHEEL"
        case _:
            return "Not in the plan.", "common practice, no source"
