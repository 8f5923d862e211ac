"""What the set asks for by itself today: bending, the stone or nothing, by what today's work leaves of it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Final

from session.advice.causes import over_words, uneven_words
from session.advice.measured_set import MeasuredSet
from session.advice.plausibility import SURELY_SET_MM, leaning
from session.advice.sharpness import Degree, sharp_and_good
from session.advice.work import What
from session.texts.wording import fine
from session.trade.observation import Seen
from session.trade.saw import Leans, Saw
from session.trade.seen_words import Cutting

STONES: Final = frozenset({What.STONE_LEFT, What.STONE_RIGHT, What.STONE_BOTH})

#: Faults that more set can answer. Where nothing is filed no tooth is bent for another, nor before a trial cut told.
_ANSWERED: Final = frozenset({Cutting.BINDS, Cutting.SLOW, Cutting.WANDERS})

#: Faults that an even set can answer as well.
_BY_EVENNESS: Final = _ANSWERED | {Cutting.ROUGH, Cutting.JUMPS}

#: Faults that an uneven set brings about.
_TELL_OF_IT: Final = frozenset({Cutting.WANDERS, Cutting.ROUGH, Cutting.JUMPS})


def set_work(
    saw: Saw,
    seen: Seen,
    has: MeasuredSet,
    degree: Degree,
    off_mm: float,
    others: Collection[What],
    *,
    untold: bool = False,
) -> Mapping[What, tuple[str, str]]:
    """The work on the set with its reason and source; empty when there is none.

    degree, off_mm: today's filing, and how far the line comes down by it. others: the work that is done anyhow.
    untold: bend also for what no cut has told, as a choice beside the advised one.
    """
    good = seen.last_cut is Cutting.GOOD
    if has.want_mm <= 0 or sharp_and_good(seen) or (good and off_mm < has.arm_mm) or not STONES.isdisjoint(others):
        return {}
    if degree is Degree.NONE and (What.OTHER_SAW in others or What.STRAIGHTEN in others):
        return {}
    bends = degree > Degree.NONE or untold or seen.last_cut in _ANSWERED
    if leaning(saw, seen) is Leans.UNSET and not (has.now_mm is not None and has.now_mm > SURELY_SET_MM):
        if not bends:
            return {}
        why = "No tooth was ever set: try the set on five or six teeth, measure, then set the rest."
        return {What.SET: (why, "FSMAN; LAUGH art. 2; judgment")}
    # A saw that binds is never made narrower.
    if seen.last_cut is not Cutting.BINDS:
        # Where no cut told of it, only that is evened which setting anew does not bring about itself.
        if has.uneven if seen.last_cut in _TELL_OF_IT else has.unevener_than_set:
            return _evened(saw, seen, has, degree, off_mm, bends=bends)
        if has.over:
            return {What.STONE_BOTH: (over_words(saw, has), "GRIF; FSMAN; KING 64; judgment")}
    stones = 1 if degree > Degree.TOUCH_UP and saw.dressing_passes else 0
    if bends and has.due(off_mm, stones):
        amount, least = fine(has.left_mm(off_mm, stones) or 0.0, saw.unit), fine(has.least_mm, saw.unit)
        after = "Today's work leaves" if off_mm else "It has"
        why = f"{after} {amount} of set a side, under the least of {least}: set it, on a few teeth first."
        return {What.SET: (why, "GRIF; FSMAN; derived")}
    return {}


def _evened(
    saw: Saw, seen: Seen, has: MeasuredSet, degree: Degree, off_mm: float, *, bends: bool
) -> Mapping[What, tuple[str, str]]:
    """An uneven set is stoned down evenly, set anew first where it has not enough; bends: whether it is set today."""
    # Teeth that are filed to one size first are set anew before they are sharpened (GOR: joint, shape, set).
    # A width does not tell which side has more: stoned alike, the sides still differ by what made it wander.
    apart = seen.last_cut is Cutting.WANDERS and degree > Degree.TOUCH_UP
    alone = has.enough_to_stone(off_mm) and degree < Degree.RESHAPE and not apart
    by = "GOR p. 150; " if degree is Degree.RESHAPE else ""
    told = (uneven_words(saw, has, alone=alone), f"{by}ROSS p. 9; FSMAN; from memory")
    if alone:
        return {What.STONE_BOTH: told}
    return {What.SET: told, What.STONE_BOTH: told} if bends or seen.last_cut in _BY_EVENNESS else {}
