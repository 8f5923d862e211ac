"""Regret: how often the advised work is the best of all plans, or nearly, by what it leaves of cut and of steel.

A plan is worth the cut that it leaves, less a price for the steel that it took. The price is judgment, so that the
figures are told for half of it and twice of it too. Every plan is carried out a few times by the same kind of hands,
so that none is best by luck alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from random import Random
from statistics import fmean
from typing import Any, Final

from session.advice.decision import decide
from session.advice.work import FREE, What
from session.rehearsal.plate import SimulatedPlate
from session.rehearsal.proving.cut_figures import cut_figures
from session.rehearsal.proving.cut_follow import followed_up
from session.rehearsal.proving.felt_faults import fault_felt
from session.rehearsal.proving.intervals import wilson
from session.rehearsal.proving.outcome import steel
from session.rehearsal.proving.person import PRACTICED, Person
from session.rehearsal.proving.person_filer import REMEDIES
from session.rehearsal.proving.plan_work import PLANS, PlanWork, seen_of
from session.rehearsal.proving.saw_conditions import KINDS, Condition, plate_in, recipe_of
from session.trade.observation import Seen
from session.trade.seen_words import Bright
from session.value_class import dataclass

#: What a mm of the line is worth, in worth of a cut (0 … 1), and the prices it is tried at: judgment. At this one a
#: sharpening of 0.1 mm has to better a cut by 5 of 100.
PRICE: Final = 0.5
PRICES: Final = (0.25, 0.5, 1.0)

#: Near the best: within this share of what the best plan is worth.
NEAR_BEST: Final = 0.05

#: How often each plan is carried out.
TRIES: Final = 3

#: What takes a saw out of use today.
_STOPS: Final = frozenset({What.RETOOTH, What.OUT_OF_USE})


@dataclass(frozen=True, slots=True)
class Planned:
    """What one plan came to, in the mean: the worth of the cut, 0 … 1, and the steel it took, in mm."""

    plan: str
    cut: float
    taken: float

    def worth(self, price: float) -> float:
        """The cut less the price of the steel."""
        return self.cut - price * self.taken


@dataclass(frozen=True, slots=True)
class RegretCase:
    """One saw: what was advised first and what came of it, what came of following the advice on after the next cut,
    and of every other plan. shines: whether any point of it is seen to shine; else nobody files it (judgment)."""

    number: int
    kind: str
    condition: str
    shines: bool
    advised: str
    came_to: Planned
    followed: Planned
    others: tuple[Planned, ...]

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> RegretCase:
        """The case whose plain ``values`` were kept."""
        planned = {name: Planned(**values[name]) for name in ("came_to", "followed")}
        return cls(**{**values, **planned, "others": tuple(Planned(**one) for one in values["others"])})

    def best(self, price: float = PRICE) -> Planned:
        """The best of all plans, the advised one among them."""
        return max((self.came_to, self.followed, *self.others), key=lambda one: one.worth(price))

    def regret(self, price: float = PRICE, *, first: bool = False) -> float:
        """By which share of the best plan's worth the advice, followed on, falls short of it; first: without that."""
        best = self.best(price).worth(price)
        ours = self.came_to if first else self.followed
        return (best - ours.worth(price)) / max(abs(best), 1e-9)


def regret_of(seed: int, number: int, person: Person = PRACTICED) -> RegretCase:
    """Saw ``number``, 0 or more, of the regret with that seed."""
    conditions, kinds = list(Condition), list(KINDS)
    condition, kind = conditions[number % len(conditions)], kinds[number // len(conditions) % len(kinds)]
    plate = plate_in(recipe_of(kind).saw, condition, Random(f"regret {seed} {number}"))
    own = f"{seed} {number}"
    words, works, seen = advised_for(plate, person, f"{own} 0")
    return RegretCase(
        number,
        kind,
        str(condition),
        seen.bright is not Bright.NONE,
        words,
        came_to=_carried_out(plate, words, works, person, own, seen),
        followed=_followed(plate, person, own),
        others=tuple(_carried_out(plate, name, plan, person, own) for name, plan in PLANS.items()),
    )


def advised_for(plate: SimulatedPlate, person: Person, seed: str) -> tuple[str, tuple[What, ...], Seen]:
    """What the program advises for ``plate``, in words and as work on the steel, and what ``person`` sees of it, by
    which it does."""
    seen = seen_of(plate, person, Random(f"eyes {seed}"))
    whats = decide(plate.saw, seen).whats
    works = tuple(work for work in whats if work not in FREE)
    return ", ".join(str(work) for work in whats), () if _STOPS.intersection(works) else works, seen


def _followed(plate: SimulatedPlate, person: Person, seed: str) -> Planned:
    """The advice followed, the saw cut with, and the remedies that are offered then taken, as often as anybody does.

    What was done after a cut is not done once more where the next cut has the same fault: the program says that it was
    tried, and that the cut was as before.
    """
    found, told = [], ""
    for number in range(TRIES):
        doing = PlanWork(plate, person, Random(f"plan {seed} {number}"))
        told, works, seen = advised_for(doing.plate, person, f"{seed} {number} 0")
        doing.do(works, seen)
        fault, done, tried = None, "", set[str]()
        for _ in range(REMEDIES if works else 0):
            felt = fault_felt(cut_figures(doing.plate))
            if felt is not None and fault == felt.name:
                tried.add(done)
            fault = felt and felt.name
            done, works = followed_up(doing.plate, doing.width_mm(), tried)
            told += f"; then {', '.join(map(str, works)) or (done and 'as it is') or 'good'}"
            if not works:
                break
            doing.do(works)
        found.append(steel(plate, None, doing.plate, {}))
    return Planned(told, fmean(one.worth_after for one in found), fmean(one.taken for one in found))


def regret_text(cases: Sequence[RegretCase], worst: int = 10) -> str:
    """How often the advised work was the best or near it, by condition and at every price, and the worst cases."""
    prices = "".join(f" price {price:g} |" for price in PRICES)
    lines = [f"| condition | saws | first advice |{prices} mean regret |", f"|{'---|' * (4 + len(PRICES))}"]
    for condition in (*Condition, None):
        here = [case for case in cases if condition is None or case.condition == condition]
        if here:
            shares = "".join(f" {100 * near_best(here, price):.0f} % |" for price in PRICES)
            first, mean = near_best(here, PRICE, first=True), fmean(case.regret() for case in here)
            lines.append(f"| {condition or 'all'} | {len(here)} | {100 * first:.0f} % |{shares} {100 * mean:.0f} % |")
    met = "met" if near_best(cases, PRICE) >= 0.9 else "**missed**"
    lines += ["", f"- {met}: advice followed: best or within 5 % in 90 % of saws: {_share(cases)}"]
    for shines, told in ((True, "of which a point shines"), (False, "of which no point shines, so that none is filed")):
        if some := [case for case in cases if case.shines is shines]:
            lines.append(f"- of these, the {len(some)} saws {told}: {_share(some)}")
    lines += ["", "The worst:", ""]
    for case in sorted(cases, key=lambda one: -one.regret())[:worst]:
        lines.append(
            f"- saw {case.number}, {case.kind}, {case.condition}: {_told(case.followed)}; best: {_told(case.best())}"
        )
    return "\n".join(lines)


def near_best(cases: Sequence[RegretCase], price: float, *, first: bool = False) -> float:
    """The share of ``cases`` whose advised work was the best or within NEAR_BEST of it."""
    return fmean(case.regret(price, first=first) <= NEAR_BEST for case in cases)


def _share(cases: Sequence[RegretCase]) -> str:
    near = near_best(cases, PRICE)
    low, high = wilson(round(near * len(cases)), len(cases))
    return f"{100 * near:.0f} % ({100 * low:.0f} to {100 * high:.0f})"


def _told(one: Planned) -> str:
    return f"{one.plan} (cut {100 * one.cut:.0f}, {one.taken:.3f} mm)"


def _carried_out(
    plate: SimulatedPlate, name: str, works: Sequence[What], person: Person, seed: str, seen: Seen | None = None
) -> Planned:
    if not works:
        return Planned(name, cut_figures(plate).worth, 0.0)
    found = []
    for number in range(TRIES):
        after = PlanWork(plate, person, Random(f"plan {seed} {number}")).do(works, seen)
        found.append(steel(plate, None, after, {}))
    return Planned(name, fmean(one.worth_after for one in found), fmean(one.taken for one in found))
