"""What stands in front of the person: the one thing asked, with what it is about."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from session.walk.place import Place
from session.walk.stages import Stage, facts_of
from session.walk.work_plan import Plan


class Ask(StrEnum):
    """What stands in front of the person."""

    FINISHED = "finished"
    PAUSED = "paused"
    CONFIRM = "confirm"  # after an interruption: is this the place?
    CHECK = "check"
    CAUTION = "caution"
    TURN = "turn"
    SHIFT = "shift"
    WORK = "work"
    END = "end"  # every place is done or left out; only the last act remains

    @property
    def holds(self) -> bool:
        """Whether the advance key alone does not pass it."""
        return self in (Ask.CONFIRM, Ask.CHECK, Ask.CAUTION, Ask.TURN)


@dataclass(frozen=True, slots=True)
class Front:
    """The one thing now asked, with what it is about.

    place: the place in hand (for a check, the place just passed). name: the caution, or the item of the
    turn; empty when all items are acknowledged. side, reach: where the saw has to stand.
    """

    ask: Ask
    place: Place | None = None
    name: str = ""
    side: int = 0
    reach: tuple[int, int] | None = None


def turn_items(plan: Plan, stage: Stage) -> tuple[str, ...]:
    """What is acknowledged one by one when the saw is turned in ``stage``."""
    return tuple(item for item in facts_of(stage).turn if item in plan.turn_items)
