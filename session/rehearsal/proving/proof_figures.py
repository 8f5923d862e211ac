"""The proof's figures: each way of working by person, with its interval, and which targets are met."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from statistics import fmean
from typing import Final

from session.rehearsal.proving.intervals import of_mean, wilson
from session.rehearsal.proving.person import PEOPLE, PRACTICED
from session.rehearsal.proving.proof_run import Row
from session.value_class import dataclass

PROGRAM: Final = "program"

#: So many conditions are named behind a target that is missed.
_MOST_LOST: Final = 2


@dataclass(frozen=True, slots=True)
class ProofFigure:
    """One figure with the interval in which it lies, 95 in 100; of: how many saws it rests on."""

    value: float
    least: float
    most: float
    of: int


@dataclass(frozen=True, slots=True)
class Measure:
    """One row of the table: its name, its unit, its decimals, and how a saw's row gives it; None where it has none."""

    name: str
    unit: str
    digits: int
    of: Callable[[Row], float | None]


def _steel(name: str, times: float = 1.0) -> Callable[[Row], float | None]:
    def found(row: Row) -> float | None:
        value = row["steel"][name]
        return None if value is None else value * times

    return found


def _of_teeth(name: str) -> Callable[[Row], float]:
    return lambda row: 100.0 * row["steel"][name] / row["steel"]["teeth"]


def _own(name: str) -> Callable[[Row], float]:
    return lambda row: float(row[name])


MEASURES: Final = (
    Measure("cut before", "of 100", 0, _steel("worth_before", 100.0)),
    Measure("cut after", "of 100", 1, _steel("worth_after", 100.0)),
    Measure("steel taken", "mm", 3, _steel("taken")),
    Measure("flats left", "% of teeth", 1, _of_teeth("flats_left")),
    Measure("over-filed", "% of teeth", 1, _of_teeth("overfiled")),
    Measure("heights uneven", "mm", 3, _steel("uneven")),
    Measure("worst spacing", "mm", 3, _steel("worst_spacing")),
    Measure("best the steel allows", "mm", 3, _steel("best_spacing")),
    Measure("set uneven", "% of set", 1, _steel("set_spread", 100.0)),
    Measure("gullets missed", "a saw", 2, _own("missed")),
    Measure("gullets filed again", "a saw", 2, _own("twice")),
    Measure("strokes", "a saw", 0, _own("strokes")),
    Measure("minutes", "a saw", 0, _own("minutes")),
)


#: What is told of each condition, guidance and way of measuring.
SPLIT: Final = ("cut after", "steel taken", "heights uneven", "worst spacing")


@dataclass(frozen=True, slots=True)
class Target:
    """One target: what it says, what came of it, and whether it is met; None where nothing was there to tell.

    why: where one that is missed is lost; empty for one that is met.
    """

    name: str
    found: str
    met: bool | None
    why: str = ""


def ways(rows: Iterable[Row]) -> tuple[str, ...]:
    """The ways of working, the program first."""
    return tuple(sorted({row["way"] for row in rows}, key=lambda way: (way != PROGRAM, way)))


def figure(rows: Sequence[Row], measure: Measure) -> ProofFigure | None:
    """The mean of ``measure`` over ``rows``; None where no row has it."""
    values = [value for row in rows if (value := measure.of(row)) is not None]
    return ProofFigure(fmean(values), *of_mean(values), len(values)) if values else None


def table(rows: Sequence[Row]) -> dict[str, dict[str, dict[str, ProofFigure | None]]]:
    """By person, by way and by measure; a sharpening that ended in a fault counts as it ended."""
    return {
        person.name: {
            way: {
                measure.name: figure(
                    [row for row in rows if row["person"] == person.name and row["way"] == way], measure
                )
                for measure in MEASURES
            }
            for way in ways(rows)
        }
        for person in PEOPLE
    }


def splits(rows: Sequence[Row]) -> dict[str, dict[str, dict[str, dict[str, ProofFigure | None]]]]:
    """By condition in every way, and by guidance and by measuring with the program: what is in SPLIT."""
    found: dict[str, dict[str, dict[str, dict[str, ProofFigure | None]]]] = {}
    for key in ("condition", "guidance", "measuring"):
        here = rows if key == "condition" else [row for row in rows if row["way"] == PROGRAM]
        found[key] = {
            value: {
                way: {
                    measure.name: figure([row for row in here if row[key] == value and row["way"] == way], measure)
                    for measure in MEASURES
                    if measure.name in SPLIT
                }
                for way in ways(here)
            }
            for value in sorted({row[key] for row in here})
        }
    return found


def targets(rows: Sequence[Row]) -> list[Target]:
    """Which targets are met."""
    ours = [row for row in rows if row["way"] == PROGRAM]
    found = [_none_lost(ours, what) for what in ("places", "marks")]
    faults = sum(bool(row["fault"]) for row in ours)
    found.append(Target("every sharpening comes to its end", f"{faults} of {len(ours)} did not", faults == 0))
    left = [row for row in ours if row["person"] == PRACTICED.name and "file" in row["stages"]]
    flats, teeth = (sum(row["steel"][name] for row in left) for name in ("flats_left", "teeth"))
    if teeth:
        low, high = wilson(flats, teeth)
        share = f"{100 * flats / teeth:.2f} % ({100 * low:.2f} to {100 * high:.2f})"
        found.append(
            Target("practiced: flats left on under 1 % of the teeth, where filed", share, flats / teeth < 0.01)
        )
    found += [_spacing(ours, measuring) for measuring in ("scan", "strip", "grades")]
    for person in PEOPLE:
        for way in ways(rows):
            if way != PROGRAM:
                found += _against(rows, person.name, way)
    return found


def _none_lost(ours: Sequence[Row], what: str) -> Target:
    lost = sum(row[f"{what}_lost"] > 0 for row in ours)
    high = wilson(lost, len(ours))[1]
    kills = sum(row["kills"] for row in ours)
    told = f"{lost} of {len(ours)} saws, {kills} kills (at most {1000 * high:.1f} in 1,000)"
    return Target(f"0 {what} lost by the program", told, lost == 0)


def _spacing(ours: Sequence[Row], measuring: str) -> Target:
    both = [
        (row["steel"]["worst_spacing"], row["steel"]["best_spacing"])
        for row in ours
        if row["measuring"] == measuring and row["steel"]["worst_spacing"] and "reshape" not in row["stages"]
    ]
    name = f"worst spacing at most 1.3 × the best, flats by {measuring}"
    if not both:
        return Target(name, "no such saw", None)
    worst, best = fmean(one for one, _ in both), fmean(other for _, other in both)
    met = worst <= 1.3 * best
    why = "" if met else "hands and eyes, and not the plan; see what limits the spacing"
    return Target(name, f"{worst:.3f} mm against {best:.3f} mm, {len(both)} saws", met, why)


def _against(rows: Sequence[Row], person: str, way: str) -> list[Target]:
    """Steel and cut of the same saws and people, with the program and by ``way``."""
    by_seed: dict[int, dict[str, Row]] = {}
    for row in rows:
        if row["person"] == person:
            by_seed.setdefault(row["seed"], {})[row["way"]] = row
    pairs = [(both[PROGRAM]["steel"], both[way]["steel"]) for both in by_seed.values() if {PROGRAM, way} <= both.keys()]
    if not pairs:
        return []
    found = []
    for name, word, times, unit, more in (
        ("taken", "less steel", 1.0, "mm", -1.0),
        ("worth_after", "a better cut", 100.0, "of 100", 1.0),
    ):
        gains = [times * (one[name] - other[name]) for one, other in pairs]
        low, high = of_mean(gains)
        told = f"{fmean(gains):+.3g} {unit} ({low:+.3g} to {high:+.3g}), {len(gains)} saws"
        # Met where all of the interval lies on the right side of nothing.
        met = min(more * low, more * high) > 0.0
        why = "" if met else _lost_in(rows, person, way, name, more)
        found.append(Target(f"{person}: {word} than by “{way}”", told, met, why))
    return found


def _lost_in(rows: Sequence[Row], person: str, way: str, name: str, more: float) -> str:
    """The conditions in which ``way`` is ahead in ``name``, the worst first, with steel and cut of both beside it."""
    lost = []
    for condition in sorted({row["condition"] for row in rows}):
        own, other = (
            [row["steel"] for row in rows if (row["person"], row["way"], row["condition"]) == (person, one, condition)]
            for one in (PROGRAM, way)
        )
        if own and other:
            means = [fmean(one[what] for one in some) for some in (own, other) for what in ("taken", "worth_after")]
            behind = more * (fmean(one[name] for one in other) - fmean(one[name] for one in own))
            lost.append((behind, condition, means))
    told = [
        f"{condition} {mine:.3f} mm for a cut of {100 * cut:.0f}, against {theirs:.3f} for {100 * other:.0f}"
        for behind, condition, (mine, cut, theirs, other) in sorted(lost, reverse=True)[:_MOST_LOST]
        if behind > 0.0
    ]
    return "; ".join(told)
