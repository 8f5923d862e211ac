"""What the look over found, gathered from the marks, and the advice that follows from it."""

from __future__ import annotations

from typing import Any

from session.advice.findings import Findings, findings_from
from session.advice.stage_advice import Counsel, advise
from session.trade.lengths import MM_PER
from session.trade.saw import Saw
from session.walk.measurables import IN_THE_LINE, MEASURABLES, Measurable, ValueKind, teeth_in
from session.walk.stages import Stage, facts_of
from session.walk.state import State


def findings(state: State) -> Findings:
    """The answers given at the look over; what was passed over is not among them."""
    answers: dict[Measurable, Any] = {}
    scope = IN_THE_LINE
    for what, facts in MEASURABLES.items():
        mark = state.measured.get(what)
        if mark is None or facts.stage is not Stage.LOOK_OVER:
            continue
        match facts.kind:
            case ValueKind.LENGTH if isinstance(mark.value, int | float):
                answers[what] = float(mark.value) * MM_PER[mark.unit or "mm"]
            case ValueKind.TEETH:
                answers[what] = teeth_in(mark.value)
            case _:
                answers[what] = mark.value
        if what is Measurable.POINTS and mark.unit is not None:
            scope = mark.unit
    return findings_from(answers, scope=scope)


def advice(state: State, saw: Saw) -> tuple[Counsel, ...]:
    """The advice on each stage, in working order."""
    return advise(saw, findings(state), state.taken_in)


def against(state: State, saw: Saw) -> tuple[Counsel, ...]:
    """The advice that the plan as it stands does not follow, for stages that can be taken in or out."""
    mine = {stage for stage in state.plan.order if facts_of(stage).optional}
    return tuple(
        one for one in advice(state, saw) if one.stage in mine and one.take_in != (one.stage in state.taken_in)
    )
