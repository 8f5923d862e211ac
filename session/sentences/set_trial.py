"""The words for the trial of a set: once six teeth are bent, what the caliper should read before the rest is."""

from __future__ import annotations

from typing import Final

from session.trade.kerf import set_from_measurement_mm
from session.trade.lengths import Length
from session.trade.saw import Leans, Saw
from session.trade.trade_error import TradeError
from session.walk.first_fitting import lean_of
from session.walk.measurables import Measurable, length_mm
from session.walk.place import Place
from session.walk.stages import Kind, Stage
from session.walk.state import State

#: So many teeth are bent before any is measured: judgment.
TRIED: Final = 6


def trial_words(state: State, saw: Saw, place: Place) -> tuple[str, ...]:
    """At the tooth after the sixth, what a bent tooth and its neighbor measure over their points; else nothing.

    The neighbor leans the other way and is not bent yet: it has the set that the saw came with, none where no tooth
    leaned. Where that was not measured no width is told (derived: plate + set wanted + set found).
    """
    worked = state.tally.stages.get(place.stage)
    if place.stage is not Stage.SET or place.kind is not Kind.TOOTH or worked is None or worked.passed != TRIED:
        return ()
    found = _found_mm(state, saw)
    if saw.set_per_side is None or found is None:
        return ("Six are bent: measure over one and its neighbor before you bend the rest.",)
    width = Length.of(saw.plate.mm + saw.set_per_side.mm + found, saw.unit)
    return (f"Six are bent: over one and its neighbor, {width} is right. Adjust the saw set if not.",)


def _found_mm(state: State, saw: Saw) -> float | None:
    """The set a side that the saw came with, in mm; None where nobody measured it."""
    if lean_of(state.plan, state.measured) is Leans.UNSET:
        return 0.0
    over = state.measured.get(Measurable.OVER_POINTS)
    width = None if over is None else length_mm(over.value, over.unit)
    try:
        return None if width is None else set_from_measurement_mm(width, saw.plate.mm)
    except TradeError:
        return None
