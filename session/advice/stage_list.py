"""The stages of a saw's next sharpening as the recipe alone plans them: how many places, and why.

Nothing has been measured yet; the look over at the bench may change all of it.
"""

from __future__ import annotations

from dataclasses import dataclass

from session.advice.findings import Findings
from session.advice.stage_advice import STANDS, advise
from session.texts.guidance import words
from session.trade.saw import Saw
from session.trade.setting import NEVER_BACK
from session.walk.route import route
from session.walk.stages import Stage
from session.walk.work_plan import Plan


@dataclass(frozen=True, slots=True)
class Staged:
    """One stage. places: how many, 0 when it is left out; sides: places of each leg as (side, places), side 0
    for work that has no side; why and source: the advice; notes: what to heed."""

    stage: Stage
    taken_in: bool
    places: int
    sides: tuple[tuple[int, int], ...]
    why: str
    source: str
    notes: tuple[str, ...] = ()


def stages(saw: Saw, plan: Plan) -> tuple[Staged, ...]:
    """All stages in this recipe's order of work, those left out among them."""
    advice = {one.stage: one for one in advise(saw, Findings(), plan.taken_in)}
    legs = route(plan, plan.taken_in, ()).legs
    told = []
    for stage in plan.order:
        mine = [leg for leg in legs if leg.stage is stage]
        why, source = words(stage).why, words(stage).source
        if stage in advice:
            # That the plan stands is no reason by itself; what the stage is for is one.
            stands = advice[stage].why.startswith(STANDS) and advice[stage].take_in
            why = f"{why} {advice[stage].why}" if stands else advice[stage].why
            source = f"{source}; {advice[stage].source}" if stands else advice[stage].source
        told.append(
            Staged(
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
