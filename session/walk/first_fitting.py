"""What is held before the first bend or stroke: which way tooth 1 leans, and the guides put on the file.

The side that is worked first is not turned to, so nothing else would have its guides fitted or its teeth looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from typing import Final

from session.trade.saw import Leans
from session.value_class import dataclass
from session.walk.front_question import Ask, Front
from session.walk.mark import Did, Mark
from session.walk.measurables import Measurable
from session.walk.place import Place
from session.walk.stages import LEAN_ITEM, Stage, facts_of
from session.walk.work_plan import Plan

#: The item of a turn that is the saw itself, and the guides of the file, which are turned with it.
SAW_ITEM: Final = "saw"
GUIDES: Final = frozenset({"guide", "fleam"})

#: The item that is held besides when other work came between: the tooth in hand is found again, and how it leans.
FOUND_ITEM: Final = "found"

#: And that the saw stands in the vise, which a mark of its own says.
CLAMPED: Final = "clamped"

#: One item that was fitted, with the stage and the round it was fitted for.
Fitted = tuple[Stage, int, str]


def fit_items(plan: Plan, stage: Stage) -> tuple[str, ...]:
    """What is held one by one before the first tooth or gullet of ``stage``."""
    return tuple(item for item in facts_of(stage).fit if item in plan.fit_items)


def turn_items(plan: Plan, stage: Stage, to_fit: tuple[str, ...] = ()) -> tuple[str, ...]:
    """What is held one by one when the saw is turned in ``stage``.

    to_fit: what is still to be fitted for the stage. It stands in place of what would be turned: a guide that is not
    on the file yet is put on.
    """
    items = tuple(item for item in facts_of(stage).turn if item in plan.turn_items)
    # The lean is asked once the saw stands; which tooth is first, at the end of each turn.
    put_on = tuple(item for item in to_fit if item not in (LEAN_ITEM, FOUND_ITEM))
    if not put_on:
        return items
    rest = [item for item in items if item not in facts_of(stage).fit]
    return (*rest[:1], *put_on, *rest[1:])


def still_to_fit(plan: Plan, place: Place | None, fitted: Set[Fitted], measured: Mapping[str, Mark]) -> tuple[str, ...]:
    """What is still held before ``place`` can be worked, in order."""
    if place is None or not place.tooth or not place.side:
        return ()
    items = fit_items(plan, place.stage)
    open_ = {item for item in items if (place.stage, place.round, item) not in fitted} - {LEAN_ITEM}
    if not lean_held(measured):
        open_.add(LEAN_ITEM)
    return tuple(item for item in items if item in open_)


@dataclass(frozen=True, slots=True)
class OnceMore:
    """What is held once more because other work came between, in order, and what of it is done."""

    items: tuple[str, ...] = ()
    done: frozenset[str] = frozenset()

    @property
    def due(self) -> tuple[str, ...]:
        """The items that are still to be done."""
        return tuple(item for item in self.items if item not in self.done)


def once_more(plan: Plan, place: Place | None, standing: Iterable[Mark], worked: Iterable[Place]) -> OnceMore:
    """What is held once more before ``place``, where its stage is come back to after other work.

    For that the saw was taken out of the vise, and the guides off the file. standing: the marks that stand, the last
    one first. worked: the places with a mark.
    """
    if place is None or not place.tooth or not place.side or not plan.fit_items:
        return OnceMore()
    done: set[str] = set()
    for mark in standing:
        here = (mark.stage, mark.round or 1) == (place.stage, place.round)
        if mark.did in (Did.DONE, Did.LEFT_OUT):
            if here or not any((one.stage, one.round) == (place.stage, place.round) for one in worked):
                break
            guides = (item for item in fit_items(plan, place.stage) if item != LEAN_ITEM)
            return OnceMore((CLAMPED, FOUND_ITEM, *guides), frozenset(done))
        if not here or mark.side not in (None, place.side):
            continue
        match mark.did:
            case Did.ACKNOWLEDGED if mark.what is not None:
                done.add(mark.what)
            case Did.SHIFTED:
                done.add(CLAMPED)
            case Did.TURNED:
                done |= {FOUND_ITEM, *({CLAMPED} if mark.tooth else ())}
            case _:
                pass
    return OnceMore()


def fitted_by(mark: Mark, plan: Plan, items: Set[str]) -> frozenset[Fitted]:
    """``items`` as fitted for the stage and round of ``mark``; those of a turn that are no fitting are left out."""
    if mark.stage is None:
        return frozenset()
    due = items & set(fit_items(plan, mark.stage))
    return frozenset((mark.stage, mark.round or 1, item) for item in due)


def lean_held(measured: Mapping[str, Mark]) -> bool:
    """Whether the lean of tooth 1 was looked for at the saw in hand, before the first bend or stroke.

    What the look over tells does not count: there it may be passed over, and the saw is not yet in the vise.
    """
    told = measured.get(Measurable.FIRST_LEANS)
    return told is not None and told.stage is not Stage.LOOK_OVER


def lean_of(plan: Plan, measured: Mapping[str, Mark]) -> Leans:
    """Which way tooth 1 leans: as it was seen, else by the plan. Unset where no tooth leaned when the saw came."""
    told = measured.get(Measurable.FIRST_LEANS)
    seen = None if told is None else next((leans for leans in Leans if leans == told.value), None)
    return plan.leans if seen is None else seen


def finds_tooth(now: Front) -> bool:
    """Whether the first tooth of a side is to be found, the last thing before its work: it tells that all is right."""
    if now.place is None or not now.place.tooth:
        return False
    return (now.ask is Ask.TURN and not now.name) or (now.ask is Ask.FIT and now.name == FOUND_ITEM)
