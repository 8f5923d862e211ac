"""What the look over found, gathered from the marks, and the advice that follows from it."""

from __future__ import annotations

from typing import Any

from session.advice.findings import Findings, findings_from
from session.advice.stage_advice import Counsel, advise
from session.texts.steps import AskKind, step
from session.trade.lengths import MM_PER
from session.trade.saw import Saw
from session.walk.stages import FACTS, Stage
from session.walk.state import IN_THE_LINE, State


def findings(state: State) -> Findings:
    """The answers given at the look over; what was passed over is not among them."""
    answers: dict[str, Any] = {}
    scope = IN_THE_LINE
    for name in FACTS[Stage.LOOK_OVER].steps:
        asks = step(Stage.LOOK_OVER, name).asks
        mark = state.measured.get(asks.what) if asks is not None else None
        if asks is None or mark is None or asks.kind is AskKind.FILE:
            # Which file is in hand says nothing of the saw.
            continue
        match asks.kind:
            case AskKind.LENGTH if isinstance(mark.value, int | float):
                answers[name] = float(mark.value) * MM_PER[mark.unit or "mm"]
            case AskKind.TEETH:
                answers[name] = tuple(int(tooth) for tooth in str(mark.value).split(",") if tooth.strip().isdigit())
            case _:
                answers[name] = mark.value
        if name == "points" and mark.unit is not None:
            scope = mark.unit
    return findings_from(answers, scope=scope)


def advice(state: State, saw: Saw) -> tuple[Counsel, ...]:
    """The advice on each stage, in working order."""
    return advise(saw, findings(state), state.taken_in)


def against(state: State, saw: Saw) -> tuple[Counsel, ...]:
    """The advice that the plan as it stands does not follow, for stages that can be taken in or out."""
    return tuple(
        one for one in advice(state, saw) if FACTS[one.stage].optional and one.take_in != (one.stage in state.taken_in)
    )
