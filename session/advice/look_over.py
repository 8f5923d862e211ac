"""What the look over found, gathered from the marks, and the advice that follows from it."""

from __future__ import annotations

from typing import Any

from session.advice.findings import Findings, findings_from
from session.advice.stage_advice import Counsel, advise
from session.trade.saw import Saw
from session.walk.mark import Mark
from session.walk.measurables import (
    IN_THE_LINE,
    MEASURABLES,
    Measurable,
    MeasurableFacts,
    ValueKind,
    length_mm,
    teeth_in,
)
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
        # A log may be of another version, with words and numbers that this one does not know: then nothing was told.
        match facts.kind:
            case ValueKind.LENGTH:
                mm = length_mm(mark.value, mark.unit)
                answers[what] = mm if mm is not None and mm >= facts.least else None
            case ValueKind.TEETH:
                answers[what] = tuple(tooth for tooth in teeth_in(mark.value) if tooth >= 1)
            case ValueKind.CHOICE if mark.value in facts.choices:
                answers[what] = mark.value
            case ValueKind.COUNT if mark.unit in facts.choices and _counted(mark, facts):
                answers[what], scope = mark.value, mark.unit
    return findings_from(answers, scope=scope)


def _counted(mark: Mark, facts: MeasurableFacts) -> bool:
    """Whether ``mark`` tells a number in its range, a whole one for the whole line."""
    kinds = int if mark.unit == IN_THE_LINE else int | float
    number = isinstance(mark.value, kinds) and not isinstance(mark.value, bool)
    return number and facts.least <= float(mark.value or 0) <= facts.most


def advice(state: State, saw: Saw) -> tuple[Counsel, ...]:
    """The advice on each stage, in working order."""
    return advise(saw, findings(state), state.taken_in)


def against(state: State, saw: Saw) -> tuple[Counsel, ...]:
    """The advice that the plan as it stands does not follow, for stages that can be taken in or out."""
    mine = {stage for stage in state.plan.order if facts_of(stage).optional}
    return tuple(
        one for one in advice(state, saw) if one.stage in mine and one.take_in != (one.stage in state.taken_in)
    )
