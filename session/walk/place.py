"""A place: the stage, the side and the one tooth, gullet, pass or step that an act is about."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Any

from session.value_class import dataclass, field
from session.walk.mark import Mark
from session.walk.stages import FACTS, STRIP_STEP, Kind, Stage


class Standing(StrEnum):
    """The four states of a place (bench rule 8). Derived from the marks, stored nowhere."""

    AHEAD = "not yet"
    IN_HAND = "in hand"
    DONE = "done"
    LEFT_OUT = "left out"


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where in the whole sharpening one is.

    side: 1 with the handle on the right, 2 with it on the left, 0 where the side does not matter.
    tooth: 1 … N from the heel for teeth and gullets, else 0.
    number: the pass, from 1, where passes are counted; for a tooth whose flat is graded again, after one more pass,
        how often that is, from 2; else 0.
    step: the name of a step, else empty; with a tooth, that its flat is told against the strip.
    round: 1, or more when a stage is gone through again.
    """

    stage: Stage
    side: int = 0
    tooth: int = 0
    number: int = 0
    step: str = ""
    round: int = 1
    _hash: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        # A place is looked up some hundred times a key: what it is found by is worked out once.
        named = (self.stage, self.side, self.tooth, self.number, self.step, self.round)
        object.__setattr__(self, "_hash", hash(named))

    def __hash__(self) -> int:
        return self._hash

    @property
    def kind(self) -> Kind:
        """What this place is: a step, a pass, a tooth or a gullet."""
        if self.step and not self.on_strip:
            return Kind.STEP
        if self.stage not in FACTS:
            return Kind.TOOTH if self.tooth else Kind.PASS if self.number else Kind.STEP
        kind = FACTS[self.stage].kind
        # Where passes are counted, a tooth is one whose flat is graded.
        return Kind.TOOTH if self.tooth and kind is Kind.PASS else kind

    @property
    def on_strip(self) -> bool:
        """Whether it is told here where the flat of a tooth lies against the strip."""
        return self.tooth > 0 and self.step == STRIP_STEP and self.stage is Stage.LEVEL

    def fields(self) -> Mapping[str, Any]:
        """The mark fields that name this place; absent ones left out."""
        named: dict[str, Any] = {"stage": self.stage}
        for name in ("side", "tooth", "number", "step"):
            if getattr(self, name):
                named[name] = getattr(self, name)
        if self.round > 1:
            named["round"] = self.round
        return named

    def __str__(self) -> str:
        if self.kind is Kind.STEP:
            return self.step
        if self.kind is Kind.PASS:
            return f"pass {self.number}"
        return f"{self.kind} {self.tooth}{' on the strip' if self.on_strip else ''}"


def looks_at_flats(place: Place | None) -> bool:
    """Whether ``place`` is the look at the flats after a pass."""
    return place is not None and place.stage is Stage.LEVEL and place.kind is Kind.STEP


def place_of(mark: Mark) -> Place | None:
    """The place that a mark names, or None when it names no stage."""
    if mark.stage is None:
        return None
    return Place(mark.stage, mark.side or 0, mark.tooth or 0, mark.number or 0, mark.step or "", mark.round or 1)
