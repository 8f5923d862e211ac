"""What can be measured, told or chosen at a step, as data: the one list of names that a log has for it.

Names in a log are never changed. A log may hold a measured thing that is not listed here, of another version: it is
kept and shown, and nothing is made of it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from typing import Final

from session.trade.file_life import CORNERS
from session.trade.lengths import MM_PER
from session.trade.observation import Bright, Cutting, Grain, Handle, LineShape, Plate, Sizes, Toward
from session.trade.pitch import MOST_POINTS
from session.trade.saw import Leans
from session.trade.set_rules import WOODS
from session.value_class import dataclass
from session.walk.mark import Did, Mark
from session.walk.stages import Stage


class Measurable(StrEnum):
    """One thing that can be measured, by the name it has in the log."""

    POINTS = "points"
    OVER_POINTS = "over the points"  # width over the points of two neighbors as the saw came
    LINE = "line"
    BROKEN_TEETH = "broken teeth"
    BRIGHT_POINTS = "bright points"
    LAST_CUT = "last cut"
    GRAIN = "last cut grain"  # across the grain or along it
    WOOD = "last cut wood"
    WANDERS_TO = "last cut wanders to"
    ALL_ROUND = "all round"  # whether there is anything to look at one by one
    PLATE = "plate"
    HANDLE = "handle"
    CRACK = "crack"
    HARD_TEETH = "hard teeth"
    SIZES = "sizes"
    HIGH_TEETH = "high teeth"
    LOW_TEETH = "low teeth"
    LINE_GAP = "line gap"
    WIDTHS = "widths over the points"  # all readings, where more than one was taken
    FIRST_LEANS = "first leans"  # looked for again before the first bend or stroke
    ADVISED = "advised"  # the work that the look over advised, in one text
    CHOSEN = "chosen"  # the work that was taken up, in one text
    FILE = "file"
    FILE_CORNER = "file corner"
    FLATS = "flats"
    UNTOUCHED = "untouched"
    OVER_POINTS_AFTER = "over the points after"  # the same width after setting
    OVER_POINTS_END = "over the points in the end"  # the same width after dressing, as the saw will be used
    TROUGH = "trough"
    NEEDLE = "needle"
    TRIAL_CUT = "trial cut"  # how it went, in one word
    CUT_LENGTH = "cut length"
    CUT_THICKNESS = "cut thickness"
    CUT_STROKES = "cut strokes"
    CUT_WANDER = "cut wander"
    CUT_WANDER_TO = "cut wander to"


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
    with_it: what belonged to the one before: told anew or not, it is void once this one is told anew.
    """

    stage: Stage
    kind: ValueKind
    units: tuple[str, ...] = ()
    least: float = 0.0
    most: float = math.inf
    choices: tuple[str, ...] = ()
    with_it: tuple[Measurable, ...] = ()


#: Over what the points were counted: the whole line, whose count overrides the computed one, or a part of it.
IN_THE_LINE: Final = "in the line"
_COUNTED_OVER: Final = (IN_THE_LINE, "in 1 in", "in 25 mm")

#: What is recorded of a step whose question was passed over: of a look, and of any other.
NOT_LOOKED: Final = "not looked at"
NOT_ANSWERED: Final = "not answered"

#: The answer to the needle at a saw without fleam, in logs of before: such a saw is not asked.
NO_FLEAM: Final = "no fleam"

#: The word for a trial cut that proves the saw; every other one is a fault.
GOOD: Final = "good"

#: What a look at the flats may find beside good ones, and what may be asked for then, the flats told against a
#: printed strip or taken from a scan among them; the last two are of their sizes.
ANOTHER_PASS: Final = "another pass"
GRADE_THEM: Final = "grade them"
GRADE_ON_STRIP: Final = "grade them on a strip"
BY_THE_SCAN: Final = "as the scan measured them"
BIG_AND_SMALL: Final = "big and small"
WIDE: Final = "over a third of the pitch"

#: The longest name of a file, as the list of files owned allows it (session/files/owned_files.py).
_LONGEST_NAME: Final = 80

#: Longer than all kinds of work in a row.
_LONGEST_WORK: Final = 200

#: The answer of the look all round that saves the looks one by one, and the one that does not.
NOTHING_TO_SEE: Final = "nothing to see"
SOMETHING: Final = "something"

#: What is recorded as chosen of a saw that was looked over and left as it is.
NOTHING_NEEDED: Final = "looked over, nothing needed"

_LENGTHS: Final = tuple(MM_PER)

#: Less than any length that somebody measures, for lengths that are above zero.
_ABOVE_ZERO: Final = math.ulp(0.0)


def _length(stage: Stage, least: float = 0.0, with_it: tuple[Measurable, ...] = ()) -> MeasurableFacts:
    return MeasurableFacts(stage, ValueKind.LENGTH, _LENGTHS, least, with_it=with_it)


def _choice(stage: Stage, *choices: str) -> MeasurableFacts:
    return MeasurableFacts(stage, ValueKind.CHOICE, choices=choices)


def _teeth() -> MeasurableFacts:
    return MeasurableFacts(Stage.LOOK_OVER, ValueKind.TEETH, ("from the heel",))


MEASURABLES: Final[Mapping[Measurable, MeasurableFacts]] = {
    Measurable.POINTS: MeasurableFacts(
        Stage.LOOK_OVER, ValueKind.COUNT, _COUNTED_OVER, 2, MOST_POINTS, choices=_COUNTED_OVER
    ),
    Measurable.OVER_POINTS: _length(Stage.LOOK_OVER, _ABOVE_ZERO, with_it=(Measurable.WIDTHS,)),
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
    Measurable.FILE: MeasurableFacts(
        Stage.LOOK_OVER, ValueKind.NAME, least=1, most=_LONGEST_NAME, with_it=(Measurable.FILE_CORNER,)
    ),
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
    Measurable.CUT_LENGTH: _length(Stage.PROVE, _ABOVE_ZERO, with_it=(Measurable.CUT_WANDER, Measurable.CUT_WANDER_TO)),
    Measurable.CUT_THICKNESS: _length(Stage.PROVE, _ABOVE_ZERO),
    Measurable.CUT_STROKES: MeasurableFacts(Stage.PROVE, ValueKind.COUNT, ("strokes",), 1, 99_999),
    Measurable.CUT_WANDER: _length(Stage.PROVE),
    Measurable.CUT_WANDER_TO: _choice(Stage.PROVE, "left", "right"),
}


def length_mm(value: object, unit: str | None) -> float | None:
    """A measured length in mm; None for what is none: no number, not finite, below zero, or of an unknown unit."""
    if isinstance(value, bool) or not isinstance(value, int | float) or unit not in MM_PER:
        return None
    try:
        mm = float(value) * MM_PER[unit]
    except OverflowError:
        return None
    return mm if math.isfinite(mm) and mm >= 0 else None


def teeth_in(value: object) -> tuple[int, ...]:
    """The numbers of teeth in a measured text, in its order; what is no number is passed over."""
    # Cut short, as a log may be of other origin and hold a number that Python refuses to read.
    return tuple(int(text) for text in str(value)[:4000].split(",") if text.strip().isdecimal())


def whole_in(what: Measurable, value: object) -> int | None:
    """A measured whole number within the range of ``what``; None for anything else."""
    facts = MEASURABLES[what]
    if isinstance(value, bool) or not isinstance(value, int):
        return None
    return value if facts.least <= value <= facts.most else None


def counts_line(mark: Mark) -> bool:
    """Whether ``mark`` says how many points the whole line has, be that a number or not."""
    return mark.what == Measurable.POINTS and mark.unit == IN_THE_LINE


#: What belongs to one trial cut.
OF_A_CUT: Final = frozenset(
    {
        Measurable.TRIAL_CUT,
        Measurable.CUT_LENGTH,
        Measurable.CUT_THICKNESS,
        Measurable.CUT_STROKES,
        Measurable.CUT_WANDER,
        Measurable.CUT_WANDER_TO,
    }
)


def another_cut(mark: Mark, before: Mark) -> bool:
    """Whether ``mark`` tells of a later trial cut than ``before`` does: then nothing of the earlier holds for it."""
    return mark.what in OF_A_CUT and before.what in OF_A_CUT and (mark.round or 1) > (before.round or 1)


def voids(mark: Mark) -> tuple[Measurable, ...]:
    """The measured things that ``mark``, in order of the log, leaves without their value."""
    if mark.did is Did.MEASURED:
        return _WITH_IT.get(mark.what or "", ())
    done = mark.did is Did.DONE
    bent = mark.stage is Stage.SET and mark.tooth
    lowered = mark.stage is Stage.LEVEL and mark.number and not mark.tooth
    if done and lowered:
        # The flats are others, and so may be how many points have none.
        return Measurable.OVER_POINTS_AFTER, Measurable.OVER_POINTS_END, Measurable.FLATS, Measurable.UNTOUCHED
    if done and bent:
        # What was measured over the points before is not what stands there now. The stone's passes do not count
        # here: what they take off the set nobody has printed, and it is little.
        return Measurable.OVER_POINTS_AFTER, Measurable.OVER_POINTS_END
    if done and mark.step is None and mark.stage in _STEEL:
        # The last width is the one that the saw is used with.
        return (Measurable.OVER_POINTS_END,)
    return ()


_STEEL: Final = frozenset({Stage.RESHAPE, Stage.FILE, Stage.DRESS})


#: By the name in the log, so that a name of another version finds nothing.
_WITH_IT: Final = {str(what): facts.with_it for what, facts in MEASURABLES.items()}
