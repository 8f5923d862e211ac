"""The named steps of looking over, leveling, setting, proving and closing: one action each."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from session.texts.word_files import cited, entry
from session.value_class import dataclass
from session.walk.measurable_facts import MEASURABLES
from session.walk.measurables import Measurable
from session.walk.stages import Stage


class AskKind(StrEnum):
    """What sort of answer a step takes. Every question may be passed over unanswered."""

    COUNT = "count"  # a whole or half number; the choices say over what it was counted
    LENGTH = "length"  # a length with its unit
    CHOICE = "choice"  # one of the choices
    CHOICES = "choices"  # one or more of the choices
    WIDTHS = "widths"  # one to five lengths with their units
    CRACK = "crack"  # none, or where and how long
    NAME = "name"  # one of the choices, or the person's own words
    TEETH = "teeth"  # a list of tooth numbers, which may be empty
    FILE = "file"  # a file by the person's own name for it, then its corner if told
    FLATS = "flats"  # how many points show no flat, or one of the choices
    CUT = "cut"  # length, thickness, strokes, wander, and one of the choices for how it cut


@dataclass(frozen=True, slots=True)
class Asks:
    """A question of a step: the thing measured, and the form of the answer."""

    what: Measurable

    @property
    def kind(self) -> AskKind:
        """What sort of answer it takes."""
        return _TOGETHER.get(self.what) or AskKind(MEASURABLES[self.what].kind)

    @property
    def choices(self) -> tuple[str, ...]:
        """Allowed answers (CHOICE, FLATS, CUT) or what the number counts (COUNT); empty otherwise."""
        return MEASURABLES[self.what].choices


#: What is told in one line with something else.
_TOGETHER: Final = {
    Measurable.FILE: AskKind.FILE,
    Measurable.FLATS: AskKind.FLATS,
    Measurable.TRIAL_CUT: AskKind.CUT,
    Measurable.OVER_POINTS: AskKind.WIDTHS,
    Measurable.OVER_POINTS_AFTER: AskKind.WIDTHS,
    Measurable.OVER_POINTS_END: AskKind.WIDTHS,
    Measurable.CRACK: AskKind.CRACK,
}


@dataclass(frozen=True, slots=True)
class Step:
    """One step, each text at most 80 characters.

    do: the one action. tool: what it is done with, and how that and the saw are held. stop: when it is done. without:
    what to do when the tool is missing; empty where every shop has it. apart: what tells the answers from each other.
    """

    title: str
    do: str
    tool: str
    why: str
    how: str
    stop: str
    asks: Asks | None
    source: str
    without: str = ""
    apart: tuple[str, ...] = ()


def step(stage: Stage, name: str) -> Step:
    """The step ``name`` of ``stage``. Raises NoEntryError when the stage has no such step."""
    found = entry("steps", stage.value, name)
    asks = found.get("asks")
    return Step(
        title=found["title"],
        do=found["do"],
        tool=found["tool"],
        why=found["why"],
        how=found["how"],
        stop=found["stop"],
        asks=None if asks is None else Asks(Measurable(asks)),
        source=cited(found["source"]),
        without=found.get("without", ""),
        apart=tuple(found.get("apart", ())),
    )
