"""How the simulated saw cuts, judged from its plate: the fault that its trial cut shows, and what mends it.

Simple on purpose. All limits are judgment, and none of them is the program's: what the filer finds wrong is held
against its own steel, and the words for it and for the remedy are looked up where the person would read them.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from statistics import median
from typing import Final

from session.advice.cut_remedies import TRIED
from session.rehearsal.plate import SimulatedPlate
from session.value_class import dataclass
from session.walk.stages import Stage

#: Rows whose middle set differs by more than this pull the cut toward the one with more, in mm.
ROWS_DIFFER_MM: Final = 0.010

#: Spread of the set in one row, from its tenth to its ninetieth in a hundred, as a share of the set wanted.
UNEVEN: Final = 0.25

#: Set over which a cut is rough, and over which the saw flops about or hangs up, as shares of the set wanted.
ROUGH_FROM: Final = 1.3
DRAGS_FROM: Final = 1.6

#: A point alone this much farther out than the middle of its row scratches the walls.
FAR_OUT: Final = 1.4

#: Set under which the saw binds, as a share of the set wanted, where the recipe gives no least.
BINDS_UNDER: Final = 0.5

#: Rake under which a saw with too much set draws itself in, instead of flopping about.
HANGS_UP_UNDER: Final = 12.0

#: A tooth this much over the middle height catches; rows whose middle heights differ by that much pull the cut; teeth
#: this far under their neighbors are idle, of which so many may be; all in mm.
LONG_MM: Final = 0.025
ROWS_HIGH_MM: Final = 0.010
IDLE_MM: Final = 0.006
IDLE_TEETH: Final = 3

#: So many teeth to either side are the neighbors of a tooth.
_BESIDE: Final = 4

#: How far the cut leaves its line over the length of a trial cut, in mm, for each mm that the rows differ.
_WANDER_OF: Final = 60.0


@dataclass(frozen=True, slots=True)
class CutFault:
    """One fault of the cut: its name, and the stage that mends it.

    toward: "left" or "right" for a cut that wanders, else empty. wander_mm: how far it did.
    """

    name: str
    stage: Stage
    toward: str = ""
    wander_mm: float = 0.0

    def pick(self, choices: Sequence[str]) -> str:
        """Which of ``choices`` mends it, by their words; where set is at fault the stone may help as well. The last
        one, going on as it is, when none does, or none that was not tried before."""
        stages = (self.stage, Stage.DRESS) if self.stage is Stage.SET else (self.stage,)
        untried = [choice for choice in choices[:-1] if not choice.startswith(TRIED)]
        found = (choice for stage in stages for choice in untried if _MENDS[stage].search(choice))
        return next(found, choices[-1])


#: The words by which a remedy is known.
_MENDS: Final = {
    Stage.DRESS: re.compile(r"\bstone (that side|both sides)", re.IGNORECASE),
    Stage.SET: re.compile(r"\b(a touch more|even the set)\b", re.IGNORECASE),
    Stage.LEVEL: re.compile(r"\blevel (once|again)\b", re.IGNORECASE),
    Stage.FILE: re.compile(r"\blight stroke\b", re.IGNORECASE),
}


def no_steel(choices: Sequence[str]) -> str | None:
    """The first of ``choices`` that costs no steel; None where there is none."""
    return next((choice for choice in choices if "(no steel)" in choice), None)


def uneven_rows(plate: SimulatedPlate) -> bool:
    """Whether an eye along the edge sees that the rows are uneven: in set, in height, or by flats left standing."""
    found = cut_fault(plate, rake=plate.saw.rake)
    return found is not None and found.name in ("jumps", "slow", "wanders")


def cut_fault(plate: SimulatedPlate, *, rake: float) -> CutFault | None:
    """The fault of a trial cut with ``plate``, the worst first; None for a good cut."""
    return _by_set(plate, rake) or _by_height(plate) or _by_flats(plate)


def uneven_heights(plate: SimulatedPlate) -> bool:
    """Whether some teeth are longer than the others, or one row higher, or too many idle."""
    return _by_height(plate) is not None


def idle(plate: SimulatedPlate, tooth: int) -> bool:
    """Whether ``tooth`` stands so far under its neighbors that it does nothing; a line slightly hollow still cuts."""
    beside = range(max(1, tooth - _BESIDE), min(plate.points, tooth + _BESIDE) + 1)
    tops = [plate.tooth(k).top for k in beside if not plate.tooth(k).broken]
    return bool(tops) and median(tops) - plate.tooth(tooth).top > IDLE_MM


def _by_set(plate: SimulatedPlate, rake: float) -> CutFault | None:
    saw = plate.saw
    wanted = saw.set_per_side.mm if saw.set_per_side is not None else 0.0
    rows = {side: [plate.set_mm(k) for k in _row(plate, side)] for side in ("right", "left")}
    if not wanted or not all(rows.values()):
        return None
    middle = median([*rows["right"], *rows["left"]])
    least = BINDS_UNDER * wanted if saw.least_per_side is None else saw.least_per_side.mm
    if middle < least:
        return CutFault("binds", Stage.SET)
    if middle > DRAGS_FROM * wanted:
        return CutFault("hangs up" if rake < HANGS_UP_UNDER else "drags", Stage.DRESS)
    if middle > ROUGH_FROM * wanted:
        return CutFault("rough", Stage.DRESS)
    if any(max(row) > FAR_OUT * median(row) for row in rows.values()):
        return CutFault("rough", Stage.DRESS)
    uneven = [side for side, row in rows.items() if _spread(row) > UNEVEN * wanted]
    if len(uneven) == 2:
        return CutFault("jumps", Stage.SET)
    differ = median(rows["right"]) - median(rows["left"])
    toward = "right" if differ > 0 else "left"
    if uneven:
        return CutFault("wanders", Stage.SET, toward=toward, wander_mm=_wander(differ))
    if abs(differ) > ROWS_DIFFER_MM:
        return CutFault("wanders", Stage.DRESS, toward=toward, wander_mm=_wander(differ))
    return None


def _by_height(plate: SimulatedPlate) -> CutFault | None:
    tops = {side: [plate.tooth(k).top for k in _row(plate, side)] for side in ("right", "left")}
    both = [*tops["right"], *tops["left"]]
    if not all(tops.values()):
        return None
    middle, line = median(both), max(both)
    differ = median(tops["right"]) - median(tops["left"])
    if abs(differ) > ROWS_HIGH_MM:
        toward = "right" if differ > 0 else "left"
        return CutFault("wanders", Stage.LEVEL, toward=toward, wander_mm=_wander(differ))
    if line - middle > LONG_MM:
        return CutFault("jumps", Stage.LEVEL)
    if sum(idle(plate, k) for side in tops for k in _row(plate, side)) > IDLE_TEETH:
        return CutFault("slow", Stage.LEVEL)
    return None


def _by_flats(plate: SimulatedPlate) -> CutFault | None:
    shining = any(plate.shines(k) for k in range(1, plate.points + 1))
    return CutFault("slow", Stage.FILE) if shining else None


def _row(plate: SimulatedPlate, side: str) -> list[int]:
    """The whole teeth that stand out on the ``side`` of the person sawing.

    With the handle on the right, teeth up, the face turned to the person is the right one in the cut.
    """
    teeth = range(1, plate.points + 1)
    return [k for k in teeth if not plate.tooth(k).broken and plate.leans_away(k, 1) == (side == "left")]


def _spread(row: Sequence[float]) -> float:
    ordered = sorted(row)
    return ordered[len(ordered) * 9 // 10] - ordered[len(ordered) // 10]


def _wander(differ_mm: float) -> float:
    return max(0.3, round(abs(differ_mm) * _WANDER_OF, 1))
