"""How even a simulated line gets when it is filed by the program's words, beside the middle of each flat and the best.

Two ways, on the same leveled plate: by the shares of each flat that the plan of measured places names, and by the walk
itself, where the flats were only graded.
"""

from __future__ import annotations

import re
from copy import deepcopy
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import pairwise
from math import radians, sqrt, tan
from pathlib import Path
from random import Random
from typing import Final

from desk_run import DeskRun
from session.desk.desk import Desk
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.rehearsal.filer import Filer
from session.rehearsal.filer_hands import Hands
from session.rehearsal.hand_habits import Habit
from session.rehearsal.plate import SimulatedPlate
from session.sentences.flat_shares import shares_of_gullet
from session.trade.evening import even_points, plan_evening
from session.trade.saw import Saw
from session.trade.sides import gullets_of_side
from session.trade.tooth import tooth_of
from session.trade.uneven_line import line_from_flats
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

START: Final = datetime(2025, 5, 6, 7, 30, tzinfo=UTC)

#: How far of the way from the middle to the best the words have to lead where places are known; and what share of the
#: middle's error a line may have that was filed by grades, a hand's own error allowed for.
AIM: Final = 0.8
NOT_WORSE: Final = 1.01

#: How near an eye tells a share of a flat, of the whole flat: judgment.
EYE: Final = 0.05

#: What a person takes each word for.
MEANS: Final = {
    "none": 0.0,
    "a hair": 0.06,
    "a quarter": 0.25,
    "a third": 1 / 3,
    "half": 0.5,
    "two thirds": 2 / 3,
    "three quarters": 0.75,
    "all but a hair": 0.94,
    "all": 1.0,
}

Points = list[float | None]


@dataclass(frozen=True, slots=True)
class Spacing:
    """Errors of the spacings between neighboring points, in mm: the worst, and the root of the mean square."""

    worst: float
    rms: float


@dataclass(frozen=True, slots=True)
class SpacingTrial:
    """One leveled line, filed four ways."""

    middle: Spacing
    best: Spacing
    by_places: Spacing
    by_grades: Spacing


def trial(saw: Saw, seed: int, folder: Path) -> SpacingTrial | None:
    """One sharpening of ``saw`` by steady hands, its log in ``folder``; None where the filer graded no flat."""
    clock = SetClock(START)
    plan = make_plan(saw)
    journal = Journal.create(folder, {"session": {"started": START, "saw": saw.name}}, started=START)
    run = DeskRun(Desk(Sitting(saw, plan, journal, clock)), clock, Filer(saw, seed, habit=Habit.STEADY))
    leveled = None
    while leveled is None or not run.desk.sitting.state.finished:
        said = run.desk.moment.said
        if leveled is None and said.ask is Ask.WORK and said.stage is Stage.FILE:
            leveled = deepcopy(run.filer.plate)
            graded = bool(run.desk.moment.flats)
            if not graded:
                break
        if not run.step():
            break
    run.desk.sitting.close()
    if leveled is None or not graded:
        return None
    flats = flats_along(leveled)
    line = line_from_flats([[] if flat is None else list(flat) for flat in flats], saw.pitch_mm)
    middle: Points = [None if flat is None else (flat[0] + flat[1]) / 2 for flat in flats]
    return SpacingTrial(
        middle=spacing(middle, saw.pitch_mm),
        best=spacing(list(even_points(line)), saw.pitch_mm),
        by_places=spacing(_known(by_places(leveled, seed), flats), saw.pitch_mm),
        by_grades=spacing(_known(run.filer.plate, flats), saw.pitch_mm),
    )


def by_places(leveled: SimulatedPlate, seed: int) -> SimulatedPlate:
    """A copy of ``leveled``, filed stroke by stroke to the shares that the words of the exact plan name."""
    plate, saw = deepcopy(leveled), leveled.saw
    flats = flats_along(plate)
    line = line_from_flats([[] if flat is None else list(flat) for flat in flats], saw.pitch_mm)
    plan = plan_evening(line, tooth_of(saw).depth_mm, saw.plate.mm)
    rng = Random(seed)
    hands, begun = Hands(plate, rng), set[int]()
    for side in range(1, saw.sides + 1):
        for gullet in gullets_of_side(side, plate.points, saw.first_leans, saw.start, saw.sides, saw.file_points):
            told = dict(_told(shares_of_gullet(plan, gullet)))
            takes = []
            for tooth in (gullet, gullet + 1):
                # The second gullet at a flat files until it just goes; so does tooth 1 behind its first.
                share = min(1.0, max(0.0, told.get(tooth, 0.0)))
                if tooth in begun:
                    share = 1.0 if tooth in told else 0.0
                elif 0.0 < share < 1.0:
                    share = min(1.0, max(0.0, share + rng.uniform(-EYE, EYE)))
                begun.add(tooth)
                takes.append(share)
            hands.file(gullet, side, behind=takes[0], ahead=takes[1], lean="")
            if gullet == 1:
                hands.file_heel()
    return plate


def _told(words: str) -> list[tuple[int, float]]:
    found = re.findall(r"([a-z ]+?) of flat (\d+)", words)
    return [(int(tooth), MEANS[share.strip()]) for share, tooth in found]


def flats_along(plate: SimulatedPlate) -> list[tuple[float, float] | None]:
    """Where each flat that an eye sees lies, from a to b in mm; None for a tooth without one."""
    return [ends if plate.shines(number) else None for number, ends in enumerate(_ends(plate), 1)]


def _known(plate: SimulatedPlate, flats: list[tuple[float, float] | None]) -> Points:
    """The points of the teeth that had a flat."""
    return [None if flat is None else (a + b) / 2 for (a, b), flat in zip(_ends(plate), flats, strict=True)]


def _ends(plate: SimulatedPlate) -> list[tuple[float, float]]:
    """Where the back and the front of each tooth end, at its own height."""
    cut = tooth_of(plate.saw)
    back, front = tan(radians(cut.back_deg)), tan(radians(cut.front_deg))
    return [(steel.back + steel.top * back, steel.front - steel.top * front) for steel in plate.teeth]


def spacing(points: Points, pitch_mm: float) -> Spacing:
    """The errors of spacing; across a tooth without a point the error is shared."""
    known = [(number, x) for number, x in enumerate(points) if x is not None]
    errors = [(x2 - x1) / (n2 - n1) - pitch_mm for (n1, x1), (n2, x2) in pairwise(known)]
    return Spacing(max(map(abs, errors)), sqrt(sum(error * error for error in errors) / len(errors)))


def gained(trials: list[SpacingTrial], what: str, way: str = "by_places") -> float:
    """How far of the way from every point in the middle to the best that the steel allows ``way`` gets, 1 for all."""
    of = [{name: getattr(getattr(one, name), what) for name in ("middle", "best", way)} for one in trials]
    return float(sum(one["middle"] - one[way] for one in of) / sum(one["middle"] - one["best"] for one in of))


def over_middle(trials: list[SpacingTrial], what: str) -> float:
    """The error by grades as a share of that with every point in the middle of its flat, over all ``trials``."""
    return float(sum(getattr(one.by_grades, what) for one in trials) / sum(getattr(one.middle, what) for one in trials))
