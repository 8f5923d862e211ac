"""What a sharpening came to on the steel: flats, heights, spacing, set, steel taken and cut, before and after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import deepcopy
from itertools import pairwise
from statistics import fmean, median, pstdev
from typing import Final

from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.proving.cut_figures import cut_figures
from session.value_class import dataclass

#: A flat left standing is one wider than this, in mm; a tooth is over-filed that strokes brought so
#: much further down than the middle one.
FLAT_LEFT_MM: Final = 0.05
OVERFILED_MM: Final = 0.03

#: How near the least worst spacing is searched for, in mm.
_NEAR_MM: Final = 1e-5


@dataclass(frozen=True, slots=True, kw_only=True)
class Steel:
    """The steel after a sharpening, against what it was before. Lengths in mm.

    teeth: whole ones. flats_left, overfiled: how many teeth. uneven: spread of the heights under the line, as standard
    deviation. worst_spacing, best_spacing: the worst error of spacing as it was left, and the least that the leveled
    line allowed; None where it was not filed from flats. set_spread: of the set within the rows, as a share of the set
    wanted. taken: how far the flanks' meeting came down, in the mean. worth_before, worth_after: of the cut, 0 … 1;
    speed, wander_mm, working: of the cut after.
    """

    teeth: int
    flats_left: int
    overfiled: int
    uneven: float
    worst_spacing: float | None
    best_spacing: float | None
    set_spread: float
    taken: float
    worth_before: float
    worth_after: float
    speed: float
    wander_mm: float
    working: float


def steel(
    before: SimulatedPlate, leveled: SimulatedPlate | None, after: SimulatedPlate, lowered: Mapping[int, float]
) -> Steel:
    """What became of ``before``; leveled: as it was when the filing began, None when nothing was filed; lowered: by
    tooth, how far strokes brought it down."""
    whole = [k for k in range(1, after.points + 1) if not after.tooth(k).broken]
    then = cut_figures(after)
    wanted = after.saw.set_per_side.mm if after.saw.set_per_side is not None else 0.0
    rows = [[after.set_mm(k) for k in whole if after.leans_away(k, 1) is leans] for leans in (True, False)]
    worst, best = (None, None) if leveled is None else _spacings(leveled, after, whole)
    usual = median(lowered.get(k, 0.0) for k in whole)
    return Steel(
        teeth=len(whole),
        flats_left=sum(after.flat_mm(k) > FLAT_LEFT_MM for k in whole),
        overfiled=sum(lowered.get(k, 0.0) - usual > OVERFILED_MM for k in whole),
        uneven=_uneven(after, whole),
        worst_spacing=worst,
        best_spacing=best,
        set_spread=max((pstdev(row) for row in rows if len(row) > 1), default=0.0) / wanted if wanted else 0.0,
        taken=fmean(before.apex_mm(k) - after.apex_mm(k) for k in whole),
        worth_before=cut_figures(before).worth,
        worth_after=then.worth,
        speed=then.speed,
        wander_mm=then.wander_mm,
        working=then.working,
    )


def least_worst_spacing(flats: Sequence[tuple[float, float] | None], pitch_mm: float) -> float:
    """The least worst error of spacing that points within ``flats`` can have, in mm, by halving what is tried.

    With an error allowed, each point can be within a stretch that follows from the one before and its own flat. A tooth
    without a flat is passed over, and its error shared.
    """
    known = [(number, flat) for number, flat in enumerate(flats) if flat is not None]
    low, high = 0.0, max((b - a for _, (a, b) in known), default=0.0) + pitch_mm

    def fits(error: float) -> bool:
        least, most, last = known[0][1][0], known[0][1][1], known[0][0]
        for number, (a, b) in known[1:]:
            steps = number - last
            least, most = max(a, least + steps * (pitch_mm - error)), min(b, most + steps * (pitch_mm + error))
            if least > most:
                return False
            last = number
        return True

    if len(known) < 2 or fits(0.0):
        return 0.0
    while high - low > _NEAR_MM:
        middle = (low + high) / 2.0
        low, high = (low, middle) if fits(middle) else (middle, high)
    return high


def kept(plate: SimulatedPlate) -> SimulatedPlate:
    """A copy of ``plate`` that nothing is done to any more; the recipe is shared."""
    return SimulatedPlate(plate.saw, deepcopy(plate.teeth))


def _spacings(
    leveled: SimulatedPlate, after: SimulatedPlate, whole: Sequence[int]
) -> tuple[float | None, float | None]:
    flats = [
        leveled.flat_ends_mm(k) if k in whole and leveled.shines(k) else None for k in range(1, leveled.points + 1)
    ]
    known = [k for k, flat in enumerate(flats, 1) if flat is not None]
    if len(known) < 3:
        return None, None
    pitch = after.saw.pitch_mm
    points = {k: sum(after.flat_ends_mm(k)) / 2.0 for k in known}
    worst = max(abs((points[k] - points[j]) / (k - j) - pitch) for j, k in pairwise(known))
    return worst, least_worst_spacing(flats, pitch)


def _uneven(plate: SimulatedPlate, whole: Sequence[int]) -> float:
    """How heights differ between neighbors of four, so that a hollow or a crown is not counted."""
    tops = [plate.tooth(k).top for k in whole]
    around = [fmean(tops[max(0, k - 4) : k + 5]) for k in range(len(tops))]
    return pstdev(top - mean for top, mean in zip(tops, around, strict=True)) if len(tops) > 1 else 0.0
