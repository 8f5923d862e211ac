"""What was seen of a saw before any work on it. Each thing may be unknown, and unknown is not "fine"."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Final

from session.trade.lengths import Length
from session.trade.saw import Leans
from session.value_class import dataclass

#: Most widths over the points that are kept, as many as places are looked at.
MOST_WIDTHS: Final = 5


class Plate(StrEnum):
    """What can be said of the plate; several may hold at once."""

    STRAIGHT = "straight"
    BENT = "bent"
    KINKED = "kinked"
    CLEAN = "clean"
    RUSTY = "rusty"
    GUMMED = "gummed"
    SOUND = "sound"  # no crack was found
    NARROW = "narrow"  # little steel is left between teeth and back


#: What cannot be true of one plate at the same time.
AT_ODDS: Final = (
    (Plate.STRAIGHT, Plate.BENT),
    (Plate.STRAIGHT, Plate.KINKED),
    (Plate.CLEAN, Plate.RUSTY),
    (Plate.CLEAN, Plate.GUMMED),
)


class Handle(StrEnum):
    """How the handle sits."""

    TIGHT = "tight"
    LOOSE = "loose"


class LineShape(StrEnum):
    """How the line of points runs under a straight edge."""

    STRAIGHT = "straight"
    CROWNED = "crowned"
    HOLLOW = "hollow"


class Sizes(StrEnum):
    """How the teeth compare with each other."""

    EVEN = "even"
    HERE_AND_THERE = "here and there"
    ALTERNATE = "alternate"


class Bright(StrEnum):
    """How many points shine when they are tilted in the light."""

    NONE = "none"
    SOME = "some"
    MOST = "most"


class Cutting(StrEnum):
    """How the saw cut when it was last used; UNTRIED when it was not, since the last sharpening."""

    GOOD = "good"
    WANDERS = "wanders"
    BINDS = "binds"
    ROUGH = "rough"
    SLOW = "slow"
    JUMPS = "jumps"
    HARD_TO_START = "hard to start"
    UNTRIED = "none"


class Toward(StrEnum):
    """To which side of the person sawing a cut wanders."""

    LEFT = "left"
    RIGHT = "right"


class Grain(StrEnum):
    """How the last cut went through the wood."""

    ACROSS = "across"
    ALONG = "along"


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
