"""Common reasons for leaving a place out, so that one key tells what a hand with filings on it cannot type.

They are offers: the person's own words are as good. Each is worded so that the next sharpening can use it.
"""

from __future__ import annotations

from typing import Final

from session.walk.stages import Stage

_BROKEN: Final = "broken tooth"  # left alone, its neighbors keep their size: DREW
_LOW: Final = "low tooth, no flat"  # left until the line comes down to it: HASL p. 74
_SHARP: Final = "sharp already, no bright point"  # a tip only just touched is left alone: FIT

_REASONS: Final[dict[Stage, tuple[str, ...]]] = {
    Stage.LOOK_OVER: ("cannot measure it today", "known from last time", "does not apply to this saw"),
    Stage.LEVEL: ("line is good already", "saw is short of steel", "file does not sit square"),
    Stage.RESHAPE: (_LOW, _BROKEN, "even with its neighbors", "gullet deep enough", "crack near this gullet"),
    Stage.SET: (_BROKEN, "leans the other way", "set enough already", "tooth too hard to bend", "bends at the root"),
    Stage.FILE: (
        _LOW,
        _BROKEN,
        _SHARP,
        "wrong side for this gullet",
        "file skates, hard tooth",
        "crack near this gullet",
    ),
    Stage.DRESS: ("no burr", "no set to spare", "sides left as filed"),  # often left out: WHEEL
    Stage.PROVE: ("no wood at hand", "no needle at hand", "no time today", "does not apply to this saw"),
    Stage.CLOSE: ("done by someone else", "more saws to sharpen now", "does not apply"),
}


def reasons(stage: Stage) -> tuple[str, ...]:
    """The common reasons for leaving out a place of ``stage``, most common first."""
    return _REASONS[stage]
