"""Twenty years of one saw: forty sharpenings in a row, a season's work before each, by each policy.

What is left of the saw then: its steel, its set, its teeth, how straight its line runs, and how it cut on the way.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from random import Random
from statistics import fmean, pstdev
from typing import Final

from session.advice.work import What
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.proving.cut_figures import cut_figures
from session.rehearsal.proving.outcome import kept
from session.rehearsal.proving.person import PRACTICED, Person
from session.rehearsal.proving.plan_work import PlanWork
from session.rehearsal.proving.regret import advised_for
from session.rehearsal.proving.saw_conditions import Condition, plate_in, recipe_of, use
from session.value_class import dataclass

SHARPENINGS: Final = 40

#: What a place of each kind takes, in seconds: as `session.rehearsal.proving.alone` has them.
_STROKE_S: Final = 1.6
_BEND_S: Final = 2.8
_STONE_S: Final = 28.0

#: A tooth breaks while it is bent with this chance for each mm that it is bent further: hard steel, judgment.
_BREAKS_A_MM: Final = 0.01


class Policy(StrEnum):
    """How somebody keeps a saw for twenty years."""

    ADVISED = "as advised, and again after the cut"
    FULL = "full, every time, all teeth set"
    UNTIL_FLAT = "full, set when it binds"
    TOUCH_UP = "touch up, every time"


@dataclass(frozen=True, slots=True)
class Years:
    """What one saw came to. Lengths in mm.

    taken: what the line lost. broken: teeth broken by bending. bow: how far the middle of the line came to hang under
    its ends. uneven: the spread of the heights. cut: worth of the cut after each sharpening, in the mean; worst: the
    least. worn: before each. filed, bent: sharpenings in which gullets were filed, and teeth bent. strokes, hours.
    binds: sharpenings after which it bound.
    """

    policy: str
    taken: float
    broken: int
    bow: float
    uneven: float
    cut: float
    worst: float
    worn: float
    filed: int
    bent: int
    binds: int
    strokes: int
    hours: float


def years_of(policy: Policy, kind: str, seed: int, person: Person = PRACTICED, times: int = SHARPENINGS) -> Years:
    """``times`` sharpenings of one saw; the same saw and the same use for each policy."""
    plate = plate_in(recipe_of(kind).saw, Condition.KEPT, Random(f"years {seed}"))
    start, wear, breaks = kept(plate), Random(f"use {seed}"), Random(f"breaks {seed}")
    after, before = [], []
    strokes = filed = bent = binds = 0
    seconds = 0.0
    for number in range(times):
        use(plate, wear)
        before.append(cut_figures(plate).worth)
        work = PlanWork(plate, person, Random(f"{policy} {seed} {number}"))
        done = _worked(policy, work, person, f"{seed} {number}")
        bends = _bends(plate, work.plate, breaks) if What.SET in done else 0
        plate = work.plate
        strokes += work.hands.strokes
        filed += What.FILE in done or What.TOUCH_UP in done
        bent += What.SET in done
        seconds += _STROKE_S * work.hands.strokes + _BEND_S * bends
        seconds += _STONE_S * sum(what in (What.DRESS, What.STONE_BOTH) for what in done)
        figures = cut_figures(plate)
        binds += figures.clearance < 0.95
        after.append(figures.worth)
    whole = [k for k in range(1, plate.points + 1) if not plate.tooth(k).broken]
    return Years(
        policy=str(policy),
        taken=fmean(start.apex_mm(k) - plate.apex_mm(k) for k in whole),
        broken=len(plate.broken()),
        bow=plate.hollow_mm(),
        uneven=pstdev(plate.tooth(k).top for k in whole),
        cut=fmean(after),
        worst=min(after),
        worn=fmean(before),
        filed=filed,
        bent=bent,
        binds=binds,
        strokes=strokes,
        hours=seconds / 3600.0,
    )


def years_text(found: Sequence[Years]) -> str:
    """A row a policy, the mean of its saws."""
    heads = (
        "policy",
        "steel taken, mm",
        "broken",
        "hollow, mm",
        "cut",
        "worst cut",
        "before",
        "filed",
        "set",
        "binds",
        "hours",
    )
    lines = [f"| {' | '.join(heads)} |", f"|{'---|' * len(heads)}"]
    for policy in Policy:
        own = [one for one in found if one.policy == policy]
        if own:
            told = (
                f"{fmean(one.taken for one in own):.2f}",
                f"{fmean(one.broken for one in own):.1f}",
                f"{fmean(one.bow for one in own):.2f}",
                *(f"{100 * fmean(getattr(one, name) for one in own):.0f}" for name in ("cut", "worst", "worn")),
                *(f"{fmean(getattr(one, name) for one in own):.0f}" for name in ("filed", "bent", "binds")),
                f"{fmean(one.hours for one in own):.0f}",
            )
            lines.append(f"| {policy} | {' | '.join(told)} |")
    return "\n".join(lines)


def _worked(policy: Policy, work: PlanWork, person: Person, seed: str) -> tuple[What, ...]:
    """Sharpen once by ``policy``; gives what was done."""
    full = (What.LEVEL, What.FILE, What.DRESS)
    match policy:
        case Policy.ADVISED:
            done: tuple[What, ...] = ()
            for turn in range(2):
                _, works, seen = advised_for(work.plate, person, f"{seed} {turn}")
                work.do(works, seen)
                done += works
            return done
        case Policy.FULL:
            works = (What.LEVEL, What.SET, What.FILE, What.DRESS)
        case Policy.UNTIL_FLAT:
            bound = cut_figures(work.plate).clearance < 1.0
            works = (What.LEVEL, What.SET, What.FILE, What.DRESS) if bound else full
        case Policy.TOUCH_UP:
            bound = cut_figures(work.plate).clearance < 1.0
            works = (What.SET, What.TOUCH_UP) if bound else (What.TOUCH_UP,)
    work.do(works)
    return works


def _bends(before: SimulatedPlate, after: SimulatedPlate, rng: Random) -> int:
    """How many teeth were bent further; those that broke by it are broken in ``after``."""
    count = 0
    for k in range(1, after.points + 1):
        further = after.set_mm(k) - before.set_mm(k)
        if further > 0.0 and not after.tooth(k).broken:
            count += 1
            if rng.random() < _BREAKS_A_MM * further:
                after.tooth(k).broken = True
                after.tooth(k).top -= after.depth_mm / 2.0
    return count
