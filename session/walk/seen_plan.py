"""What was seen of the saw overrides its plan: the points counted on it, and the way that tooth 1 leans."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from session.trade.saw import Leans
from session.value_class import replace
from session.walk.mark import Mark
from session.walk.measurables import Measurable, counts_line
from session.walk.place import Place
from session.walk.stages import LEAN_ITEM
from session.walk.work_plan import FinalSet, Plan


def as_seen(plan: Plan, mark: Mark, worked: Iterable[Place]) -> Plan:
    """``plan`` after ``mark``, which tells what was measured; ``worked`` are the places done or left out so far."""
    if counts_line(mark):
        return _counted(plan, mark, worked)
    if mark.what in _WIDTHS and plan.final_set is FinalSet.WHEN_MEASURED:
        return replace(plan, final_set=FinalSet.ASKED_FOR)
    return _leaning(plan, mark, worked) if mark.what == Measurable.FIRST_LEANS else plan


#: What tells that the set of a saw is measured, though its recipe gives none.
_WIDTHS: Final = frozenset({Measurable.OVER_POINTS, Measurable.OVER_POINTS_AFTER})


def _counted(plan: Plan, mark: Mark, worked: Iterable[Place]) -> Plan:
    """Points counted along the whole line override the computed ones, as long as no tooth was worked."""
    points = mark.value
    if not isinstance(points, int) or points < 2 or points == plan.points or any(place.tooth for place in worked):
        return plan
    return plan.counted(points)


def _leaning(plan: Plan, mark: Mark, worked: Iterable[Place]) -> Plan:
    """Every side follows the lean of tooth 1 as it was seen, as long as no tooth was bent or filed.

    A log of before, which holds no lean, went on by its plan whatever was seen.
    """
    if LEAN_ITEM not in plan.fit_items or mark.value not in list(Leans):
        return plan
    seen = plan.leaning(Leans(str(mark.value)))
    return plan if any(place.side and place.tooth for place in worked) else seen
