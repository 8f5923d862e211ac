"""Places that leave themselves out, by what is known of their teeth: nobody is asked, and no mark is made."""

from __future__ import annotations

from collections.abc import Set
from typing import Final

from session.walk.place import Place
from session.walk.stages import Kind

#: Why, in the words that the list of what was left out has.
BROKEN: Final = "broken"
NO_FLAT: Final = "no flat"
WIDENED: Final = "graded before the last pass"


def why_alone(place: Place, points: int, broken: Set[int], flatless: Set[int], *, widened: bool = False) -> str:
    """Why ``place`` of a line of ``points`` teeth leaves itself out; empty when it does not.

    broken: stumps: they are not bent, graded or filed to a point (DREW). flatless: the teeth that are known to have
    no flat, where the place is filed for its flats; else empty. widened: for a flat to be graded, whether a pass was
    made since its grading began. A gullet has two teeth beside it, and is filed as long as either of them may have a
    flat; of tooth 1 the back belongs to the first gullet, beyond the toe there is no tooth.
    """
    if place.kind is not Kind.GULLET:
        return BROKEN if place.tooth in broken else WIDENED if widened else ""
    beside = [tooth for tooth in (place.tooth, place.tooth + 1) if tooth <= points]
    if all(tooth in broken for tooth in beside):
        return BROKEN
    beside = [tooth for tooth in beside if tooth not in broken]
    return NO_FLAT if all(tooth in flatless for tooth in beside) else ""
