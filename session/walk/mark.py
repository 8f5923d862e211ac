"""One recorded act: the only thing a log stores and the only thing a state is made of."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from enum import StrEnum
from types import MappingProxyType
from typing import Any, Final, TypeVar

from session.value_class import dataclass, field, fields
from session.walk.log_word import LogWord
from session.walk.stages import Stage

_Words = TypeVar("_Words", bound=LogWord)


class Did(LogWord):
    """What was done, by the word it has in the log."""

    DONE = "done"
    LEFT_OUT = "left out"
    TOOK_BACK = "took back"
    PUT_BACK = "put back"  # a flagged place that was gone back to is as it was: its mark stands again
    FLAGGED = "flagged"
    PAUSED = "paused"
    RESUMED = "resumed"
    CONFIRMED = "confirmed"  # after an interruption: the place was found again on the saw
    SHIFTED = "shifted"  # the saw stands in the vise with another reach
    TURNED = "turned"
    CHECKED = "checked"  # a check point: the place on the saw agreed, or by how much it did not
    ACKNOWLEDGED = "acknowledged"  # a caution, or one item of a hold point
    MEASURED = "measured"
    DECIDED = "decided"  # a stage was taken into the plan or out of it
    ADDED = "added"  # a pass or a short extra stage that the plan did not have
    FINISHED = "finished"
    GAVE_UP = "gave up"  # an interrupted sharpening is ended as it stands, and nothing more is asked of it


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One recorded act. Which fields apply depends on ``did``; an absent one is None.

    seq: 1, 2, 3 … in the order written; time never orders marks.
    at: when, with its offset.
    stage, side, tooth, number, step, round: the place. ``tooth`` is for teeth and gullets, ``number``
        counts passes, ``step`` names a step; ``round`` counts repeats of a stage, absent for the first.
    strokes: file strokes of a done place, 1 or more.
    by: "key" or "timer": who moved on.
    reason: why a place was left out or flagged, or why a stage was decided so; the user's words.
    value, unit, entered: a measured amount, its unit, and the text as it was typed.
    off: of a flat that a scan measured, also of one that an eye graded anew since, how far it lies off its place, as a
        share of the pitch, positive to the toe.
    what: which caution, item, or measured thing.
    of: the seq of the mark taken back, or of the taking back that is put back; of an addition, that of the one it goes
        with, before the same trial cut; else of the first mark of the same answer.
    many: "FIRST-LAST" when several places were marked by one confirmed act.
    extra: keys of later versions, kept as read.
    """

    seq: int
    at: datetime
    did: Did
    stage: Stage | None = None
    side: int | None = None
    tooth: int | None = None
    number: int | None = None
    step: str | None = None
    round: int | None = None
    strokes: int | None = None
    by: str | None = None
    reason: str | None = None
    value: float | int | str | bool | None = None
    unit: str | None = None
    entered: str | None = None
    off: float | None = None
    what: str | None = None
    of: int | None = None
    many: str | None = None
    extra: Mapping[str, Any] = field(default_factory=dict)

    def to_dict(self) -> dict[str, Any]:
        """The mark's keys and plain values, in the order they are written; absent ones left out."""
        values: dict[str, Any] = {}
        for name in KEYS:
            value = getattr(self, name)
            if value is not None:
                values[name] = str(value) if isinstance(value, StrEnum) else value
        values.update(self.extra)
        return values

    @classmethod
    def from_dict(cls, values: Mapping[str, Any]) -> Mark:
        """A mark from the keys of a log's block. Raises ValueError naming the key that is wrong."""
        known = {name: values[name] for name in _TYPES if name in values}
        for name in ("seq", "at", "did"):
            if known.get(name) is None:
                raise ValueError(f"a mark without {name}")
        for name, value in known.items():
            kinds = _TYPES[name]
            if value is not None and (not isinstance(value, kinds) or (isinstance(value, bool) and bool not in kinds)):
                raise ValueError(f"{name} = {value!r} has the wrong type")
        if known["at"].tzinfo is None:
            raise ValueError("at is without its offset")
        known["did"] = _word("did", known["did"], Did)
        if known.get("stage") is not None:
            known["stage"] = _word("stage", known["stage"], Stage)
        extra = {name: value for name, value in values.items() if name not in known}
        return cls(**known, extra=extra or _NOTHING)


#: Most marks have nothing of a later version, and share that.
_NOTHING: Final[Mapping[str, Any]] = MappingProxyType({})


def _word(name: str, value: str, words: type[_Words]) -> _Words:
    try:
        return words.of_log(value)
    except ValueError as wrong:
        raise ValueError(f"{name}: {wrong}") from None


KEYS: Final = tuple(f.name for f in fields(Mark) if f.name != "extra")

_TYPES: Final[dict[str, tuple[type, ...]]] = {
    "seq": (int,),
    "at": (datetime,),
    "did": (str,),
    "stage": (str,),
    "side": (int,),
    "tooth": (int,),
    "number": (int,),
    "step": (str,),
    "round": (int,),
    "strokes": (int,),
    "by": (str,),
    "reason": (str,),
    "value": (float, int, str, bool),
    "unit": (str,),
    "entered": (str,),
    "off": (float, int),
    "what": (str,),
    "of": (int,),
    "many": (str,),
}
