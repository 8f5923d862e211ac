"""How even a simulated line gets when it is filed by the program's words, beside the middle of each flat and the best.

Three ways, on the same leveled plate: by the shares of each flat that the plan of measured places names, by the walk
itself, where the flats were only graded, and by the walk where each was told against a printed strip as well.
"""

from __future__ import annotations

import re
from copy import deepcopy
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import pairwise
from math import sqrt
from pathlib import Path
from random import Random
from typing import Final

from session.desk.desk import Desk
from session.log.journal import Journal
from session.log.sitting import Sitting
from session.machine.clock import SetClock
from session.rehearsal.desk_run import DeskRun
from session.rehearsal.eyes import SHARES_MEANT, Eyes
from session.rehearsal.filer import Filer
from session.rehearsal.filer_hands import Hands
from session.rehearsal.hand_habits import Habit
from session.rehearsal.plate import SimulatedPlate, ToothSteel
from session.rehearsal.stroke_shares import EYED
from session.sentences.flat_shares import shares_of_gullet
from session.trade.evening import even_points, plan_evening
from session.trade.graded_line import GradedLine
from session.trade.grades import SHARES
from session.trade.leveling import LOW_TOLERATED
from session.trade.printed_lean import plan_by_widths
from session.trade.saw import Saw
from session.trade.sides import gullet_beside_first_back, gullets_of_side
from session.trade.tooth import tooth_of
from session.trade.uneven_line import UnevenLine, line_from_flats
from session.walk.front_question import Ask
from session.walk.stages import Stage
from session.walk.work_plan import make_plan

START: Final = datetime(2025, 5, 6, 7, 30, tzinfo=UTC)

#: How far of the way from the middle to the best the words have to lead where places are known; and what share of the
#: middle's error a line may have that was filed by grades. It cannot be 1 on these plates: whole teeth are out of place
#: on them, and how wide a flat is says nothing of where it lies, so that a lean is as often wrong as right and adds its
#: own small error. Where gullets are out of place the rule gains (`by_rule`), and grades do not tell the two apart.
AIM: Final = 0.8
STRIP_AIM: Final = 0.85
NOT_WORSE: Final = 1.01

#: How far gullets lie out of their places, as a share of the pitch at most, on plates that poor filing left: judgment.
GULLETS_OUT: Final = 0.01

Points = list[float | None]


@dataclass(frozen=True, slots=True)
class Spacing:
    """Errors of the spacings between neighboring points, in mm: the worst, and the root of the mean square."""

    worst: float
    rms: float


@dataclass(frozen=True, slots=True)
class SpacingTrial:
    """One leveled line, filed five ways.

    middle, best: with every point in the middle of its flat, and as even as the steel allows. told_middle, told_best:
    of the line that was told against the strip, which is another where it was reshaped.
    """

    middle: Spacing
    best: Spacing
    told_middle: Spacing
    told_best: Spacing
    by_places: Spacing
    by_grades: Spacing
    by_strip: Spacing


def trial(saw: Saw, seed: int, folder: Path) -> SpacingTrial | None:
    """One sharpening of ``saw`` by steady hands, its logs in ``folder``; None where the filer graded no flat."""
    graded, told = walked(saw, seed, folder, strip=False), walked(saw, seed, folder, strip=True)
    if graded is None or told is None:
        return None
    leveled, filed = graded
    middle, best = bounds(leveled)
    told_middle, told_best = bounds(told[0])
    return SpacingTrial(
        middle=middle,
        best=best,
        told_middle=told_middle,
        told_best=told_best,
        by_places=spacing(known_points(by_places(leveled, seed), flats_along(leveled)), saw.pitch_mm),
        by_grades=spacing(known_points(filed, flats_along(leveled)), saw.pitch_mm),
        by_strip=spacing(known_points(told[1], flats_along(told[0])), saw.pitch_mm),
    )


def bounds(leveled: SimulatedPlate) -> tuple[Spacing, Spacing]:
    """The spacing with every point in the middle of its flat, and as even as the steel allows."""
    flats, pitch = flats_along(leveled), leveled.saw.pitch_mm
    line = line_from_flats([[] if flat is None else list(flat) for flat in flats], pitch)
    middle: Points = [None if flat is None else (flat[0] + flat[1]) / 2 for flat in flats]
    return spacing(middle, pitch), spacing(list(even_points(line)), pitch)


def walked(saw: Saw, seed: int, folder: Path, *, strip: bool) -> tuple[SimulatedPlate, SimulatedPlate] | None:
    """The plate as it was leveled and as the whole walk left it; None where no flat was graded."""
    clock = SetClock(START)
    plan = make_plan(saw)
    journal = Journal.create(folder, {"session": {"started": START, "saw": saw.name}}, started=START)
    run = DeskRun(Desk(Sitting(saw, plan, journal, clock)), clock, Filer(saw, seed, habit=Habit.STEADY, strip=strip))
    leveled, graded = None, False
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
    return None if leveled is None or not graded else (leveled, run.filer.plate)


def by_places(leveled: SimulatedPlate, seed: int, line: UnevenLine | None = None) -> SimulatedPlate:
    """A copy of ``leveled``, filed stroke by stroke to the shares that the words of the exact plan name.

    line: where its flats lie as somebody measured it; without it, as they do.
    """
    plate, saw = deepcopy(leveled), leveled.saw
    if line is None:
        line = line_from_flats([[] if flat is None else list(flat) for flat in flats_along(plate)], saw.pitch_mm)
    plan = plan_evening(line, tooth_of(saw).depth_mm, saw.plate.mm)
    rng = Random(seed)
    hands, begun = Hands(plate, rng), set[int]()
    for side in range(1, saw.sides + 1):
        for gullet in gullets_of_side(side, plate.points, saw.first_leans, saw.start, saw.sides, saw.file_points):
            told = dict(_told(shares_of_gullet(plan, gullet)))
            takes = []
            for tooth in (gullet, gullet + 1):
                # The second gullet at a flat files until it just goes; so does tooth 1 on its back.
                share = min(1.0, max(0.0, told.get(tooth, 0.0)))
                if tooth in begun:
                    share = 1.0 if tooth in told else 0.0
                elif 0.0 < share < 1.0:
                    share = min(1.0, max(0.0, share + rng.uniform(-EYED, EYED)))
                begun.add(tooth)
                takes.append(share)
            hands.file(gullet, side, behind=takes[0], ahead=takes[1], lean="")
            if gullet == gullet_beside_first_back(saw.sides):
                share = 1.0 if 1 in begun else 1.0 - (plan.share_front[0] or 0.0)
                hands.file_heel(share)
                begun.add(1)
    return plate


def poorly_filed(saw: Saw, seed: int) -> SimulatedPlate:
    """A leveled plate on which gullets, and not whole teeth, are out of place: a tooth is high that has them apart."""
    rng = Random(seed)
    out = [saw.pitch_mm * rng.uniform(-GULLETS_OUT, GULLETS_OUT) for _ in range(saw.points + 1)]
    plate = SimulatedPlate(saw, [])
    for number in range(1, saw.points + 1):
        back, front = (saw.from_heel_mm(number) + out[gullet] for gullet in (number - 1, number))
        top = (front - back) * plate.rise
        plate.teeth.append(ToothSteel(front, back, top, 0.0, top))
    hands = Hands(plate, rng)
    hands.level()
    while hands.untouched() > LOW_TOLERATED:
        hands.level()
    return plate


def by_rule(leveled: SimulatedPlate, *, against: bool = False) -> tuple[Spacing, Spacing]:
    """The spacing with every point in the middle of its flat, and filed by the lean that the grades of the flats ask
    for; ``against``: with every lean the other way."""
    plate, saw = deepcopy(leveled), leveled.saw
    flats = flats_along(plate)
    shares = [SHARES[Eyes(plate).grade(tooth)] for tooth in range(1, plate.points + 1)]
    widths = [share * saw.pitch_mm for share in shares]
    plan = plan_by_widths(GradedLine(widths, saw.pitch_mm, tooth_of(saw).depth_mm, saw.plate.mm, grades=shares))
    other = {"heel": "toe", "toe": "heel"}
    hands = Hands(plate, Random(0))
    for side in (1, 2):
        for gullet in gullets_of_side(side, plate.points, saw.first_leans, saw.start, saw.sides, saw.file_points):
            lean = str(plan.lean[gullet - 1])
            share = 0.5 if side == 1 else 1.0
            lean = other.get(lean, "") if against else lean if lean in other else ""
            hands.file(gullet, side, behind=0.5 if gullet == 1 else share, ahead=share, lean=lean)
            if gullet == 1:
                hands.file_heel()
    middle: Points = [None if flat is None else (flat[0] + flat[1]) / 2 for flat in flats]
    return spacing(middle, saw.pitch_mm), spacing(known_points(plate, flats), saw.pitch_mm)


def _told(words: str) -> list[tuple[int, float]]:
    found = re.findall(r"([a-z ]+?) of flat (\d+)", words)
    return [(int(tooth), SHARES_MEANT[share.strip()]) for share, tooth in found]


def flats_along(plate: SimulatedPlate) -> list[tuple[float, float] | None]:
    """Where each flat that an eye sees lies, from a to b in mm; None for a tooth without one."""
    return [ends if plate.shines(number) else None for number, ends in enumerate(_ends(plate), 1)]


def known_points(plate: SimulatedPlate, flats: list[tuple[float, float] | None]) -> Points:
    """The points of the teeth that had a flat."""
    return [None if flat is None else (a + b) / 2 for (a, b), flat in zip(_ends(plate), flats, strict=True)]


def _ends(plate: SimulatedPlate) -> list[tuple[float, float]]:
    return [plate.flat_ends_mm(number) for number in range(1, plate.points + 1)]


def spacing(points: Points, pitch_mm: float) -> Spacing:
    """The errors of spacing; across a tooth without a point the error is shared."""
    known = [(number, x) for number, x in enumerate(points) if x is not None]
    errors = [(x2 - x1) / (n2 - n1) - pitch_mm for (n1, x1), (n2, x2) in pairwise(known)]
    return Spacing(max(map(abs, errors)), sqrt(sum(error * error for error in errors) / len(errors)))


def gained(trials: list[SpacingTrial], what: str, way: str = "by_places") -> float:
    """How far of the way from every point in the middle to the best that the steel allows ``way`` gets, 1 for all."""
    of = "told_" if way == "by_strip" else ""

    def in_all(name: str) -> float:
        return sum(float(getattr(getattr(one, name), what)) for one in trials)

    middle, best = in_all(f"{of}middle"), in_all(f"{of}best")
    return (middle - in_all(way)) / (middle - best)


def over_middle(trials: list[SpacingTrial], what: str) -> float:
    """The error by grades as a share of that with every point in the middle of its flat, over all ``trials``."""
    return float(sum(getattr(one.by_grades, what) for one in trials) / sum(getattr(one.middle, what) for one in trials))
