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

_OVER: Final = "Six are bent. Caliper over one and its neighbor, not bent yet:"
_LESS: Final = "Less: adjust the saw set, bend the six a little more."
_MORE: Final = "More: adjust it for less; do not bend back, the stone takes it."


def trial_words(state: State, saw: Saw, place: Place) -> tuple[str, ...]:
    """At the tooth after the sixth, what a bent tooth and its neighbor measure over their points; else nothing.

    The neighbor leans the other way and is not bent yet: it has the set that the saw came with, none where no tooth
    leaned (derived: plate + set wanted + set found). Where nobody measured it, the width is told as for a neighbor that
    stands straight. A tooth is bent only the way it leans (PSM89, NOYES), so that too much is for the stone.
    """
    worked = state.tally.stages.get(place.stage)
    if place.stage is not Stage.SET or place.kind is not Kind.TOOTH or worked is None or worked.passed != TRIED:
        return ()
    if saw.set_per_side is None:
        return ("Six are bent: measure over one and its neighbor before you bend the rest.",)
    found = _found_mm(state, saw)
    width = Length.of(saw.plate.mm + saw.set_per_side.mm + (found or 0.0), saw.unit)
    leaning = ", and the neighbor's lean" if found is None else ""
    return f"{_OVER} {width}{leaning}.", _LESS, _MORE


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
