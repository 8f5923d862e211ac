"""The words for what can be seen of a saw before any work on it."""

from __future__ import annotations

from enum import StrEnum
from typing import Final


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
