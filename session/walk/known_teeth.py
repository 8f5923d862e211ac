"""What is known of single teeth, told once and carried through every stage: broken, low and high ones."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from session.value_class import dataclass
from session.walk.measurables import Measurable, teeth_in
from session.walk.state import State
from session.walk.work_plan import Stumps


class Known(StrEnum):
    """What one tooth is known to be; the first of several is what is shown of it."""

    BROKEN = "broken"
    LOW = "low"
    HIGH = "high"


@dataclass(frozen=True, slots=True)
class KnownTeeth:
    """The teeth of a line that are known to be broken, low or high, by number from the heel."""

    broken: frozenset[int] = frozenset()
    low: frozenset[int] = frozenset()
    high: frozenset[int] = frozenset()

    def of(self, tooth: int) -> Known | None:
        """What ``tooth`` is known to be; None for an ordinary one."""
        if tooth in self.broken:
            return Known.BROKEN
        return Known.LOW if tooth in self.low else Known.HIGH if tooth in self.high else None

    @property
    def kinds(self) -> tuple[Known, ...]:
        """What is among them at all."""
        both = zip(Known, (self.broken, self.low - self.broken, self.high - self.low - self.broken), strict=True)
        return tuple(kind for kind, teeth in both if teeth)


NONE_KNOWN: Final = KnownTeeth()


def known_teeth(state: State) -> KnownTeeth:
    """The teeth known by now: broken ones, and low and high ones as told at the look over.

    Once a flat was graded, its grade says whether its tooth is low, as long as no later pass has made the grades void;
    a tooth that is not graded yet, or was not, is as it was told.
    A log of before shows its line as it did.
    """
    if state.plan.stumps is not Stumps.LEFT_ALONE:
        return NONE_KNOWN
    graded = state.tally.flats_of(state.tally.graded_round)
    flatless = frozenset(tooth for tooth, share in graded.items() if share == 0)
    low = flatless | (_told(state, Measurable.LOW_TEETH) - graded.keys())
    return KnownTeeth(
        broken=frozenset(tooth for tooth in state.broken if tooth <= state.plan.points),
        low=low - state.stumps,
        high=_told(state, Measurable.HIGH_TEETH),
    )


def _told(state: State, what: Measurable) -> frozenset[int]:
    mark = state.measured.get(what)
    told = () if mark is None else teeth_in(mark.value)
    return frozenset(tooth for tooth in told if 1 <= tooth <= state.plan.points)
