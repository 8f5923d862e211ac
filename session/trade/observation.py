"""What was seen of a saw before any work on it. Each thing may be unknown, and unknown is not "fine"."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Final

from session.trade.lengths import Length
from session.trade.saw import Leans
from session.trade.seen_words import Bright, Cutting, Grain, Handle, LineShape, Plate, Sizes, Toward
from session.value_class import dataclass

#: Most widths over the points that are kept, as many as places are looked at.
MOST_WIDTHS: Final = 5


@dataclass(frozen=True, slots=True)
class Crack:
    """A crack in the plate. gullet: where, from 1 at the heel, None when not told; length: None when not told."""

    gullet: int | None = None
    length: Length | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """The answers of one looking over; None everywhere means "not looked at".

    points_in_an_inch, points_in_25mm: points counted over that length, both end points counted, above 1.
    points_in_line: in the whole line.
    plate: None, or what was said of it. high, low, broken: tooth numbers from 1 at the heel, in order and each once;
    () when looked for and none found. over_points: widths over the points of neighbors, heel to toe, at most
    MOST_WIDTHS; () when not measured. wood: the wood of the last cut, in the person's words.
    """

    first_leans: Leans | None = None
    points_in_an_inch: float | None = None
    points_in_25mm: float | None = None
    points_in_line: int | None = None
    plate: frozenset[Plate] | None = None
    crack: Crack | None = None
    hard_teeth: bool | None = None
    handle: Handle | None = None
    line: LineShape | None = None
    line_gap: Length | None = None
    sizes: Sizes | None = None
    high: tuple[int, ...] | None = None
    low: tuple[int, ...] | None = None
    broken: tuple[int, ...] | None = None
    bright: Bright | None = None
    over_points: tuple[Length, ...] = ()
    last_cut: Cutting | None = None
    wanders_to: Toward | None = None
    cut: Grain | None = None
    wood: str | None = None
    last_sharpened: date | None = None

    def is_plate(self, *kinds: Plate) -> bool:
        """Whether the plate was seen to be one of ``kinds``."""
        return self.plate is not None and not self.plate.isdisjoint(kinds)


class Look(StrEnum):
    """One thing to look at, by its key in a file of observations, which is the field of Seen that holds it as well."""

    FIRST_LEANS = "first_leans"
    IN_AN_INCH = "points_in_an_inch"
    IN_25MM = "points_in_25mm"
    IN_LINE = "points_in_line"
    PLATE = "plate"
    CRACK = "crack"
    HARD_TEETH = "hard_teeth"
    HANDLE = "handle"
    LINE = "line"
    LINE_GAP = "line_gap"
    SIZES = "sizes"
    HIGH = "high"
    LOW = "low"
    BROKEN = "broken"
    BRIGHT = "bright"
    OVER_POINTS = "over_points"
    LAST_CUT = "last_cut"
    WANDERS_TO = "wanders_to"
    CUT = "cut"
    WOOD = "wood"
    LAST_SHARPENED = "last_sharpened"
