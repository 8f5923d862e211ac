"""What can be measured, told or chosen at a step: the one list of names that a log has for it.

Names in a log are never changed. A log may hold a measured thing that is not listed here, of another version: it is
kept and shown, and nothing is made of it. What each can be stands in session.walk.measurable_facts.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import StrEnum
from typing import Final

from session.trade.lengths import MM_PER
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


#: Over what the points were counted: the whole line, whose count overrides the computed one, or a part of it.
IN_THE_LINE: Final = "in the line"

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

#: The answer of the look all round that saves the looks one by one, and the one that does not.
NOTHING_TO_SEE: Final = "nothing to see"
SOMETHING: Final = "something"

#: What is recorded as chosen of a saw that was looked over and left as it is.
NOTHING_NEEDED: Final = "looked over, nothing needed"


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


#: What belonged to the one told before, by its name in the log, so that a name of another version finds nothing: told
#: anew or not, it is void once the one it belongs to is told anew.
_WITH_IT: Final[Mapping[str, tuple[Measurable, ...]]] = {
    Measurable.OVER_POINTS: (Measurable.WIDTHS,),
    Measurable.FILE: (Measurable.FILE_CORNER,),
    Measurable.CUT_LENGTH: (Measurable.CUT_WANDER, Measurable.CUT_WANDER_TO),
}
