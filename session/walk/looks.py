"""Which looks of the look over are taken: each answer may save others, or ask for one more."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from session.trade.seen_words import Bright, Cutting, LineShape
from session.walk.mark import Mark
from session.walk.measurables import NOTHING_TO_SEE, Measurable
from session.walk.stages import LOOKS, PLAN_STEP

#: What a look all round that finds nothing has looked at.
SEEN_ALL_ROUND: Final = frozenset(
    {"plate", "handle", "crack", "hard teeth", "sizes", "high teeth", "low teeth", "broken teeth"}
)

#: What cannot change the advice any more for a saw that is sharp, cuts well and shows nothing all round.
_ONLY_FOR_WORK: Final = frozenset({"line", "line gap", "over the set", "points", "lean", "file"})

#: What is looked at before it is known that no steel is taken today.
_BEFORE_A_STOP: Final = frozenset(
    {"bright points", "last cut", "all round", "plate", "handle", "crack", "hard teeth", PLAN_STEP}
)

_FAULTS: Final = frozenset(Cutting) - {Cutting.GOOD, Cutting.UNTRIED}


def wanted_looks(looks: tuple[str, ...], measured: Mapping[str, Mark]) -> tuple[str, ...]:
    """Those of ``looks`` that are taken after what was ``measured``, in their order.

    A log of before has all its looks: then nothing is saved and nothing more is asked.
    """
    looks = tuple(look for look in looks if look in LOOKS)
    if Measurable.ALL_ROUND not in looks:
        return looks

    def said(what: Measurable) -> object:
        mark = measured.get(what)
        return None if mark is None else mark.value

    if said(Measurable.HARD_TEETH) == "yes" or said(Measurable.CRACK) not in (None, "none"):
        # Nothing more is needed to know that no steel is taken today.
        return tuple(look for look in looks if look in _BEFORE_A_STOP)
    spared: set[str] = set()
    cut = said(Measurable.LAST_CUT)
    if cut not in _FAULTS:
        spared |= {"grain", "wood"}
    if cut != Cutting.WANDERS:
        spared.add("wanders to")
    if said(Measurable.LINE) != LineShape.HOLLOW:
        spared.add("line gap")
    nothing = said(Measurable.ALL_ROUND) == NOTHING_TO_SEE
    if nothing:
        spared |= SEEN_ALL_ROUND
    if nothing and cut == Cutting.GOOD and said(Measurable.BRIGHT_POINTS) == Bright.NONE:
        spared |= _ONLY_FOR_WORK
    return tuple(look for look in looks if look not in spared)
