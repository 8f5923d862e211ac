"""What the spacing of a filed line is limited by: the same saws by hands and eyes of which less and less errs."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean
from typing import Any, Final

from session.rehearsal.proving.person import PRACTICED, Person
from session.rehearsal.proving.saw_conditions import KINDS, Condition
from session.rehearsal.proving.sharpening_trial import Case, SharpeningTrial, thrown_away
from session.value_class import replace

#: Saws that are filed from flats of one leveling, by turns.
_CONDITIONS: Final = (Condition.DULL, Condition.HOLLOW, Condition.BROKEN)

MEASURED: Final = ("nothing", "grades", "strip", "scan")

_ANGLES: Final = replace(PRACTICED, name="the same, file held true", roll_deg=0.0, held_deg=0.0)

_STEADY: Final = replace(
    _ANGLES,
    name="steady in all, flats unseen as before",
    bite=0.0,
    lightest=0.1,
    lean=0.0,
    tilt_mm=0.0,
    misgrades=0.0,
    halves=0.0,
    adapts=1.0,
    slips=0.0,
    overfiles=0.0,
    impatient=0.0,
)

#: From the practiced on, each without one more error.
RUNGS: Final[tuple[Person, ...]] = (
    PRACTICED,
    _ANGLES,
    _STEADY,
    replace(_STEADY, name="and every flat seen", sees_mm=0.004),
)


def limit_of(job: tuple[str, str, int]) -> dict[str, Any]:
    """The worst spacing of one saw by one rung, measured in one way, and the best that its steel allowed, in mm.

    job: the rung's name, the way of measuring, and which saw. Both are None where nothing was filed.
    """
    rung, measuring, number = job
    kind = tuple(KINDS)[number % len(KINDS)]
    condition = _CONDITIONS[number // len(KINDS) % len(_CONDITIONS)]
    case = Case(number, kind, condition, rung, "brief", measuring, 0)
    with thrown_away() as folder:
        person = next(one for one in RUNGS if one.name == rung)
        found = SharpeningTrial(case, folder, person).run()
    reshaped = "reshape" in found.stages
    return {
        "rung": rung,
        "measuring": measuring,
        "worst": None if reshaped else found.steel.worst_spacing,
        "best": None if reshaped else found.steel.best_spacing,
    }


def limits_text(found: Sequence[dict[str, Any]]) -> str:
    """A row a rung, the worst spacing in the mean by each way of measuring, and the best that the steel allowed."""
    heads = ("hands and eyes", *(f"{way}, mm" for way in MEASURED), "best the steel allows, mm")
    lines = [f"| {' | '.join(heads)} |", f"|{'---|' * len(heads)}"]
    for rung in RUNGS:
        own = [one for one in found if one["rung"] == rung.name and one["worst"] is not None]
        told = [_mean([one["worst"] for one in own if one["measuring"] == way]) for way in MEASURED]
        lines.append(f"| {rung.name} | {' | '.join(told)} | {_mean([one['best'] for one in own])} |")
    return "\n".join(lines)


def _mean(values: Sequence[float]) -> str:
    return f"{fmean(values):.3f}" if values else "–"
