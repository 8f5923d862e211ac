"""How the saw stands: which side is up, what the vise holds, and what was turned and put on for that."""

from __future__ import annotations

from typing import Final

from session.value_class import dataclass, replace
from session.walk.first_fitting import GUIDES, SAW_ITEM, Fitted, fitted_by, turn_items
from session.walk.mark import Mark
from session.walk.place import Place
from session.walk.stages import HOLD_ITEM, NEAR_ITEM, Kind, SawHold, facts_of
from session.walk.work_plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """How the saw stands after the marks so far.

    side: 1 with the handle on the right, 2 on the left. reach: (first, last) tooth in the vise, or None.
    hold: how it is held; None in the hands, as at first.
    turn_items: items of the turn acknowledged since the last one was made, all of them for side ``turn_to``.
    guides: each guide of the file that was turned or put on, with the side for which it stands.
    fitted: items of the first fitting acknowledged, each with the stage and round it was for.
    """

    side: int = 1
    reach: tuple[int, int] | None = None
    hold: SawHold | None = None
    turn_items: frozenset[str] = frozenset()
    turn_to: int = 0
    guides: frozenset[tuple[str, int]] = frozenset()
    fitted: frozenset[Fitted] = frozenset()

    @property
    def seen_side(self) -> int:
        """The side that is up on the saw in hand: in the midst of a turn that of its first item."""
        return self.turn_to if SAW_ITEM in self.turn_items else self.side

    def turned_to(self, side: int) -> frozenset[str]:
        """The items of the turn that are done for ``side``."""
        return self.turn_items if self.turn_to == side else frozenset()

    def turning(self, plan: Plan, place: Place, to_fit: tuple[str, ...]) -> tuple[str, ...]:
        """What is held one by one at a turn to ``place``; a guide that stands for its side already is not turned.

        to_fit: what is put on with it in any case.
        """
        kept, side = {*to_fit, *self.turned_to(place.side)}, place.side
        items = turn_items(plan, place.stage, to_fit)
        return tuple(item for item in items if item in kept or (item, side) not in self.guides)

    def next_item(self, plan: Plan, place: Place, to_fit: tuple[str, ...]) -> str:
        """The next item of a turn to ``place``; empty when all are done."""
        done = self.turned_to(place.side)
        return next((item for item in self.turning(plan, place, to_fit) if item not in done), "")

    def agreed(self, mark: Mark, what: str, side: int, plan: Plan) -> Stand:
        """After one item of a turn to ``side``, or of a fitting for it."""
        guides = self.guides
        if what in GUIDES:
            guides = frozenset({*(one for one in guides if one[0] != what), (what, side)})
        turning = bool(self.turn_items) and self.turn_to == side
        if side == self.side and what in plan.fit_items and not turning:
            return replace(self, guides=guides, fitted=self.fitted | fitted_by(mark, plan, {what}))
        return replace(self, guides=guides, turn_items=self.turned_to(side) | {what}, turn_to=side)

    def turned(self, mark: Mark, side: int, plan: Plan, reach: tuple[int, int] | None) -> Stand:
        """After the turn to ``side`` was made; what was put on at it is fitted."""
        fitted = self.fitted | fitted_by(mark, plan, self.turned_to(side))
        # Turned in setting or on the bench it is held as before.
        hold = SawHold.LOW if reach is not None else self.hold
        return replace(self, side=side, reach=reach, hold=hold, turn_items=frozenset(), turn_to=0, fitted=fitted)

    def held(self, mark: Mark, reach: tuple[int, int] | None) -> Stand:
        """After it was clamped, shifted or laid down for the stage of ``mark``; by a reach it is held low alone."""
        hold = facts_of(mark.stage).hold if mark.stage is not None else None
        return replace(self, hold=hold, reach=reach if hold in (SawHold.LOW, None) else None)


def hold_due(plan: Plan, place: Place, stand: Stand) -> SawHold | None:
    """How the saw has to be held for ``place``, where it is not held so; None too for what is held reach by reach.

    A named step says itself where the saw is; flats are told as it stands. In logs of before nothing is asked.
    """
    wanted, stands = facts_of(place.stage).hold, stand.hold
    if NEAR_ITEM not in plan.fit_items:
        wanted, stands = (SawHold.UP if one is SawHold.NEAR else one for one in (wanted, stands))
    told_only = place.kind is Kind.STEP or (bool(place.tooth) and facts_of(place.stage).kind is Kind.PASS)
    if HOLD_ITEM not in plan.fit_items or told_only or wanted in (SawHold.LOW, stands):
        return None
    return wanted


#: Side 1 is up at first, and nothing is in the vise.
AT_FIRST: Final = Stand()
