"""What stands in front of the person: the one thing asked, with what it is about."""

from __future__ import annotations

from enum import StrEnum

from session.value_class import dataclass
from session.walk.place import Place
from session.walk.stages import LEAN_ITEM, PLAN_STEP, Stage


class Ask(StrEnum):
    """What stands in front of the person."""

    FINISHED = "finished"
    PAUSED = "paused"
    CONFIRM = "confirm"  # after an interruption: is this the place?
    CHECK = "check"
    CAUTION = "caution"
    TURN = "turn"
    SHIFT = "shift"
    FIT = "fit"  # before the first bend or stroke of a stage: the lean of tooth 1, the guides on the file
    WORK = "work"
    END = "end"  # every place is done or left out; only the last act remains

    @property
    def holds(self) -> bool:
        """Whether the advance key alone does not pass it."""
        return self in (Ask.CONFIRM, Ask.CHECK, Ask.CAUTION, Ask.TURN, Ask.FIT)


@dataclass(frozen=True, slots=True)
class Front:
    """The one thing now asked, with what it is about.

    place: the place in hand (for a check, the place just passed). name: the caution, or the item of the turn or of
    the first fitting; empty when all items of a turn are acknowledged. side, reach: where the saw has to stand.
    """

    ask: Ask
    place: Place | None = None
    name: str = ""
    side: int = 0
    reach: tuple[int, int] | None = None


def kind_of(now: Front) -> tuple[str, str]:
    """What kind of question ``now`` is: one of a kind may be answered right after another, as items of a turn are."""
    if now.ask is Ask.FIT and now.name == LEAN_ITEM:
        return now.ask, now.name
    place = now.place if now.ask is Ask.WORK else None
    apart = place is not None and (place.step == PLAN_STEP or (place.stage is Stage.LEVEL and not place.tooth))
    return now.ask, place.step if place is not None and apart else ""
