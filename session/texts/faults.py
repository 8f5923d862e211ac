"""Faults of a cut or of a saw, their causes, and the smallest remedy for each."""

from __future__ import annotations

from typing import Any

from session.texts.word_files import cited, entry, table
from session.value_class import dataclass
from session.walk.stages import Stage


@dataclass(frozen=True, slots=True)
class RemedyStage:
    """A short extra stage that mends a fault.

    sides: the sides to work, (1,), (2,) or (1, 2); () where the stage does not go by such a choice.
    passes: passes per side, 0 where the stage is not counted in passes.
    """

    stage: Stage
    sides: tuple[int, ...] = ()
    passes: int = 0


@dataclass(frozen=True, slots=True)
class Cause:
    """One possible cause, how to tell it, and its smallest remedy."""

    cause: str
    tell: str
    remedy: str
    source: str


@dataclass(frozen=True, slots=True)
class Fault:
    """What is seen, and its causes in the order in which to try them: least steel first."""

    name: str
    sees: str
    causes: tuple[Cause, ...]


def fault(name: str) -> Fault:
    """The fault of that name. Raises NoEntryError for a name there is none of."""
    found = entry("faults", name)
    return Fault(name, found["sees"], tuple(_cause(cause) for cause in found["causes"]))


def names() -> tuple[str, ...]:
    """The names of all faults, those of a trial cut first."""
    return tuple(table("faults"))


def side_facing(toward: str) -> int:
    """The side whose face is on the ``toward`` ("right" or "left") of the person sawing.

    With the handle on the right and the teeth up (side 1) the face turned to the person is the one that
    is on the right when the saw cuts: toe away, teeth down. Raises ValueError for anything else.
    """
    try:
        return {"right": 1, "left": 2}[toward]
    except KeyError:
        raise ValueError(f'a cut wanders to "right" or "left", not to "{toward}"') from None


def _cause(found: dict[str, Any]) -> Cause:
    return Cause(found["cause"], found["tell"], found["remedy"], cited(found["source"]))
