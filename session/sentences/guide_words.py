"""The guides of the file: how each is put on, how it is made in a minute, and how one does without it."""

from __future__ import annotations

from typing import Final

from session.texts.guidance import Level
from session.trade.rounding import half_up
from session.trade.saw import FilePoints, Saw
from session.trade.sides import goes_left
from session.trade.tooth import FILE_DEG

#: The items of the first fitting: what a turn turns is put on here.
_ITEMS: Final = {
    "guide": "Push the guide block on the file's tip, the edge that is marked as top up.",
    "rake": "Look at the block: rake {rake:g}°, its top edge level in the hands.",
    "fleam": "Set the fleam guide {fleam:g}° off square, tip to the {tip}, on your {tip_side}.",
}


def fitted_words(saw: Saw, item: str, side: int) -> str:
    """How the guide block, its rake or the fleam guide is put on for the first time, on ``side`` (1 or 2).

    saw: as it is at the place in hand.
    """
    return _ITEMS[item].format(rake=saw.rake, fleam=saw.fleam, tip=saw.file_points, tip_side=tip_side(saw, side))


def item_word(item: str) -> str:
    """An item of a turn or of the first fitting as a screen names it: only of teeth it is said that they are low."""
    return _WORDS.get(item, item)


_WORDS: Final = {"low": "grip"}

#: What each guide is and where it sits, where it is first put on.
_NAMED: Final = {
    "guide": "Guide block: wood on the file's tip; its top held level keeps the rake.",
    "fleam": "Fleam guide: a board on the jaws; the file is held along its line.",
}


def guide_named(item: str, level: Level) -> tuple[str, ...]:
    """What the guide of ``item`` is and where it sits, for a learner; nothing for whoever has one."""
    return (_NAMED[item],) if level is Level.TAUGHT and item in _NAMED else ()


def tip_side(saw: Saw, side: int) -> str:
    """On which hand the file's tip points for somebody who stands at ``side``: "left" or "right"."""
    return "left" if goes_left(saw.file_points is FilePoints.TOE, side) else "right"


def guide_made(saw: Saw, item: str, level: Level) -> tuple[str, ...]:
    """What a guide is and how it is made, and how to do without, for a learner; nothing for whoever has one.

    The slant of the block is derived: a file of three faces whose lower corner is in the gullet has its upper face
    half its angle off level, less the rake.
    """
    if level is not Level.TAUGHT:
        return ()
    if item == "guide":
        tilt = FILE_DEG / 2 - saw.rake
        slant = f"{half_up(abs(tilt), 1):g}° off its top edge, higher toward the {'heel' if tilt > 0 else 'toe'}"
        face = slant if tilt else "even with its top edge"
        return (
            f"To make one: bore scrap wood for the tip, press the file in, its upper face {face}.",
            "Without one: draw that slant on a card behind the saw, and hold the file to it by eye.",
        )
    if item == "fleam":
        return (
            f"{saw.fleam:g}° is set, counted from square across the plate; counted from the plate that line is "
            f"{90 - saw.fleam:g}°.",
            "To make one: draw that line on a board, or saw a slot along it; lay it over the jaws.",
            "Without one: draw the line on the jaw every few inches, and hold the file along it.",
        )
    return ()
