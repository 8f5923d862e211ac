"""How a simulated saw cuts, in figures: wander, clearance, roughness, speed, and teeth that reach the wood.

Simple on purpose and judgment in every constant; PROOF.md in this room says where each comes from and what it leaves
out. Nothing of it is known to the program, whose advice it judges.
"""

from __future__ import annotations

from math import hypot
from statistics import fmean, median, pstdev
from typing import Final

from session.rehearsal.plate import SimulatedPlate
from session.value_class import dataclass, field, replace


@dataclass(frozen=True, slots=True)
class CutLaws:
    """The constants of the cut, all judgment, so that a test can change each and see what hangs on it.

    chip_mm: what a tooth takes with each pass; one that lies deeper under the points beside it does nothing.
    blunt_mm: the flat with which a tooth cuts half as fast as a sharp one. wander: mm off the line over 100 mm of cut
    for each mm that the two sides differ in set, and ``wander_high`` in height. astray_mm: the wander over 100 mm that
    halves what a cut is worth. coarse_mm: the roughness that halves it. burr_mm: how far a burr stands out.
    """

    chip_mm: float = 0.03
    blunt_mm: float = 0.06
    wander: float = 40.0
    wander_high: float = 20.0
    astray_mm: float = 1.5
    coarse_mm: float = 0.08
    burr_mm: float = 0.01


LAWS: Final = CutLaws()

#: So many teeth to either side are those that a tooth shares its work with.
_BESIDE: Final = 4


@dataclass(frozen=True, slots=True)
class CutFigures:
    """How a saw cuts. Shares are 0 … 1, and 1 is a saw as its recipe wants it.

    wander_mm: over 100 mm of cut, toward the left when below 0, seen by the person sawing; of that ``wander_high_mm``
    comes from the heights. clearance: the share of the least set that stands on the poorer side. wide: the middle set,
    as a share of the set wanted, 1 where none is. rough_mm: how unevenly the points stand, ``aside_mm`` sideways and
    ``high_mm`` in height. speed: against a sharp, even saw of its recipe. working: share of the teeth that reach the
    wood.
    """

    wander_mm: float
    wander_high_mm: float
    clearance: float
    wide: float
    rough_mm: float
    aside_mm: float
    high_mm: float
    speed: float
    working: float
    laws: CutLaws = field(default=LAWS, repr=False, compare=False)

    @property
    def straight(self) -> float:
        """1 for a cut that keeps its line, a half for one that is as far off as ``astray_mm``."""
        return 1.0 / (1.0 + abs(self.wander_mm) / self.laws.astray_mm)

    @property
    def smooth(self) -> float:
        """1 for points in two even rows, a half for ones as uneven as ``coarse_mm``."""
        return 1.0 / (1.0 + self.rough_mm / self.laws.coarse_mm)

    @property
    def worth(self) -> float:
        """All of it in one number, 0 … 1: a saw that fails in one thing is not mended by another."""
        return self.speed * self.straight * self.smooth * self.clearance


def cut_figures(plate: SimulatedPlate, laws: CutLaws = LAWS) -> CutFigures:
    """How ``plate`` cuts today."""
    whole = [k for k in range(1, plate.points + 1) if not plate.tooth(k).broken]
    under = under_the_line(plate)
    load = {k: min(1.0, max(0.0, 1.0 - under[k] / laws.chip_mm)) for k in whole}
    sharp = {k: 1.0 / (1.0 + plate.flat_mm(k) / laws.blunt_mm) for k in whole}
    away, toward = ([k for k in whole if plate.leans_away(k, 1) is leans] for leans in (True, False))
    wanted, least = _asked(plate)
    sets = {k: plate.set_mm(k) for k in whole}
    middles = [median(sets[k] for k in row) if row else 0.0 for row in (away, toward)]
    by_height = 0.0
    if away and toward:
        by_height = laws.wander_high * (fmean(under[k] for k in away) - fmean(under[k] for k in toward))
    kerf, asked = plate.saw.plate.mm + sum(middles), plate.saw.plate.mm + 2.0 * wanted
    working = [k for k in whole if load[k] > 0.0]
    aside = hypot(*(pstdev(sets[k] for k in row) for row in (away, toward) if len(row) > 1))
    high = pstdev(under[k] for k in working) if len(working) > 1 else 0.0
    burred = sum(plate.tooth(k).burr for k in whole) / len(whole) if whole else 0.0
    return CutFigures(
        # The face turned to the person with the handle on the right is the right one in the cut.
        wander_mm=laws.wander * (middles[1] - middles[0]) + by_height,
        wander_high_mm=by_height,
        clearance=min(1.0, min(middles) / least) if least else 1.0,
        wide=fmean(middles) / wanted if wanted else 1.0,
        aside_mm=aside,
        high_mm=high,
        rough_mm=hypot(aside, high, laws.chip_mm * _out_of_step(plate, whole)) + laws.burr_mm * burred,
        # A wider slot is more wood to take away; a narrower one shows in the clearance.
        speed=sum(load[k] * sharp[k] for k in whole) / plate.points * min(1.0, asked / kerf),
        working=len(working) / plate.points,
        laws=laws,
    )


def under_the_line(plate: SimulatedPlate) -> dict[int, float]:
    """By whole tooth, how far its point lies under the wood as those beside it leave it, in mm; below 0 over it."""
    tops = {k: plate.tooth(k).top for k in range(1, plate.points + 1) if not plate.tooth(k).broken}
    return {k: _line_at(k, tops) - top for k, top in tops.items()}


def sensitivities(plate: SimulatedPlate, by: float = 2.0) -> dict[str, tuple[float, float]]:
    """By constant, what ``worth`` becomes with it divided and multiplied by ``by``."""
    return {
        name: (
            cut_figures(plate, replace(LAWS, **{name: getattr(LAWS, name) / by})).worth,
            cut_figures(plate, replace(LAWS, **{name: getattr(LAWS, name) * by})).worth,
        )
        for name in CutLaws.__slots__
    }


def _asked(plate: SimulatedPlate) -> tuple[float, float]:
    """The set that the recipe wants on a side, and the least with which the plate still goes free."""
    saw = plate.saw
    wanted = 0.0 if saw.set_per_side is None else saw.set_per_side.mm
    return wanted, wanted / 2.0 if saw.least_per_side is None else saw.least_per_side.mm


def _line_at(tooth: int, tops: dict[int, float]) -> float:
    """How high the wood stands at ``tooth``: as the second highest point of it and those beside it leaves it."""
    beside = [tops[k] for k in range(tooth - _BESIDE, tooth + _BESIDE + 1) if k in tops]
    return sorted(beside)[-2] if len(beside) > 1 else beside[0]


def _out_of_step(plate: SimulatedPlate, whole: list[int]) -> float:
    """How unevenly the points follow each other, as a share of the pitch; across a stump nothing is told."""
    middles = {k: sum(plate.flat_ends_mm(k)) / 2.0 for k in whole}
    gaps = [middles[k + 1] - middles[k] for k in whole if k + 1 in middles]
    return pstdev(gaps) / plate.saw.pitch_mm if len(gaps) > 1 else 0.0
