"""The route: every place of a sharpening in the order it is worked, leg by leg.

A leg is one stage on one side. The route follows from the plan and from what was decided and added
since; it is rebuilt only when one of those changes.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from functools import lru_cache

from session.trade.saw import End
from session.trade.sides import gullets_of_side, teeth_leaning_away
from session.value_class import dataclass, field, replace
from session.walk.added_stages import FIRST_LATER, Added
from session.walk.check_points import check_points
from session.walk.looks import wanted_looks
from session.walk.place import Place
from session.walk.stages import FACTS, STRIP_STEP, TRIAL_CUT_STEP, Legs, Stage
from session.walk.work_plan import FinalSet, Plan


@dataclass(frozen=True, slots=True)
class Leg:
    """One stage on one side: its places in order, and after which of them (by index) a check point stands.

    flats: for filing that a later leveling brought, the round of that leveling; else 0. scan: of flats that are graded,
    whether a scan has measured them: each tooth was counted by it, so that no check point stands among them.
    """

    stage: Stage
    side: int
    round: int
    places: tuple[Place, ...]
    checks: frozenset[int] = frozenset()
    flats: int = 0
    scan: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Route:
    """All legs, with the places counted through.

    flats: by the round of a filing, the round of the later leveling that brought it.
    strip: whether any flat is told against the strip.
    """

    legs: tuple[Leg, ...]
    places: tuple[Place, ...] = field(init=False)
    index: dict[Place, int] = field(init=False)
    flats: dict[int, int] = field(init=False)
    strip: bool = field(init=False)
    _starts: tuple[int, ...] = field(init=False)
    _sides: dict[tuple[Stage, int | None], frozenset[int]] = field(init=False)

    def __post_init__(self) -> None:
        places = tuple(place for leg in self.legs for place in leg.places)
        starts, count = [], 0
        # Told for each stage once: at every key it is asked for, and filings that were added make many legs.
        sides = dict[tuple[Stage, int | None], frozenset[int]]()
        for leg in self.legs:
            starts.append(count)
            count += len(leg.places)
            if leg.side:
                for which in (leg.round, None):
                    sides[leg.stage, which] = sides.get((leg.stage, which), frozenset()) | {leg.side}
        object.__setattr__(self, "places", places)
        object.__setattr__(self, "index", {place: i for i, place in enumerate(places)})
        object.__setattr__(self, "flats", {leg.round: leg.flats for leg in self.legs if leg.flats})
        object.__setattr__(self, "strip", any(place.on_strip for leg in self.legs for place in leg.places[:2]))
        object.__setattr__(self, "_starts", tuple(starts))
        object.__setattr__(self, "_sides", sides)

    def sides(self, stage: Stage, round_: int | None = None) -> frozenset[int]:
        """The sides from which ``stage`` is worked, in round ``round_`` or in all; none where sides do not matter."""
        return self._sides.get((stage, round_), frozenset())

    def leg_at(self, index: int) -> tuple[Leg, int]:
        """The leg that holds the place with this index, and the index of the leg's first place."""
        number = bisect_right(self._starts, index) - 1
        return self.legs[number], self._starts[number]

    def check_before(self, index: int) -> Place | None:
        """The last place before ``index`` after which a check point stands, in this leg or the one before.

        ``index`` may be the number of all places: then it is the check that ends the last leg.
        """
        if index < 1:
            return None
        leg, first = self.leg_at(index - 1)
        for i in range(index - 1, first - 1, -1):
            if i - first in leg.checks:
                return self.places[i]
        return None


@lru_cache(maxsize=32)
def route(
    plan: Plan, taken_in: frozenset[Stage], added: tuple[Added, ...], looks: tuple[str, ...] | None = None
) -> Route:
    """The route for a plan, the stages now taken in, what was added, and the looks now wanted (None: nothing seen)."""
    looks = wanted_looks(plan.looks, {}) if looks is None else looks
    return Route(tuple(leg for leg in _legs(plan, taken_in, added, looks) if leg.places))


def _legs(plan: Plan, taken_in: frozenset[Stage], added: tuple[Added, ...], looks: tuple[str, ...]) -> Iterator[Leg]:
    side_now, rounds = 1, dict[Stage, int]()
    for stage in plan.order:
        # A stage of another version has no places here; its marks are kept.
        if stage not in taken_in or stage not in FACTS:
            continue
        if stage is Stage.LOOK_OVER:
            yield Leg(stage, 0, 1, tuple(Place(stage, step=step) for step in looks))
            continue
        if stage in (Stage.PROVE, Stage.CLOSE):
            for leg in _extra(plan, taken_in, added, side_now, rounds, proved=stage is Stage.CLOSE):
                side_now = leg.side or side_now
                yield leg
        for leg in _stage_legs(plan, stage, 1, side_now, added):
            side_now = leg.side or side_now
            yield leg
        for extra in added:
            if extra.at_once and extra.stage is stage:
                for leg in _extra_legs(plan, extra, rounds, side_now, added):
                    side_now = leg.side or side_now
                    yield leg
        if stage is Stage.RESHAPE and Stage.LEVEL in taken_in:
            # Reshaping leaves the points uneven, so one light pass levels them again (GOR: joint, shape, …).
            yield from _leveling(plan, 2, 1, added)
    if Stage.CLOSE not in taken_in or Stage.CLOSE not in plan.order:
        yield from _extra(plan, taken_in, added, side_now, rounds, proved=True)


def _extra(
    plan: Plan,
    taken_in: frozenset[Stage],
    added: tuple[Added, ...],
    side_now: int,
    rounds: dict[Stage, int],
    *,
    proved: bool,
) -> Iterator[Leg]:
    """What was added once the trial cut had begun, each followed by the cut again but where the next one goes with it;
    or (not ``proved``) what was added before, which the trial cut that is still to come proves as well."""
    sooner = Stage.PROVE in taken_in
    later = tuple(
        one
        for n, one in enumerate(added)
        if (one.proved or not sooner) is proved and not one.at_once and _is_extra(n, added)
    )
    for extra, after in zip(later, (*later, None)[1:], strict=True):
        for leg in _extra_legs(plan, extra, rounds, side_now, added):
            side_now = leg.side or side_now
            yield leg
        if proved and (after is None or not after.goes_with or after.goes_with != extra.seq):
            yield from _proof(taken_in, rounds)


def _is_extra(number: int, added: tuple[Added, ...]) -> bool:
    """Whether addition ``number``, from 0, begins a stage: a pass of leveling does where it is the first of a leveling
    that came after filing had begun."""
    extra = added[number]
    if extra.stage is not Stage.LEVEL:
        return True
    before = ((one.stage, one.round) for one in added[:number])
    return extra.round >= FIRST_LATER and (extra.stage, extra.round) not in before


def _extra_legs(
    plan: Plan, extra: Added, rounds: dict[Stage, int], side_now: int, added: tuple[Added, ...]
) -> Iterator[Leg]:
    """One addition without its trial cut; ``rounds`` counts how often each stage is gone through."""
    if extra.stage is Stage.PROVE:
        return
    worked = Stage.FILE if extra.stage is Stage.LEVEL else extra.stage
    number = rounds[worked] = rounds.get(worked, 1) + 1
    if extra.stage is Stage.LEVEL:
        yield from _leveling(plan, extra.round, 0, added)
        for leg in _stage_legs(plan, Stage.FILE, number, side_now, ()):
            yield replace(leg, flats=extra.round)
    elif extra.stage is Stage.DRESS:
        for side in (extra.side,) if extra.side else (side_now, 3 - side_now):
            yield _passes(Stage.DRESS, side, number, extra.passes)
        yield from _measure(plan, number)
    else:
        yield from _stage_legs(plan, extra.stage, number, side_now, ())


def _proof(taken_in: frozenset[Stage], rounds: dict[Stage, int]) -> Iterator[Leg]:
    """The trial cut again, after a short extra stage."""
    if Stage.PROVE in taken_in:
        again = rounds[Stage.PROVE] = rounds.get(Stage.PROVE, 1) + 1
        yield Leg(Stage.PROVE, 0, again, (Place(Stage.PROVE, step=TRIAL_CUT_STEP, round=again),))


def _stage_legs(plan: Plan, stage: Stage, round_: int, side_now: int, added: tuple[Added, ...]) -> Iterator[Leg]:
    match FACTS[stage].legs:
        case Legs.LEVELING:
            yield from _leveling(plan, round_, plan.level_passes, added)
            return
        case Legs.BOTH_SIDES:
            # Dressing begins with the side that is up, so the saw is not turned for nothing.
            for side in (side_now, 3 - side_now):
                yield _passes(stage, side, round_, plan.dress_passes)
            yield from _measure(plan, round_)
            return
        case Legs.ALL_GULLETS:
            # Square across, every gullet in order, from one side (GOR).
            yield _teeth(plan, stage, 1, round_, gullets_of_side(1, plan.points, plan.leans, plan.start, 1))
        case Legs.LEANING:
            for side in (1, 2):
                yield _teeth(plan, stage, side, round_, teeth_leaning_away(side, plan.points, plan.leans, plan.start))
        case Legs.GULLETS:
            for side in range(1, plan.sides + 1):
                gullets = gullets_of_side(side, plan.points, plan.leans, plan.start, plan.sides, plan.file_points)
                yield _teeth(plan, stage, side, round_, gullets)
        case Legs.STEPS:
            pass
    yield _steps(stage, round_, plan.proofs if stage is Stage.PROVE else None)


def _measure(plan: Plan, round_: int) -> Iterator[Leg]:
    """The set measured after dressing, where it is asked for."""
    if plan.final_set is FinalSet.ASKED_FOR:
        yield _steps(Stage.DRESS, round_)


def _leveling(plan: Plan, round_: int, passes: int, added: tuple[Added, ...]) -> Iterator[Leg]:
    """Passes, then the flats graded tooth by tooth when that was asked for, then the look at the flats."""
    mine = [a for a in added if a.stage is Stage.LEVEL and a.round == round_]
    yield _passes(Stage.LEVEL, 0, round_, passes + sum(a.passes for a in mine))
    teeth = tuple(range(1, plan.points + 1))[:: 1 if plan.start is End.HEEL else -1]
    for number, (told, seen) in enumerate(_gradings(mine, teeth), 1):
        graded = _teeth(plan, Stage.LEVEL, 0, round_, teeth[:seen], number if number > 1 else 0)
        if told is None:
            yield replace(graded, checks=frozenset(), scan=True)
        else:
            yield _with_strip(graded, told) if told else graded
    yield _steps(Stage.LEVEL, round_)


def _gradings(added: Iterable[Added], teeth: tuple[int, ...]) -> list[tuple[int | None, int]]:
    """How often the flats of one leveling are graded: anew when it is asked for once more after another pass.

    For each time, how many of ``teeth``, in their order, are told against the strip as well (None: measured by a scan),
    and how many of them are graded at all.
    """
    told: list[tuple[int | None, int]] = []
    widened = True
    for one in added:
        if one.passes:
            widened = True
        elif one.aside:
            told[-1:] = [(min(s or 0, teeth.index(one.aside)), seen) for s, seen in told[-1:] if one.aside in teeth]
        elif one.ended:
            told[-1:] = [(strip, min(seen, teeth.index(one.ended))) for strip, seen in told[-1:] if one.ended in teeth]
        elif widened:
            told.append((None if one.scan else len(teeth) if one.strip else 0, len(teeth)))
            widened = False
    return told


def _with_strip(graded: Leg, told: int) -> Leg:
    """``graded`` with a place on the strip after each of the first ``told`` teeth."""
    places: list[Place] = []
    checks = set()
    for at, place in enumerate(graded.places):
        places.append(place)
        if at < told:
            places.append(replace(place, step=STRIP_STEP))
        if at in graded.checks:
            checks.add(len(places) - 1)
    return replace(graded, places=tuple(places), checks=frozenset(checks))


def _steps(stage: Stage, round_: int, wanted: tuple[str, ...] | None = None) -> Leg:
    """The named steps of ``stage``; only those ``wanted`` where that is told."""
    named = (step for step in FACTS[stage].steps if wanted is None or step in wanted)
    places = tuple(Place(stage, step=step, round=round_) for step in named)
    return Leg(stage, 0, round_, places)


def _passes(stage: Stage, side: int, round_: int, passes: int) -> Leg:
    return Leg(stage, side, round_, tuple(Place(stage, side, number=n, round=round_) for n in range(1, passes + 1)))


def _teeth(plan: Plan, stage: Stage, side: int, round_: int, teeth: tuple[int, ...], number: int = 0) -> Leg:
    places = tuple(Place(stage, side, tooth, number, round=round_) for tooth in teeth)
    return Leg(stage, side, round_, places, check_points(plan, stage, teeth))
