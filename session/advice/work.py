"""The kinds of work that a saw may need, and what each costs in steel, gullets and minutes.

They stand in the order of the steel they cost. The line's own steel is counted; what the stone takes off the sides and
a bend takes out of the metal is told in words only.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from enum import StrEnum
from typing import Final

from session.trade.lengths import MM_PER
from session.trade.leveling import PASS_MM
from session.trade.saw import Order, Saw
from session.trade.strokes import PRINTED_STROKES, Bite, usual_bite
from session.value_class import dataclass


class What(StrEnum):
    """One kind of work, by the word it has in advice; in the order in which a saw that is set first is worked."""

    NOTHING = "nothing"
    OUT_OF_USE = "out of use"
    RETOOTH = "retooth"
    MEND_RECIPE = "mend recipe"
    TIGHTEN = "tighten handle"
    STRAIGHTEN = "straighten plate"
    CLEAN = "clean"
    WAX = "wax"
    OTHER_SAW = "other saw"
    TECHNIQUE = "technique"
    LEVEL = "level"
    RESHAPE = "reshape"
    LEVEL_AGAIN = "level again"
    SET = "set"
    TOUCH_UP = "touch up"
    FILE = "file"
    STONE_LEFT = "stone left"
    STONE_RIGHT = "stone right"
    STONE_BOTH = "stone both"
    DRESS = "dress"


def working_order(order: Order) -> tuple[What, ...]:
    """All kinds of work in their order; setting comes right after filing in a recipe that files first.

    Wax comes when all else is done: on a plate still to be filed it clogs the file (common practice, no source).
    """
    works: list[What] = [what for what in What if what not in (What.SET, What.WAX)]
    works.insert(works.index(What.TOUCH_UP) if order is Order.SET_FIRST else works.index(What.FILE) + 1, What.SET)
    return (*works, What.WAX)


#: Work that takes nothing off the saw and bends nothing.
FREE: Final = frozenset(
    {
        What.NOTHING,
        What.MEND_RECIPE,
        What.TIGHTEN,
        What.STRAIGHTEN,
        What.CLEAN,
        What.WAX,
        What.OTHER_SAW,
        What.TECHNIQUE,
    }
)

#: What stands before work for which no stage is there, where the record says what was chosen.
WITHOUT_A_SCREEN: Final = "without a screen: "

#: Work on the saw for which no stage is there: the person does it without the program.
BY_HAND: Final = frozenset({What.TIGHTEN, What.STRAIGHTEN, What.CLEAN, What.WAX})

#: Seconds that one place of each kind takes: from memory; a saw's own records know better.
_SECONDS: Final = {
    What.CLEAN: 600.0,
    What.WAX: 60.0,
    What.TIGHTEN: 60.0,
    What.STONE_LEFT: 60.0,
    What.STONE_RIGHT: 60.0,
    What.STONE_BOTH: 120.0,
    What.SET: 5.0,
    What.TOUCH_UP: 6.0,
    What.LEVEL: 60.0,
    What.RESHAPE: 15.0,
    What.LEVEL_AGAIN: 60.0,
    What.FILE: 8.0,
    What.DRESS: 60.0,
}


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of work, with its reason, who says so and what it costs.

    steel_mm: how far the line comes down by it, 0 or more; None where it takes nothing off the line or where that is
    not known. places: gullets, teeth or passes, 0 where it has none. minutes: about how long; None when not known.
    """

    what: What
    reason: str
    source: str
    steel_mm: float | None = None
    places: int = 0
    minutes: float | None = None

    @property
    def steel_thou(self) -> float | None:
        """The same in thousandths of an inch."""
        return None if self.steel_mm is None else self.steel_mm / MM_PER["thou"]


def piece(what: What, reason: str, source: str, *, steel_mm: float | None = None, places: int = 0) -> Piece:
    """A piece of work with the minutes that so many places take; by the time of the whole where it has none."""
    seconds = _SECONDS.get(what)
    minutes = None if seconds is None else seconds * max(1, places) / 60.0
    return Piece(what, reason, source, steel_mm, places, minutes)


def steel_mm(work: Iterable[Piece]) -> float:
    """How far the line comes down by all of ``work`` together, in mm."""
    return math.fsum(one.steel_mm or 0.0 for one in work)


#: Work that is done tooth by tooth or gullet by gullet.
_BY_TEETH: Final = frozenset({What.SET, What.TOUCH_UP, What.RESHAPE, What.FILE})


def within(less: Iterable[Piece], more: Iterable[Piece]) -> bool:
    """Whether ``less`` costs no more than ``more``: neither steel, nor teeth and gullets, nor minutes."""
    return all(one <= other + 1e-9 for one, other in zip(_costs(less), _costs(more), strict=True))


def _costs(work: Iterable[Piece]) -> tuple[float, float, float]:
    work = tuple(work)
    places = sum(one.places for one in work if one.what in _BY_TEETH)
    return steel_mm(work), places, math.fsum(one.minutes or 0.0 for one in work)


#: A light stroke as a share of a usual one: the most strokes that print gives a light sharpening take what the usual
#: number takes (NOYES, SICK; judgment).
LIGHT_STROKE: Final = PRINTED_STROKES[1] / PRINTED_STROKES[2]


def stroke_mm(saw: Saw, bite: Bite | None = None) -> float:
    """How far one stroke in every gullet brings the line down, in mm: bite / (plate · pitch).

    A stroke's volume is (f + g)·h·t and the line comes down by (f + g)·h/p (derived). bite: as the records taught it;
    None, or one from memory, for the usual bite of a saw of this pitch and plate.
    """
    known = bite if bite is not None and bite.learned else usual_bite(saw.widest_pitch_mm, saw.plate.mm)
    return known.mm3 / (saw.plate.mm * saw.widest_pitch_mm)


def touch_up_mm(saw: Saw, bite: Bite | None = None) -> float:
    """What a touch up takes off the line, in mm: one light stroke in every gullet, less than any leveling costs."""
    return LIGHT_STROKE * stroke_mm(saw, bite)


def filing_mm(saw: Saw, leveled_mm: float, bite: Bite | None = None) -> float:
    """What filing takes off the line beyond a leveling of ``leveled_mm`` (0 or more), in mm.

    The flats go with whole strokes, at least one in each gullet. They are not alike, so that the last stroke goes half
    a stroke further in the middle (derived).
    """
    one = stroke_mm(saw, bite)
    return max(one / 2, one - leveled_mm)


#: Passes of a light leveling for points of which some are dull, and for points of which most are (KING, MTS: one or
#: two light strokes). They tell what leveling may cost: at the bench one is made, and the flats say whether another is.
LIGHT_PASSES: Final = 1
FULL_PASSES: Final = 2


def passes_mm(passes: int) -> float:
    """What so many light leveling passes take off the line, in mm: from memory, a pass at a time."""
    return passes * PASS_MM
