"""The words at a flat: how wide it is, told by one digit, and where it lies on a printed strip."""

from __future__ import annotations

from typing import Final

from session.sentences.asked_words import Asked
from session.texts.guidance import Level
from session.trade.grades import WORDS, width_mm
from session.trade.lengths import MM_PER, by_inches, in_unit
from session.trade.rounding import decimals, half_up, whole_number
from session.trade.saw import Saw
from session.walk.place import Place

#: What stands over a flat that is told against the strip.
STRIP_TITLE: Final = "Place on the strip"

#: How it is said that the eye is to tell a flat of which a scan tells nothing.
UNSEEN: Final = "Not told by the scan"

#: And how it is said what a scan tells of the flat that the eye is to tell anew.
SCAN_SAYS: Final = "The scan says"

#: Under so many a width is told in halves of a thousandth of an inch, or in thousandths of a millimeter.
_SMALL_THOU: Final = 3.0
_SMALL_MM: Final = 0.01

#: So many teeth are named in one line of words.
_NAMED: Final = 8


def some(numbers: tuple[int, ...]) -> str:
    """The first of ``numbers``, and how many more there are."""
    more = len(numbers) - _NAMED
    return ", ".join(map(str, numbers[:_NAMED])) + (f" and {more} more" if more > 0 else "")


def strip_words(place: Place, level: Level) -> Asked:
    """Where the flat just graded lies: one more glance and one more key."""
    exact = "Printed by “toothline templates”; an eye tells a place to about 1/8 of the flat."
    return Asked(
        title=STRIP_TITLE,
        lines=(
            "5: its middle lies on the mark.",
            "4, 3, 2, 1: to the toe by 1/4, 1/2, 3/4, all of its width or more.",
            "6, 7, 8, 9: to the heel, as far.",
            "0: the strip is laid aside, grades alone from here on.",
            "Handle on your right for this, as the strip is printed: the toe is on your left.",
            *((exact,) if level is Level.TAUGHT else ()),
        ),
        instruction=f"Flat {place.tooth} on the strip: 5 on its mark, 1-4 toe, 6-9 heel; 0: strip aside.",
    )


def grade_words(saw: Saw, broken: tuple[int, ...], *, unseen: bool = False, measured: float | None = None) -> Asked:
    """Grading the flats: one glance and one key a tooth. What is known to be broken is not asked for again.

    unseen: the others were measured by a scan, which does not tell this one. measured: what the scan told of its width,
    as a share of the pitch, where that is told anew; where it lies holds.
    """
    meant = [
        f"{grade} {word} {_told_width(width_mm(grade, saw.pitch_mm), saw)}" if grade else f"0 {word}"
        for grade, word in enumerate(WORDS)
    ]
    return Asked(
        title="Grade the flats",
        # Two grades a line, so that no width stands apart from its word.
        lines=(
            "Eyes and a lamp; saw in the vise.",
            f"{meant[0]}, {meant[1]},",
            f"{meant[2]}, {meant[3]},",
            f"{meant[4]}, {meant[5]}.",
            f"Broken, passed over: {some(broken)}." if broken else "Leave broken teeth out.",
            "Drawn wider than they are.",
        ),
        first=5,
        instruction=_instruction(measured, unseen, saw),
    )


def _instruction(measured: float | None, unseen: bool, saw: Saw) -> str:
    if measured is not None:
        told = f"{_told_width(measured * saw.pitch_mm, saw)} wide" if measured else "no flat"
        return f"{SCAN_SAYS} {told}: grade this tooth's flat anew, 0 to 5."
    if unseen:
        return f"{UNSEEN}: grade this tooth's flat, 0 to 5, in the light."
    return "Grade this tooth's flat, 0 to 5, as it shows in the light."


def seen_width(mm: float, unit: str) -> str:
    """A width as the eye tells it: to a whole thousandth of an inch, or a hundredth of a millimeter.

    Finer where it is so small that two grades would have the same figure.
    """
    if unit != "thou":
        return f"{decimals(mm, 3)} {unit}" if 0 < mm < _SMALL_MM else in_unit(mm, unit)
    thou = mm / MM_PER[unit]
    if thou < 1:
        return f"{decimals(thou, 1)} {unit}"
    return f"{half_up(2 * thou) / 2 if thou < _SMALL_THOU else whole_number(thou):g} {unit}"


def _told_width(mm: float, saw: Saw) -> str:
    """A width as the eye tells it, in the unit that all else on the screen has: inches where the recipe has them."""
    told = seen_width(mm, fine_unit(saw))
    number, _, unit = told.partition(" ")
    if saw.unit != "in" or unit != "thou":
        return told
    return f"{decimals(float(number) / 1000, 4).rstrip('0')} in"


def fine_unit(saw: Saw) -> str:
    return "thou" if by_inches(saw.unit) else "mm"
