"""What each thing that can be measured, told or chosen may be, as data: where it is asked, its units, range, words."""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from typing import Final

from session.trade.file_names import CORNERS
from session.trade.lengths import MM_PER
from session.trade.pitch import MOST_POINTS
from session.trade.saw import Leans
from session.trade.seen_words import Bright, Cutting, Grain, Handle, LineShape, Plate, Sizes, Toward
from session.trade.set_rules import WOODS
from session.value_class import dataclass
from session.walk.measurables import (
    ANOTHER_PASS,
    BIG_AND_SMALL,
    GOOD,
    GRADE_ON_STRIP,
    GRADE_THEM,
    IN_THE_LINE,
    NO_FLEAM,
    NOTHING_TO_SEE,
    SOMETHING,
    WIDE,
    Measurable,
)
from session.walk.stages import Stage


class ValueKind(StrEnum):
    """What sort of value a measured thing has."""

    COUNT = "count"  # a number of things; the unit says of what, or over what it was counted
    LENGTH = "length"  # a number, with one of the units of length
    CHOICE = "choice"  # one of a few words
    CHOICES = "choices"  # one or more of a few words in one text, "bent, rusty"
    TEETH = "teeth"  # numbers of teeth from the heel in one text, "12, 40", or "none"
    NAME = "name"  # a text of the person's own


@dataclass(frozen=True, slots=True)
class MeasurableFacts:
    """What one measured thing can be.

    stage: where it is asked. kind: what sort of value it has.
    units: the units that it may have; none where it has no unit.
    least, most: the range of a number, of a length in mm, of a name in characters; both ends belong to it.
    choices: the words that it can be, in the order they are offered; for a count, over what it may be counted.
    """

    stage: Stage
    kind: ValueKind
    units: tuple[str, ...] = ()
    least: float = 0.0
    most: float = math.inf
    choices: tuple[str, ...] = ()


_COUNTED_OVER: Final = (IN_THE_LINE, "in 1 in", "in 25 mm")

#: The longest name of a file, as the list of files owned allows it (session/files/owned_files.py).
_LONGEST_NAME: Final = 80

#: Longer than all kinds of work in a row.
_LONGEST_WORK: Final = 200

_LENGTHS: Final = tuple(MM_PER)

#: Less than any length that somebody measures, for lengths that are above zero.
_ABOVE_ZERO: Final = math.ulp(0.0)


def _length(stage: Stage, least: float = 0.0) -> MeasurableFacts:
    return MeasurableFacts(stage, ValueKind.LENGTH, _LENGTHS, least)


def _choice(stage: Stage, *choices: str) -> MeasurableFacts:
    return MeasurableFacts(stage, ValueKind.CHOICE, choices=choices)


def _teeth() -> MeasurableFacts:
    return MeasurableFacts(Stage.LOOK_OVER, ValueKind.TEETH, ("from the heel",))


MEASURABLES: Final[Mapping[Measurable, MeasurableFacts]] = {
    Measurable.POINTS: MeasurableFacts(
        Stage.LOOK_OVER, ValueKind.COUNT, _COUNTED_OVER, 2, MOST_POINTS, choices=_COUNTED_OVER
    ),
    Measurable.OVER_POINTS: _length(Stage.LOOK_OVER, _ABOVE_ZERO),
    Measurable.LINE: _choice(Stage.LOOK_OVER, *LineShape),
    Measurable.BROKEN_TEETH: _teeth(),
    Measurable.BRIGHT_POINTS: _choice(Stage.LOOK_OVER, *Bright),
    Measurable.LAST_CUT: _choice(Stage.LOOK_OVER, *Cutting),
    Measurable.GRAIN: _choice(Stage.LOOK_OVER, *Grain),
    Measurable.WOOD: MeasurableFacts(Stage.LOOK_OVER, ValueKind.NAME, least=1, most=_LONGEST_NAME, choices=WOODS),
    Measurable.WANDERS_TO: _choice(Stage.LOOK_OVER, *Toward),
    Measurable.ALL_ROUND: _choice(Stage.LOOK_OVER, NOTHING_TO_SEE, SOMETHING),
    Measurable.PLATE: MeasurableFacts(Stage.LOOK_OVER, ValueKind.CHOICES, choices=tuple(Plate)),
    Measurable.HANDLE: _choice(Stage.LOOK_OVER, *Handle),
    Measurable.CRACK: MeasurableFacts(Stage.LOOK_OVER, ValueKind.NAME, least=1, most=_LONGEST_NAME),
    Measurable.HARD_TEETH: _choice(Stage.LOOK_OVER, "no", "yes"),
    Measurable.SIZES: _choice(Stage.LOOK_OVER, *Sizes),
    Measurable.HIGH_TEETH: _teeth(),
    Measurable.LOW_TEETH: _teeth(),
    Measurable.LINE_GAP: _length(Stage.LOOK_OVER),
    Measurable.WIDTHS: MeasurableFacts(Stage.LOOK_OVER, ValueKind.NAME, least=1, most=_LONGEST_NAME),
    Measurable.FIRST_LEANS: _choice(Stage.LOOK_OVER, *Leans),
    Measurable.ADVISED: MeasurableFacts(Stage.LOOK_OVER, ValueKind.NAME, least=1, most=_LONGEST_WORK),
    Measurable.CHOSEN: MeasurableFacts(Stage.LOOK_OVER, ValueKind.NAME, least=1, most=_LONGEST_WORK),
    Measurable.FILE: MeasurableFacts(Stage.LOOK_OVER, ValueKind.NAME, least=1, most=_LONGEST_NAME),
    Measurable.FILE_CORNER: MeasurableFacts(Stage.LOOK_OVER, ValueKind.COUNT, least=min(CORNERS), most=max(CORNERS)),
    Measurable.FLATS: _choice(Stage.LEVEL, GOOD, ANOTHER_PASS, GRADE_THEM, GRADE_ON_STRIP, BIG_AND_SMALL, WIDE),
    Measurable.UNTOUCHED: MeasurableFacts(Stage.LEVEL, ValueKind.COUNT, ("points",), 0, MOST_POINTS),
    Measurable.OVER_POINTS_AFTER: _length(Stage.SET, _ABOVE_ZERO),
    Measurable.OVER_POINTS_END: _length(Stage.DRESS, _ABOVE_ZERO),
    Measurable.TROUGH: _choice(Stage.PROVE, "even", "uneven"),
    Measurable.NEEDLE: _choice(Stage.PROVE, "slides", "stops", NO_FLEAM),
    Measurable.TRIAL_CUT: _choice(
        Stage.PROVE, GOOD, "wanders", "binds", "rough", "slow", "jumps", "hard to start", "drags", "hangs up"
    ),
    Measurable.CUT_LENGTH: _length(Stage.PROVE, _ABOVE_ZERO),
    Measurable.CUT_THICKNESS: _length(Stage.PROVE, _ABOVE_ZERO),
    Measurable.CUT_STROKES: MeasurableFacts(Stage.PROVE, ValueKind.COUNT, ("strokes",), 1, 99_999),
    Measurable.CUT_WANDER: _length(Stage.PROVE),
    Measurable.CUT_WANDER_TO: _choice(Stage.PROVE, "left", "right"),
}


def whole_in(what: Measurable, value: object) -> int | None:
    """A measured whole number within the range of ``what``; None for anything else."""
    facts = MEASURABLES[what]
    if isinstance(value, bool) or not isinstance(value, int):
        return None
    return value if facts.least <= value <= facts.most else None
